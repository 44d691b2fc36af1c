package solver

import (
	"slices"
	"sync"
	"sync/atomic"

	"primaprova/model"
)

// pricer finds cheapest parts and schedules at a tariff, on several goroutines.
// What it answers never depends on how many.
type pricer struct {
	p       *problem
	room    []dayRoom // what single visits and stages must fit: the problem's, or what a dive leaves of it
	workers []*pricerWork
}

type pricerWork struct {
	k      *pricer
	r      recursion
	each   []recursion // of a part's passages
	sum    [][]float64
	row    []float64
	runs   []run
	stages stageCharges
}

func newPricer(p *problem, workers int) *pricer {
	k := &pricer{p: p, room: p.room}
	for range max(1, workers) {
		k.workers = append(k.workers, &pricerWork{k: k})
	}
	return k
}

// each calls f for 0..n-1, each number on one of the goroutines.
func (k *pricer) each(n int, f func(w *pricerWork, i int)) {
	var next atomic.Int64
	var wg sync.WaitGroup
	for _, w := range k.workers {
		wg.Go(func() {
			for {
				i := int(next.Add(1)) - 1
				if i >= n {
					return
				}
				f(w, i)
			}
		})
	}
	wg.Wait()
}

// charge sets the recursion up for a passage at a tariff.
func (w *pricerWork) charge(r *recursion, p *problem, q *passage, t *tariff) {
	c := r.load(q, t.weights())
	for k := range q.visits {
		v := &q.visits[k]
		row, m := c[k], float64(v.minutes)
		for d := q.lo; d <= q.hi; d++ {
			room := &w.k.room[d]
			if v.minutes > room.playing || v.minutes > room.held || room.visits < 1 || !v.may(d) {
				row[d-q.lo] = inf
				continue
			}
			row[d-q.lo] = m*t.minute[d] + t.visit[d] + r.w.closeness*float64(p.moved(v.stand, d))
		}
	}
}

// stay forbids the days that the visits of a unit's passage don't come to.
func (w *pricerWork) stay(u *unit) {
	for k, row := range w.r.c {
		for at := range row {
			if !u.frees(k, w.r.q.lo+at) {
				row[at] = inf
			}
		}
	}
}

// unit gives the cheapest plan of a unit at a tariff; of a whole part, over all
// its frames. Its cost is the unit's term of the bound.
func (w *pricerWork) unit(p *problem, u *unit, t *tariff) partPlan {
	out := partPlan{ratedFrame: ratedFrame{frame: u.frame}, days: make([][]int16, u.last-u.first)}
	if u.whole {
		q := &p.parts[u.part]
		switch {
		case u.held:
			out.frame = w.heldFrame(p, u, t)
		case u.box != nil:
			out.frame = w.frame(p, u.part, t, *u.box)
		default:
			out.frame = w.frame(p, u.part, t, q.allFrames())
		}
		out.s = p.stagesScore(q, out.frame)
		out.cost = t.frame(q, out.frame, out.s)
	}
	for k := range out.days {
		ps := &p.passages[u.first+k]
		if out.read != none || ps.done > 0 {
			r := &w.r
			if u.whole && !u.held {
				r = &w.each[k] // charged already
			} else {
				w.charge(r, p, ps, t)
			}
			if u.frees != nil {
				w.stay(u)
			}
			cost, days := r.best(int(out.read), int(out.phi))
			out.days[k] = slices.Clone(days)
			out.cost += cost
		} else {
			out.cost += t.weight[model.Coverage] * float64(ps.worth(0))
		}
		out.s = out.s.plus(p.scheduleScore(ps, out.days[k]))
	}
	return out
}

// heldFrame gives a held frame with the cheapest days of its other stages.
func (w *pricerWork) heldFrame(p *problem, u *unit, t *tariff) frame {
	q := &p.parts[u.part]
	w.rateStages(p, q, t)
	_, f := w.stages.complete(q, u.frame.read, u.frame.phi, t.weight[model.Coverage])
	return f
}

// rate works out what a part's passages cost in each frame of a box (w.sum) and
// its stages by day (w.stages) at a tariff, and gives what the passages cost
// where no read-through is placed.
func (w *pricerWork) rate(p *problem, i int, t *tariff, b box) float64 {
	q := &p.parts[i]
	empty := w.load(p, i, t)
	w.sum = square(w.sum, max(q.hi-q.lo+1, 0))
	for k := range w.each {
		w.each[k].frames(q.lo, w.sum, b)
	}
	return empty
}

// load charges a part's passages (w.each) and stages (w.stages) at a tariff, so that
// frames can be rated, and gives what the passages cost where no read-through is
// placed.
func (w *pricerWork) load(p *problem, i int, t *tariff) float64 {
	q := &p.parts[i]
	empty := 0.0
	w.each = slices.Grow(w.each[:0], q.last-q.first)[:q.last-q.first]
	for k := range w.each {
		r := &w.each[k]
		w.charge(r, p, &p.passages[q.first+k], t)
		empty += r.unread()
		r.begin()
	}
	w.rateStages(p, q, t)
	return empty
}

// rateStages works out what a part's stages cost by day (w.stages).
func (w *pricerWork) rateStages(p *problem, q *part, t *tariff) {
	mu := t.weights()
	w.stages.reset(max(q.hi-q.lo+1, 0))
	for d := max(q.winLo, q.lo); d <= q.winHi; d++ {
		r, at := &w.k.room[d], d-q.lo
		if q.listen <= min(r.listening, r.held) && q.allowed(0, d) {
			w.stages.listen[at] = t.listen[d]*float64(q.listen) + mu.closeness*float64(p.moved(q.stand[0], d))
		}
		if q.read <= min(r.playing, r.held) && q.allowed(1, d) {
			w.stages.read[at] = t.minute[d]*float64(q.read) + mu.closeness*float64(p.moved(q.stand[1], d))
		}
		if d >= q.recLo && q.rec <= min(r.listening, r.held) && q.allowed(2, d) {
			w.stages.rec[at] = t.listen[d]*float64(q.rec) + mu.closeness*float64(p.moved(q.stand[2], d))
		}
	}
}
