package cpsat

import (
	"cmp"
	"math"
	"slices"
)

// Domain is a set of whole numbers, as rising ranges with a gap between each
// and the next. The zero Domain is empty. In a constraint, MinInt64 and
// MaxInt64 mean that a side is open; a variable needs two finite sides.
type Domain struct {
	// ranges is never changed once made, so Domains may share it.
	ranges []span
}

type span struct{ lo, hi int64 }

// Range is lo..hi, both included, and empty if lo > hi.
func Range(lo, hi int64) Domain {
	if lo > hi {
		return Domain{}
	}
	return Domain{[]span{{lo, hi}}}
}

// UpTo is everything ≤ hi.
func UpTo(hi int64) Domain { return Range(math.MinInt64, hi) }

// From is everything ≥ lo.
func From(lo int64) Domain { return Range(lo, math.MaxInt64) }

// Union is everything that is in one of the domains.
func Union(domains ...Domain) Domain {
	var spans []span
	for _, d := range domains {
		spans = append(spans, d.ranges...)
	}
	return joined(spans)
}

// Empty reports whether the domain holds no number.
func (d Domain) Empty() bool { return len(d.ranges) == 0 }

// Contains reports whether v is in the domain.
func (d Domain) Contains(v int64) bool {
	i, found := slices.BinarySearchFunc(d.ranges, v, func(s span, v int64) int { return cmp.Compare(s.lo, v) })
	return found || i > 0 && v <= d.ranges[i-1].hi
}

func (d Domain) min() int64 { return d.ranges[0].lo }
func (d Domain) max() int64 { return d.ranges[len(d.ranges)-1].hi }

// shifted is the domain moved by -by. A side that leaves int64 stays at its
// edge: sums in a model are kept within half of int64, so such a side is as
// good as open, or out of reach.
func (d Domain) shifted(by int64) Domain {
	if by == 0 {
		return d
	}
	spans := make([]span, len(d.ranges))
	for i, s := range d.ranges {
		if s.lo != math.MinInt64 {
			s.lo = minusClamped(s.lo, by)
		}
		if s.hi != math.MaxInt64 {
			s.hi = minusClamped(s.hi, by)
		}
		spans[i] = s
	}
	return joined(spans)
}

// flat is the wire form: least, greatest, least, greatest, ...
func (d Domain) flat() []int64 {
	out := make([]int64, 0, 2*len(d.ranges))
	for _, s := range d.ranges {
		out = append(out, s.lo, s.hi)
	}
	return out
}

// joined sorts spans and joins those that meet or touch, since the engine
// calls adjacent ranges invalid.
func joined(spans []span) Domain {
	slices.SortFunc(spans, func(a, b span) int { return cmp.Compare(a.lo, b.lo) })
	var out []span
	for _, s := range spans {
		if n := len(out); n > 0 && (out[n-1].hi == math.MaxInt64 || s.lo <= out[n-1].hi+1) {
			out[n-1].hi = max(out[n-1].hi, s.hi)
			continue
		}
		out = append(out, s)
	}
	return Domain{out}
}

func minusClamped(a, b int64) int64 {
	d := a - b
	switch {
	case b > 0 && d > a:
		return math.MinInt64
	case b < 0 && d < a:
		return math.MaxInt64
	}
	return d
}
