package pricing

import (
	"slices"

	"primaprova/solver/instance"
)

// run is a run of days on which a part's first round may end, with what the part costs
// then at least.
type run struct {
	first, last int
	least       float64
}

// frame gives the cheapest frame in a box of a part at given duals.
//
// Rating all frames of a part takes n² steps where it has n days, and most are far from
// the cheapest. So what a part costs at least is worked out for runs of days on which
// its first round may end (DP.addRound): the run that costs least is halved, again
// and again, until every run that is left costs more than the cheapest frame found.
// (Best-first branch and bound: Land, Doig, Econometrica 28, 497-520, 1960; from
// memory.)
func (w *Worker) frame(p *instance.Instance, i int, t *Duals, b instance.Box) instance.Frame {
	q, mu := &p.Parts[i], t.Weights()
	empty := w.load(p, i, t)
	reads, after, most := readsOf(q, mu, &w.Stages, b), w.Stages.returns(q, mu), instance.Inf
	if !q.ReadDone {
		most = unreadFrame(q, mu, &w.Stages, empty).Cost
	}
	w.Sum = Square(w.Sum, max(q.Hi-q.Lo+1, 0))
	for _, row := range w.Sum {
		for g := range row {
			row[g] = instance.Inf
		}
	}
	w.row = Sized(w.row, len(w.Sum))
	rate := func(first, last int) {
		row := w.row
		if first == last {
			row = w.Sum[first-q.Lo+1]
		}
		clear(row)
		for k := range w.each {
			w.each[k].addRound(q.Lo, row, first, last)
		}
		least := instance.Inf
		for _, f := range reads {
			g := columnOf(q, f.Frame)
			least = min(least, f.Cost+row[g]+after[max(first-q.Lo+1, g)].cost)
		}
		if first == last {
			most = min(most, least)
		} else {
			w.runs = append(w.runs, run{first, last, least})
		}
	}
	w.runs = w.runs[:0]
	if b.Phi[0] <= b.Phi[1] { // a part whose days are over has none
		rate(int(b.Phi[0]), int(b.Phi[1]))
	}
	for len(w.runs) > 0 {
		at := 0
		for i := range w.runs {
			if w.runs[i].least < w.runs[at].least {
				at = i
			}
		}
		r := w.runs[at]
		if r.least > most {
			break
		}
		w.runs = slices.Delete(w.runs, at, at+1)
		half := r.first + (r.last-r.first)/2
		rate(r.first, half)
		rate(half+1, r.last)
	}
	return BestFrames(q, mu, w.Sum, &w.Stages, empty, 1, b)[0].Frame
}
