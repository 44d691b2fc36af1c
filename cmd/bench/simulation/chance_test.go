package simulation

import (
	"math"
	"testing"
)

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-9*max(1e-12, math.Abs(b)) }

// By hand: twice the sum of the binomial's tail over 2^n.
func TestMcNemar(t *testing.T) {
	for _, c := range []struct {
		won, lost int
		want      float64
	}{
		{0, 0, 1}, {1, 0, 1}, {5, 5, 1}, {5, 0, 2. / 32}, {0, 5, 2. / 32}, {6, 1, 2. * (1 + 7) / 128},
		{8, 2, 2. * (1 + 10 + 45) / 1024}, {1, 9, 2. * (1 + 10) / 1024},
	} {
		if got := McNemar(c.won, c.lost); !near(got, c.want) {
			t.Errorf("%d won, %d lost: %.12f, want %.12f", c.won, c.lost, got, c.want)
		}
	}
}

// By hand, and Fisher's own example: Darwin's fifteen pairs of maize, in eighths
// of an inch, whose sum of 314 is reached or passed on either side by 1726 of the
// 32768 ways (The Design of Experiments, 1935, section 21, from memory).
func TestSignFlips(t *testing.T) {
	for _, c := range []struct {
		d    []int
		want float64
	}{
		{nil, 1}, {[]int{0, 0}, 1}, {[]int{3}, 1}, {[]int{1, 1, 1}, 2. / 8}, {[]int{-1, -1, -1}, 2. / 8},
		{[]int{1, 2, 3, -1}, 6. / 16}, // sums 7, 5, 5, and their opposites
		{[]int{49, -67, 8, 16, 6, 23, 28, 41, 14, 29, 56, 24, 75, 60, -48}, 1726. / 32768},
	} {
		if got := SignFlips(c.d); !near(got, c.want) {
			t.Errorf("%v: %.12f of %.0f ways, want %.0f", c.d, got, got*math.Exp2(float64(len(c.d))), c.want*math.Exp2(float64(len(c.d))))
		}
	}
}

// Both tests are one where each season has one part.
func TestBothTestsAgree(t *testing.T) {
	for won := range 12 {
		for lost := range 12 {
			var d []int
			for range won {
				d = append(d, 1)
			}
			for range lost {
				d = append(d, -1)
			}
			if a, b := McNemar(won, lost), SignFlips(d); !near(a, b) {
				t.Errorf("%d, %d: %v, %v", won, lost, a, b)
			}
		}
	}
}
