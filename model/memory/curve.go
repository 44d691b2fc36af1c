// Package memory says how surely a passage holds when it is played again some
// days after its last visit, as far as a player's own checks tell. Here stand the
// curve, its fit, and what follows of it for gaps and first rehearsals. It chooses
// no day and changes no season: what it says is for the player, and for whoever
// counts chances. It reads and writes no file.
//
// # The curve
//
// A passage of a difficulty that has had n visits, f of which did not hold, holds
// t days after the last one with the chance logistic(η),
//
//	η = a + g(difficulty) + b·ln(n/3) − c·ln(1+f) − e^k·ln((1+t)/6)
//
// so that a speaks of an ordinary check: three visits before it, five days apart.
// It is a logistic regression on the logarithms of visits and days, a power law in
// both; the form and its place among other curves of forgetting: Wixted and
// Carpenter, Psychological Science 18, 133-134 (2007), from memory. That retention goes by
// the days on which something was worked at, not by how its repetitions lie within
// them: Walsh et al., Memory & Cognition 51, 455-472 (2023). Minutes are
// therefore no part of it.
//
// # What is known before the first check
//
// Each number has a normal prior (see prior). One player's a lies off the
// population's with variance 0.3: on open data of 330 learners and 5,212 tries
// after half a day and more an offset shrunk so was worth more than the
// choice of curve (measured; variances of 0.1 and 1 were worse). The rate of
// forgetting lies between two published ones, each a standard deviation away:
//
//   - Motor skills lose 0.08 standard deviations a month in accuracy (Tatel and
//     Ackerman, Psychological Bulletin, 2025). With √3/π standard deviations to
//     the unit of η, and ln(31/2) from the first day to the thirtieth, e^k = 0.053.
//   - Words: e^k = 0.66 from the third day to the fourteenth after three visits by
//     the parameters of Pavlik and Anderson, Cognitive Science 29, 559-586 (2005),
//     both from memory.
//
// No data of musicians over days are known. The rest is common practice, no
// source: nine checks in ten hold (a = 2.2, and a variance of 1 more, since that is a
// guess), b = 0.5 and c = 0.5, each off by as much; difficulties off by 0.3.
package memory

import (
	"math"

	"primaprova/model"
)

// Case is a passage as it comes to be played again.
type Case struct {
	Hard   int // difficulty, 1..3
	Visits int // before, 1 or more
	Failed int // of these, those that did not hold
	Gap    int // days since the last of them, 1 or more
}

// The numbers of the curve.
const (
	level  = iota // a
	easy          // g of the three difficulties
	middle        //
	hard          //
	learn         // b
	slip          // c
	decay         // k
	numbers
)

// Usual is the check that level speaks of.
var Usual = Case{Hard: 2, Visits: 3, Gap: 5}

type vector [numbers]float64

// prior gives mean and variance of each number before the first check; see the
// package comment.
var prior = struct{ mean, variance vector }{
	vector{level: 2.2, learn: 0.5, slip: 0.5, decay: math.Log(math.Sqrt(motorRate * wordRate))},
	vector{level: 1 + 0.3, easy: 0.1, middle: 0.1, hard: 0.1, learn: 0.25, slip: 0.25, decay: sq(math.Log(wordRate/motorRate) / 2)},
}

var (
	motorRate = 0.08 * math.Pi / math.Sqrt(3) / math.Log(31./2)
	wordRate  = 0.66
)

func sq(x float64) float64 { return x * x }

// at gives η of a case and its derivatives.
func (v *vector) at(x Case) (eta float64, slope vector) {
	rate, gone := math.Exp(v[decay]), math.Log(float64(1+x.Gap)/float64(1+Usual.Gap))
	slope[level], slope[easy+x.Hard-1] = 1, 1
	slope[learn] = math.Log(float64(x.Visits) / float64(Usual.Visits))
	slope[slip] = -math.Log(float64(1 + x.Failed))
	for i, s := range slope {
		eta += s * v[i]
	}
	slope[decay] = -rate * gone
	return eta + slope[decay], slope
}

func logistic(x float64) float64 { return 1 / (1 + math.Exp(-x)) }

// Curve is what is known of a player's holding.
type Curve struct {
	Checks, Held int // that it rests on

	mean vector
	cov  [numbers]vector
}

// Holds gives the chance that a case holds, the doubt about the curve in it:
//
//	logistic(η / √(1 + π v/8)),  v the variance of η
//
// Source: MacKay, Neural Computation 4, 720-736 (1992).
func (c *Curve) Holds(x Case) float64 {
	eta, slope := c.mean.at(x)
	return logistic(eta / math.Sqrt(1+math.Pi/8*c.variance(slope)))
}

// Doubt gives the standard deviation of a case's chance, as far as the curve is in doubt.
func (c *Curve) Doubt(x Case) float64 {
	_, slope := c.mean.at(x)
	p := c.Holds(x)
	return p * (1 - p) * math.Sqrt(c.variance(slope))
}

// variance gives slopeᵀ·cov·slope.
func (c *Curve) variance(slope vector) float64 {
	sum := 0.0
	for i := range slope {
		for j := range slope {
			sum += slope[i] * c.cov[i][j] * slope[j]
		}
	}
	return sum
}

// Expect gives how many of the cases hold: the expected number, and its standard
// deviation, in which lie luck and the doubt about the curve, which all cases share:
//
//	variance = Σ p(1−p) + dᵀ·cov·d,  d = Σ p(1−p)·∂η
func (c *Curve) Expect(cases []Case) (holding, deviation float64) {
	luck := 0.0
	var shared vector
	for _, x := range cases {
		_, slope := c.mean.at(x)
		p := c.Holds(x)
		holding += p
		luck += p * (1 - p)
		for i := range slope {
			shared[i] += p * (1 - p) * slope[i]
		}
	}
	return holding, math.Sqrt(luck + c.variance(shared))
}

// Of gives the case of a check that is recorded.
func Of(x model.Check) Case { return Case{x.Hard, x.Visits, x.Failed, x.Gap} }
