package main

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"primaprova/io/table"
	"primaprova/model"
	"primaprova/solver"
)

// integrals makes a table of each wish's primal integral.
func integrals(events []solver.Event) *table.Table {
	t := &table.Table{Columns: []table.Column{{Name: "wish"}, {Name: "in the end", Right: true}, {Name: "primal integral, s", Right: true}, {Name: "of the time, %", Right: true}}}
	for _, w := range model.Wishes {
		if last, sum, all := integral(events, w); all > 0 {
			t.Row(w.String(), strconv.FormatFloat(last, 'f', -1, 64), strconv.FormatFloat(sum, 'f', 2, 64), strconv.FormatFloat(100*sum/all, 'f', 1, 64))
		}
	}
	return t
}

// integral says how far from what came of a wish in the end the plan stood, as a share of the
// larger of both, summed up over all the seconds of planning:
//
//	P = Σ γ(t)·Δt,  γ = |c(t) − c*| / max(c(t), c*), 1 before there is a plan, 0 where c(t) = c*
//
// A second without a plan counts as one, and so do two at twice what it is in the end. Source:
// Berthold, Operations Research Letters 41, 611-614 (2013), with the run's own end for c*. The
// strict order makes later wishes worse for the sake of earlier ones; that counts too.
func integral(events []solver.Event, w model.Wish) (last, sum, all float64) {
	events = slices.Clone(events)
	slices.SortStableFunc(events, func(a, b solver.Event) int { return cmp.Compare(a.At, b.At) })
	for _, e := range events {
		if all = e.At; len(e.Score) > int(w) {
			last = e.Score[w]
		}
	}
	far, since := 1.0, 0.0
	for _, e := range events {
		sum, since = sum+far*(e.At-since), e.At
		if len(e.Score) > int(w) {
			if far = 0; e.Score[w] != last {
				far = math.Abs(e.Score[w]-last) / max(e.Score[w], last)
			}
		}
	}
	return last, sum, all
}
