package conflict

import (
	"context"
	"slices"

	"primaprova/model"
	"primaprova/solver/oracle"
)

// What the searches for offers have in common: a season with some of its parts
// changed, the smallest number that will do, and a list of which none is in
// vain.

// edited gives a copy of a season with each part changed as f has it.
func edited(s *model.Season, f func(name string, p *model.Part)) *model.Season {
	c := *s
	c.Programmes = slices.Clone(c.Programmes)
	for i := range c.Programmes {
		p := &c.Programmes[i]
		p.Parts = slices.Clone(p.Parts)
		for j := range p.Parts {
			q := &p.Parts[j]
			q.Passages = slices.Clone(q.Passages)
			f(model.PartName(p.ID, q.ID), q)
		}
	}
	return &c
}

// arriving gives the season with a part that is there so many days earlier.
func (l *looking) arriving(part string, earlier int) change {
	return change{edited(l.p.Season, func(name string, p *model.Part) {
		if name == part {
			p.Arrives -= model.Date(earlier)
		}
	}), l.goal}
}

// least finds the smallest n of lo..hi for which a change fits, given that more
// of it never fits less. It is proven smallest if n−1 was shown not to fit.
// t is nil where none was found.
func (l *looking) least(ctx context.Context, lo, hi int, make func(n int) change) (n int, t *trial, smallest bool, err error) {
	tried := func(n int) (oracle.Verdict, *trial, error) { return l.try(ctx, make(n)) }
	v, t, err := tried(hi)
	if err != nil || v != oracle.Feasible {
		return 0, nil, false, err
	}
	n, not := hi, lo-1 // not: the largest that is known not to fit
	for low := lo; low < n; {
		mid := (low + n) / 2
		v, x, err := tried(mid)
		if err != nil {
			return 0, nil, false, err
		}
		switch v {
		case oracle.Feasible:
			n, t = mid, x
		case oracle.Infeasible:
			not = mid
			low = mid + 1
		default:
			low = mid + 1
		}
	}
	return n, t, not == n-1, nil
}

// fewer takes out of a list what its change, which fits, does without: halves
// of it first, in the end one by one. It tells whether each that stays was shown
// to be needed. One stays at least.
func fewer[T any](ctx context.Context, l *looking, list []T, t *trial, of func([]T) change) ([]T, *trial, bool, error) {
	smallest := true
	for size := (len(list) + 1) / 2; size > 0; size /= 2 {
		for n := 0; n < len(list) && len(list) > 1; {
			some := slices.Delete(slices.Clone(list), n, min(n+size, len(list)))
			v, x := oracle.Unknown, (*trial)(nil)
			if len(some) > 0 {
				var err error
				if v, x, err = l.try(ctx, of(some)); err != nil {
					return nil, nil, false, err
				}
			}
			if v == oracle.Feasible {
				list, t = some, x
				continue
			}
			smallest = smallest && (size > 1 || v == oracle.Infeasible)
			n += size
		}
	}
	return list, t, smallest, nil
}
