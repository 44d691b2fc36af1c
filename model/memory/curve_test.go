package memory

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/diff/fd"
	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize"

	"primaprova/model"
)

// someChecks gives checks as a season has them, of a player drawn from the prior.
func someChecks(r *rand.Rand, n int) []model.Check {
	truth := anyPlayer(r)
	var out []model.Check
	for range n {
		x := model.Check{Hard: 1 + r.IntN(3), Gap: 1 + r.IntN(12)}
		x.Visits = x.Hard + 1 + r.IntN(3)
		x.Failed = r.IntN(2) * r.IntN(2)
		eta, _ := truth.at(Of(x))
		x.Held = r.Float64() < logistic(eta)
		out = append(out, x)
	}
	return out
}

func anyPlayer(r *rand.Rand) (v vector) {
	for i := range v {
		v[i] = prior.mean[i] + math.Sqrt(prior.variance[i])*r.NormFloat64()
	}
	return v
}

// TestSlopes: the derivatives are those of the formula, by finite differences.
func TestSlopes(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	for range 100 {
		v, checks := anyPlayer(r), someChecks(r, 20)
		_, slope, _ := posterior(&v, checks)
		_, each := v.at(Of(checks[0]))
		want := fd.Gradient(nil, func(x []float64) float64 { worth, _, _ := posterior((*vector)(x), checks); return worth }, v[:], &fd.Settings{Formula: fd.Central})
		eta := fd.Gradient(nil, func(x []float64) float64 { e, _ := (*vector)(x).at(Of(checks[0])); return e }, v[:], &fd.Settings{Formula: fd.Central})
		for i := range want {
			if math.Abs(slope[i]-want[i]) > 1e-5*(1+math.Abs(want[i])) || math.Abs(each[i]-eta[i]) > 1e-6*(1+math.Abs(eta[i])) {
				t.Fatalf("number %d of %v: %.8f and %.8f, by differences %.8f and %.8f", i, v, slope[i], each[i], want[i], eta[i])
			}
		}
	}
}

// TestFitAgainstReference: the most likely numbers are those that gonum's BFGS finds
// of the posterior as the package comment writes it, and their variances those of its
// second derivatives by finite differences. These hold the curvature of k by what
// happened, ours by what is expected: so they agree to a sixth only.
func TestFitAgainstReference(t *testing.T) {
	mean := []float64{2.2, 0, 0, 0, 0.5, 0.5, math.Log(math.Sqrt(0.66 * 0.08 * math.Pi / math.Sqrt(3) / math.Log(15.5)))}
	variance := []float64{1.3, 0.1, 0.1, 0.1, 0.25, 0.25, math.Pow(math.Log(0.66/(0.08*math.Pi/math.Sqrt(3)/math.Log(15.5)))/2, 2)}
	r := rand.New(rand.NewPCG(2, 1))
	for _, n := range []int{0, 3, 30, 100, 300, 600} {
		checks := someChecks(r, n)
		loss := func(x []float64) (sum float64) {
			for i := range x {
				sum += math.Pow(x[i]-mean[i], 2) / variance[i] / 2
			}
			for _, c := range checks {
				eta := x[0] + x[c.Hard] + x[4]*math.Log(float64(c.Visits)/3) - x[5]*math.Log(float64(1+c.Failed)) - math.Exp(x[6])*math.Log(float64(1+c.Gap)/6)
				if !c.Held {
					eta = -eta
				}
				sum += math.Log(1 + math.Exp(-eta))
			}
			return sum
		}
		found, err := optimize.Minimize(optimize.Problem{Func: loss, Grad: func(g, x []float64) { fd.Gradient(g, loss, x, &fd.Settings{Formula: fd.Central}) }},
			mean, &optimize.Settings{GradientThreshold: 1e-5}, &optimize.BFGS{})
		if found == nil {
			t.Fatal(err)
		}
		c := Fit(checks)
		var second, inverse mat.SymDense
		fd.Hessian(&second, loss, c.mean[:], nil)
		var chol mat.Cholesky
		if !chol.Factorize(&second) {
			t.Fatalf("%d checks: no maximum", n)
		}
		if err := chol.InverseTo(&inverse); err != nil {
			t.Fatal(err)
		}
		for i := range c.mean {
			if math.Abs(c.mean[i]-found.X[i]) > 1e-3 {
				t.Errorf("%d checks, number %d: %.5f, BFGS %.5f", n, i, c.mean[i], found.X[i])
			}
			if got, want := math.Sqrt(c.cov[i][i]), math.Sqrt(inverse.At(i, i)); math.Abs(got-want) > want/6 {
				t.Errorf("%d checks, number %d: ±%.4f, by second derivatives ±%.4f", n, i, got, want)
			}
		}
	}
}

// TestHoldsIsTheMean: the chance is that of η, averaged over its doubt: MacKay's
// formula against Gauss and Hermite's quadrature, and so the deviation once much is known.
func TestHoldsIsTheMean(t *testing.T) {
	for _, n := range []int{0, 30, 300} {
		c := Fit(someChecks(rand.New(rand.NewPCG(3, uint64(n))), n))
		for _, x := range []Case{Usual, {Hard: 3, Visits: 1, Gap: 1}, {Hard: 1, Visits: 8, Gap: 40}, {Hard: 3, Visits: 6, Failed: 3, Gap: 21}} {
			eta, slope := c.mean.at(x)
			deviation := math.Sqrt(c.variance(slope))
			mean := func(of func(chance float64) float64) float64 {
				return quad.Fixed(func(z float64) float64 {
					return of(logistic(eta+math.Sqrt2*deviation*z)) / math.Sqrt(math.Pi) // the weight is exp(−z²)
				}, math.Inf(-1), math.Inf(1), 60, quad.Hermite{}, 0)
			}
			want := mean(func(chance float64) float64 { return chance })
			spread := math.Sqrt(mean(func(chance float64) float64 { return (chance - want) * (chance - want) }))
			if got := c.Doubt(x); n == 300 && math.Abs(got-spread) > 0.1*spread {
				t.Errorf("%+v: give or take %.4f, the integral %.4f", x, got, spread)
			}
			if got := c.Holds(x); math.Abs(got-want) > 0.015 {
				t.Errorf("%d checks, %+v: %.4f, the integral %.4f", n, x, got, want)
			}
		}
	}
}

// TestFitClosed: where all checks are of one kind only their sum along its slope is
// learnt, and the most likely η solves one equation: (η − η0)/v = held − n·logistic(η).
// With k at its prior mean that is exact but for what k adds; a usual check has no part of it.
func TestFitClosed(t *testing.T) {
	for held := range 21 {
		var checks []model.Check
		for i := range 20 {
			checks = append(checks, model.Check{Hard: Usual.Hard, Visits: Usual.Visits, Gap: Usual.Gap, Held: i < held})
		}
		lo, hi := -20.0, 20.0
		for range 100 {
			if eta := (lo + hi) / 2; (eta-2.2)/1.4 < float64(held)-20*logistic(eta) {
				lo = eta
			} else {
				hi = eta
			}
		}
		c := Fit(checks)
		if eta, _ := c.mean.at(Usual); math.Abs(eta-lo) > 1e-6 {
			t.Errorf("%d of 20 held: η %.6f instead of %.6f", held, eta, lo)
		}
		want := 1 / (1/1.4 + 20*logistic(lo)*(1-logistic(lo)))
		if _, slope := c.mean.at(Usual); math.Abs(c.variance(slope)-want) > 1e-6 {
			t.Errorf("%d of 20 held: variance %.6f instead of %.6f", held, c.variance(slope), want)
		}
	}
}

// TestHoldsGoesTheRightWay: less after longer, more after more visits, less where
// it failed, whatever was recorded.
func TestHoldsGoesTheRightWay(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 1))
	for range 50 {
		c := Fit(someChecks(r, r.IntN(200)))
		x := Case{Hard: 1 + r.IntN(3), Visits: 1 + r.IntN(5), Gap: 1 + r.IntN(20)}
		eta, _ := c.mean.at(x)
		longer := x
		longer.Gap++
		if later, _ := c.mean.at(longer); later >= eta {
			t.Errorf("%+v: a day later it holds as well: %.3f, %.3f", x, eta, later)
		}
		if n, deviation := c.Expect([]Case{x}); math.Abs(n-c.Holds(x)) > 1e-12 || deviation < math.Sqrt(n*(1-n)) || deviation > 1 {
			t.Errorf("%+v: %.3f ± %.3f of one", x, n, deviation)
		}
	}
}
