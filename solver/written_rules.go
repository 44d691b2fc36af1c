package solver

import "fmt"

// The rules of the written-out program, one function each. That a piece of
// work lies in its window, on no rest day and on its pinned day is a matter of
// the days its track has.

// inOrder: listening, then read-through (the same day will do), then first
// visits and the return to the recordings (on later days).
func (w *written) inOrder() {
	for i := range w.p.parts {
		q := &w.p.parts[i]
		if q.readDone {
			continue
		}
		if q.listen > 0 {
			w.behind("order", q.work.Name+"/read-through", &w.read[i], &w.listen[i], 0)
		}
		w.behind("order", q.work.Name+"/recordings", &w.rec[i], &w.read[i], 1)
		for k := q.first; k < q.last; k++ {
			if v := &w.p.passages[k]; v.done == 0 && len(v.visits) > 0 {
				w.behind("order", v.work.Name+",1", &w.visits[k][0], &w.read[i], 1)
			}
		}
	}
}

// behind: the one lies at least so many days after the other, or not at all.
func (w *written) behind(rule, name string, t, other *track, days int) {
	t.each(func(d int) {
		w.atMost(fmt.Sprintf("%s[%s,%s]", rule, name, w.day(d)), t.upTo(d).plus(-1, other.upTo(d-days)), 0)
	})
}

// keepGaps: a visit comes its least gap after the visit before. The gap after
// a visit done before is a matter of the first possible day.
func (w *written) keepGaps() {
	for i := range w.p.passages {
		q := &w.p.passages[i]
		for k := 1; k < len(q.visits); k++ {
			w.behind("gap", fmt.Sprintf("%s,%d", q.work.Name, q.done+k+1), &w.visits[i][k], &w.visits[i][k-1], q.visits[k].least)
		}
	}
}

// allOnce: the first round of a part ends on a day, or with the day before
// any that can be planned; first visits lie on it or before, third visits
// after it.
func (w *written) allOnce() {
	for i := range w.p.parts {
		q := &w.p.parts[i]
		rounds, thirds := false, false
		for k := q.first; k < q.last; k++ {
			rounds = rounds || w.p.passages[k].inRound
			thirds = thirds || w.p.passages[k].third != none
		}
		if !rounds || !thirds {
			continue
		}
		phi := w.track("round", q.work.Name, q.lo-1, max(q.lo-1, q.hi), func(int) bool { return true })
		w.phi[i] = phi
		w.m.SetBounds(phi.by[len(phi.by)-1], 1, 1)
		for k := q.first; k < q.last; k++ {
			v := &w.p.passages[k]
			if v.inRound {
				t := &w.visits[k][0]
				for d := q.lo - 1; d < v.hi; d++ {
					w.atMost(fmt.Sprintf("first[%s,%s]", v.work.Name, w.day(d)),
						t.placed().plus(-1, t.upTo(d)).plus(1, phi.upTo(d)), 1)
				}
			}
			if v.third != none {
				w.behind("third", v.work.Name, &w.visits[k][v.third], &phi, 1)
			}
		}
	}
}

// daySum is what lies on one day: minutes of playing and of listening, visits.
type daySum struct{ playing, listening, visits sum }

// gather sums up the days. It goes from work to days, not from days to work:
// there are too many pairs of both.
func (w *written) gather() {
	w.on = make([]daySum, w.p.days)
	for i := range w.p.parts {
		q := &w.p.parts[i]
		w.read[i].each(func(d int) { w.on[d].playing = w.on[d].playing.plus(float64(q.read), w.read[i].on(d)) })
		w.listen[i].each(func(d int) { w.on[d].listening = w.on[d].listening.plus(float64(q.listen), w.listen[i].on(d)) })
		w.rec[i].each(func(d int) { w.on[d].listening = w.on[d].listening.plus(float64(q.rec), w.rec[i].on(d)) })
	}
	for i := range w.visits {
		for k := range w.visits[i] {
			t, minutes := &w.visits[i][k], float64(w.p.passages[i].visits[k].minutes)
			t.each(func(d int) {
				w.on[d].playing = w.on[d].playing.plus(minutes, t.on(d))
				w.on[d].visits = w.on[d].visits.plus(1, t.on(d))
			})
		}
	}
}

// keepCap: planned playing fits the room under the cap.
func (w *written) keepCap() {
	for d := w.p.today; d < w.p.days; d++ {
		w.atMost("cap["+w.day(d)+"]", w.on[d].playing, float64(w.p.room[d].playing))
	}
}

// keepPassages: no more visits in a day than the limit.
func (w *written) keepPassages() {
	for d := w.p.today; d < w.p.days; d++ {
		w.atMost("passages["+w.day(d)+"]", w.on[d].visits, float64(w.p.room[d].visits))
	}
}

// keepListening: the day's listening stays within its limit.
func (w *written) keepListening() {
	for d := w.p.today; d < w.p.days; d++ {
		w.atMost("listening["+w.day(d)+"]", w.on[d].listening, float64(w.p.room[d].listening))
	}
}

// keepHours: everything together fits the free hours, where there are any.
func (w *written) keepHours() {
	for d := w.p.today; d < w.p.days; d++ {
		w.atMost("hours["+w.day(d)+"]", sum{}.plus(1, w.on[d].playing).plus(1, w.on[d].listening), float64(w.p.room[d].held))
	}
}
