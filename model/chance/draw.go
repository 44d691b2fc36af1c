package chance

import (
	"math"
	"math/rand/v2"
)

// luck is one run's source of random numbers. Runs must not resemble each other,
// so the run's number is spread over the whole seed first (the finalizer of
// Steele, Lea, Flood, OOPSLA 2014; from memory).
func luck(seed, run uint64) *rand.Rand {
	return rand.New(rand.NewPCG(seed, mix(run)))
}

// What numbers are drawn for, so that each thing has its own whatever happens to
// others.
const (
	heldLuck uint64 = iota + 1
	repeatLuck
	foundLuck
	lateLuck
)

// own gives the luck of one thing in one run, the same whatever the plan.
func own(seed, run, what uint64, which, n int) *rand.Rand {
	return luck(mix(seed^mix(what<<56^uint64(which)<<16^uint64(n))), run)
}

// uniform gives one number of it, 0 ≤ x < 1, without making a source for it.
func uniform(seed, run, what uint64, which, n int) float64 {
	return float64(mix(mix(seed^mix(what<<56^uint64(which)<<16^uint64(n)))^mix(run))>>11) / (1 << 53)
}

// mix spreads a number over all 64 bits.
func mix(z uint64) uint64 {
	z += 0x9e3779b97f4a7c15
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// poisson draws how many, of a small mean: by its distribution function.
func poisson(u, mean float64) int {
	n, term := 0, math.Exp(-mean)
	for sum := term; u >= sum && n < 20; sum += term {
		n++
		term *= mean / float64(n)
	}
	return n
}

// gamma draws a gamma variable of a shape above 0, scale 1: Marsaglia and Tsang,
// ACM Trans. Math. Software 26, 363-372 (2000); from memory.
func gamma(r *rand.Rand, shape float64) float64 {
	if shape < 1 {
		// Γ(a) = Γ(a+1)·U^(1/a)
		return gamma(r, shape+1) * math.Pow(1-r.Float64(), 1/shape)
	}
	d := shape - 1.0/3
	c := 1 / math.Sqrt(9*d)
	for {
		x := r.NormFloat64()
		v := 1 + c*x
		if v <= 0 {
			continue
		}
		v = v * v * v
		if math.Log(1-r.Float64()) < 0.5*x*x+d-d*v+d*math.Log(v) {
			return d * v
		}
	}
}
