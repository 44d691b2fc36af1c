package chance

import (
	"fmt"
	"math"
	"testing"

	"primaprova/model"
)

// Where a chance has a closed form, the simulated one meets it. The forms are
// textbook ones (from memory), worked out here from the rules of the package
// comment alone.

// TestLostDays: one visit a day and room for one visit a day. Whatever days are
// lost, the work goes on in order, so the part is ready when no more days are
// lost than are to spare: a binomial sum.
func TestLostDays(t *testing.T) {
	for _, c := range []struct {
		work, spare int
		q           float64
	}{{5, 0, 0.1}, {5, 1, 0.1}, {10, 2, 0.2}, {20, 3, 1.0 / 30}, {1, 3, 0.5}} {
		t.Run(fmt.Sprint(c), func(t *testing.T) {
			g := newStage(c.work+c.spare, 10)
			for d := range c.work {
				g.passage(fmt.Sprint(d), 2, 10, d)
			}
			guess := exactly()
			guess.Lost = c.q
			want := 0.0
			for k := range c.spare + 1 {
				want += binomial(c.work+c.spare, k, c.q)
			}
			g.wants(t, guess, want)
		})
	}
}

func binomial(n, k int, q float64) float64 {
	a, _ := math.Lgamma(float64(n + 1))
	b, _ := math.Lgamma(float64(k + 1))
	c, _ := math.Lgamma(float64(n - k + 1))
	return math.Exp(a - b - c + float64(k)*math.Log(q) + float64(n-k)*math.Log(1-q))
}

// TestNormalSums: kinds of work that are off by a common share, nothing else,
// all on one day with so much room. What they take is a sum of normal variables
// of which half the variance is common to all kinds:
//
//	Φ((room − Σ mean·M) / √(½·Σ (ratio·M)² + ½·(Σ ratio·M)²))
func TestNormalSums(t *testing.T) {
	for _, room := range []model.Minutes{60, 100, 110, 125, 150} {
		t.Run(room.String(), func(t *testing.T) {
			g := newStage(1, room)
			for i := range 3 {
				g.passage(fmt.Sprint("easy", i), 1, 10, 0)
				g.passage(fmt.Sprint("hard", i), 3, 20, 0)
			}
			g.passage("plain", 2, 15, 0)
			guess := exactly()
			guess.hard(1, model.Spread{Mean: 1.1, Ratio: 0.2})
			guess.hard(2, model.Spread{Mean: 1, Ratio: 0.1})
			guess.hard(3, model.Spread{Mean: 0.9, Ratio: 0.15})
			mean := 1.1*30 + 15 + 0.9*60
			sum := 0.2*30 + 0.1*15 + 0.15*60
			sd := math.Sqrt((0.2*0.2*30*30 + 0.1*0.1*15*15 + 0.15*0.15*60*60 + sum*sum) / 2)
			g.wants(t, guess, normal((float64(room)-mean)/sd))
		})
	}
}

func normal(x float64) float64 { return math.Erfc(-x/math.Sqrt2) / 2 }

// TestGammaSums: sessions that are each off by themselves. Their sum is a gamma
// variable of shape n = Σ m / scale, which for a whole n is Erlang's:
//
//	P(sum ≤ x·scale) = 1 − Σ k<n e^−x·x^k/k!
//
// What doesn't fit the first day runs over into the next ones: only the whole
// room counts, however it is cut into days.
func TestGammaSums(t *testing.T) {
	for _, rooms := range [][]model.Minutes{{50}, {65}, {80}, {20, 20, 25}, {50, 10, 5}, {5, 60}} {
		t.Run(fmt.Sprint(rooms), func(t *testing.T) {
			g := newStage(len(rooms), 0)
			total := 0.0
			for d, m := range rooms {
				day := monday + model.Date(d)
				g.s.Limits.Playing.Dates = append(g.s.Limits.Playing.Dates, model.Dated[model.Minutes]{Range: model.Range{From: day, To: day}, Value: m})
				total += float64(m)
			}
			for i, m := range []model.Minutes{5, 10, 10, 15, 3, 7} {
				g.passage(fmt.Sprint(i), 2, m, 0)
			}
			const scale = 2.5
			guess := exactly()
			guess.hard(2, model.Spread{Mean: 1, Minute: scale})
			g.wants(t, guess, erlang(50/scale, total/scale))
		})
	}
}

func erlang(n int, x float64) float64 {
	term, sum := math.Exp(-x), 0.0
	for k := range n {
		sum += term
		term *= x / float64(k+1)
	}
	return 1 - sum
}

// TestBothNoises: many sessions off by themselves, and their kind off as a
// whole: for many sessions nearly normal, with the variances added.
//
//	Var = ratio²·M² + minute·mean·M
func TestBothNoises(t *testing.T) {
	g := newStage(1, 1000)
	g.s.Limits.Playing.Every = 850
	for i := range 80 {
		g.passage(fmt.Sprint(i), 2, 10, 0)
	}
	guess := exactly()
	guess.hard(2, model.Spread{Mean: 1, Ratio: 0.1, Minute: 2.5})
	want := normal(50 / math.Sqrt(0.01*800*800+2.5*800))
	got := Of(g.s, g.h, g.p, Options{Runs: manyRuns, Guess: guess})[0]
	// Nearly: the gamma's skew is 2·√(2.5/800), some 0.1; its effect here stays below 0.01.
	if math.Abs(got.Ready-want) > 0.01 {
		t.Errorf("chance %.4f, nearly normal %.4f", got.Ready, want)
	}
}

// TestGamma: mean and variance of what is drawn, for shapes below and above 1.
func TestGamma(t *testing.T) {
	for _, shape := range []float64{0.3, 1, 2, 4, 12} {
		r := luck(1, 2)
		const n = 200_000
		sum, squares := 0.0, 0.0
		for range n {
			x := gamma(r, shape)
			if x < 0 {
				t.Fatalf("%v drawn for shape %v", x, shape)
			}
			sum += x
			squares += x * x
		}
		mean := sum / n
		variance := squares/n - mean*mean
		// The standard errors of both, from the gamma's fourth moment.
		if e := math.Sqrt(shape / n); math.Abs(mean-shape) > 4*e {
			t.Errorf("shape %v: mean %v", shape, mean)
		}
		if e := math.Sqrt((2*shape*shape + 6*shape) / n); math.Abs(variance-shape) > 4*e {
			t.Errorf("shape %v: variance %v", shape, variance)
		}
	}
}
