package cpsat

import (
	"math"
	"math/big"
)

// largestScale is the greatest multiplier tried: more would bring sums near the
// edge of int64 and slow the engine, which propagates whole numbers.
const largestScale = 1_000_000

// wholes returns the least scale that makes all of values whole, and scale
// times each of them.
func wholes(values []float64) (whole []int64, scale int64, ok bool) {
	nums := make([]int64, len(values))
	dens := make([]int64, len(values))
	scale = 1
	for i, x := range values {
		if nums[i], dens[i], ok = fraction(x); !ok {
			return nil, 0, false
		}
		if scale = lcm(scale, dens[i]); scale > largestScale {
			return nil, 0, false
		}
	}
	for i := range nums {
		if nums[i], ok = times(nums[i], scale/dens[i]); !ok {
			return nil, 0, false
		}
	}
	return nums, scale, true
}

// fraction returns the fraction with the smallest denominator up to
// largestScale that rounds to x. It walks the convergents of x's continued
// fraction: one that close to x, for its denominator, is always among them
// (Hardy and Wright, An Introduction to the Theory of Numbers, theorem 184;
// from memory).
func fraction(x float64) (num, den int64, ok bool) {
	if math.Abs(x) > 1<<53 {
		return 0, 0, false
	}
	if x == math.Trunc(x) {
		return int64(x), 1, true
	}
	rest := new(big.Rat).SetFloat64(math.Abs(x))
	var n0, n1, d0, d1 int64 = 0, 1, 1, 0
	for {
		// rest's whole part is at most 2^53 at first; later ones that would
		// lift the denominator over the limit end the walk before they are used.
		q := new(big.Int).Quo(rest.Num(), rest.Denom())
		if !q.IsInt64() {
			return 0, 0, false
		}
		stepD, okD := times(q.Int64(), d1)
		stepN, okN := times(q.Int64(), n1)
		if !okD || !okN || stepD+d0 > largestScale || stepN > 1<<53 {
			return 0, 0, false
		}
		n0, n1 = n1, stepN+n0
		d0, d1 = d1, stepD+d0
		// Both are below 2^53, so this division is the correctly rounded one.
		if float64(n1)/float64(d1) == math.Abs(x) {
			if x < 0 {
				n1 = -n1
			}
			return n1, d1, true
		}
		rest.Sub(rest, new(big.Rat).SetInt(q))
		if rest.Sign() == 0 {
			return 0, 0, false
		}
		rest.Inv(rest)
	}
}

// side returns scale·x, moved inwards to a whole number: up for a lower side,
// down for an upper one. One too far out to matter becomes the edge of int64.
func side(x float64, scale int64, lower bool) int64 {
	if math.IsInf(x, 1) {
		return math.MaxInt64
	}
	if math.IsInf(x, -1) {
		return math.MinInt64
	}
	exact := new(big.Rat).SetFloat64(x)
	if num, den, ok := fraction(x); ok {
		exact = big.NewRat(num, den)
	}
	exact.Mul(exact, new(big.Rat).SetInt64(scale))
	// Euclidean division rounds down, since denominators are positive.
	whole, part := new(big.Int).DivMod(exact.Num(), exact.Denom(), new(big.Int))
	if lower && part.Sign() > 0 {
		whole.Add(whole, big.NewInt(1))
	}
	switch {
	case whole.IsInt64():
		return whole.Int64()
	case whole.Sign() > 0:
		return math.MaxInt64
	}
	return math.MinInt64
}

func lcm(a, b int64) int64 {
	x, y := a, b
	for y != 0 {
		x, y = y, x%y
	}
	return a / x * b
}
