package chance

import (
	"math"
	"math/rand/v2"
)

// luck is one run's source of random numbers. Runs must not resemble each other,
// so the run's number is spread over the whole seed first (the finalizer of
// Steele, Lea, Flood, OOPSLA 2014; from memory).
func luck(seed, run uint64) *rand.Rand {
	z := run + 0x9e3779b97f4a7c15
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return rand.New(rand.NewPCG(seed, z^z>>31))
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
