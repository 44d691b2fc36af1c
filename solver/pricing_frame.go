package solver

import "slices"

// run is a run of days on which a part's first round may end, with what the part costs
// then at least.
type run struct {
	first, last int
	least       float64
}

// frame gives the cheapest frame in a box of a part at a tariff.
//
// Rating all frames of a part takes n² steps where it has n days, and most are far from
// the cheapest. So what a part costs at least is worked out for runs of days on which
// its first round may end (recursion.addRound): the run that costs least is halved, again
// and again, until every run that is left costs more than the cheapest frame found.
// (Best-first branch and bound: Land, Doig, Econometrica 28, 497-520, 1960; from
// memory.)
func (w *pricerWork) frame(p *problem, i int, t *tariff, b box) frame {
	q, mu := &p.parts[i], t.weights()
	empty := w.load(p, i, t)
	reads, most := q.reads(mu, &w.stages, b), inf
	if !q.readDone {
		most = q.unread(mu, &w.stages, empty).cost
	}
	w.sum = square(w.sum, max(q.hi-q.lo+1, 0))
	for _, row := range w.sum {
		for g := range row {
			row[g] = inf
		}
	}
	w.row = sized(w.row, len(w.sum))
	rate := func(first, last int) {
		row := w.row
		if first == last {
			row = w.sum[first-q.lo+1]
		}
		clear(row)
		for k := range w.each {
			w.each[k].addRound(q.lo, row, first, last)
		}
		least := inf
		for _, f := range reads {
			least = min(least, f.cost+row[q.column(f.frame)])
		}
		if first == last {
			most = min(most, least)
		} else {
			w.runs = append(w.runs, run{first, last, least})
		}
	}
	w.runs = w.runs[:0]
	if b.phi[0] <= b.phi[1] { // a part whose days are over has none
		rate(int(b.phi[0]), int(b.phi[1]))
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
	return q.bestFrames(mu, w.sum, &w.stages, empty, 1, b)[0].frame
}
