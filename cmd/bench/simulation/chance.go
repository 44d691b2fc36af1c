package simulation

import "math"

// McNemar gives the two-sided exact p of McNemar's test (Psychometrika 12,
// 153-157, 1947, from memory): of won + lost pairs in which only one side had
// it, as far from half as that or farther, were each a fair coin.
func McNemar(won, lost int) float64 {
	n := won + lost
	if n == 0 {
		return 1
	}
	sum := 0.0
	for k := range min(won, lost) + 1 {
		sum += math.Exp(logChoose(n, k) - float64(n)*math.Ln2)
	}
	return min(1, 2*sum)
}

func logChoose(n, k int) float64 {
	lg := func(x int) float64 { v, _ := math.Lgamma(float64(x + 1)); return v }
	return lg(n) - lg(k) - lg(n-k)
}

// SignFlips gives the two-sided exact p of Fisher's randomisation test on
// paired differences (The Design of Experiments, 1935, from memory): the share of
// all ways to turn their signs around whose sum is as far from 0 or farther. The
// ways are counted by their sums, so that many pairs cost little.
func SignFlips(differences []int) float64 {
	ways, total := map[int]float64{0: 1}, 0
	for _, d := range differences {
		total += d
		next := make(map[int]float64, 2*len(ways))
		for sum, share := range ways { // in any order: each sum's share is a multiple of a power of two
			next[sum+d] += share / 2
			next[sum-d] += share / 2
		}
		ways = next
	}
	p := 0.0
	for sum, share := range ways {
		if max(sum, -sum) >= max(total, -total) {
			p += share
		}
	}
	return p
}
