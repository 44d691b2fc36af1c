package compact

import (
	"fmt"

	"primaprova/solver/instance"
)

// The rules of the written-out program, one function each. That a piece of
// work lies in its window, on no rest day, on its pinned day and on none that bars
// it (Part.Allowed, Visit.May) is a matter of the days its track has.

// inOrder: listening, then read-through (the same day will do), then first
// visits (on later days), then the return to the recordings (later than all first
// visits of the first round).
func (w *Program) inOrder() {
	for i := range w.P.Parts {
		q := &w.P.Parts[i]
		w.afterRound(q, &w.rec[i])
		if q.ReadDone {
			continue
		}
		if q.Listen > 0 {
			w.behind("order", q.Work.Name+"/read-through", &w.read[i], &w.listen[i], 0)
		}
		w.behind("order", q.Work.Name+"/recordings", &w.rec[i], &w.read[i], 1)
		for k := q.First; k < q.Last; k++ {
			if v := &w.P.Passages[k]; v.Done == 0 && len(v.Visits) > 0 {
				w.behind("order", v.Work.Name+",1", &w.Visits[k][0], &w.read[i], 1)
			}
		}
	}
}

// afterRound: each first visit of the first round lies before the return to the
// recordings, or not at all.
func (w *Program) afterRound(q *instance.Part, rec *track) {
	for k := q.First; k < q.Last; k++ {
		v := &w.P.Passages[k]
		if !v.InRound || len(v.Visits) == 0 {
			continue
		}
		first := &w.Visits[k][0]
		rec.each(func(d int) {
			w.atMost(fmt.Sprintf("order[%s/recordings,%s,%s]", q.Work.Name, v.Work.Passage.ID, w.day(d)),
				rec.upTo(d).Plus(1, first.Placed()).Plus(-1, first.upTo(d-1)), 1)
		})
	}
}

// behind: the one lies at least so many days after the other, or not at all.
func (w *Program) behind(rule, name string, t, other *track, days int) {
	t.each(func(d int) {
		w.atMost(fmt.Sprintf("%s[%s,%s]", rule, name, w.day(d)), t.upTo(d).Plus(-1, other.upTo(d-days)), 0)
	})
}

// keepGaps: a visit comes its least gap after the visit before. The gap after
// a visit done before is a matter of the first possible day.
func (w *Program) keepGaps() {
	for i := range w.P.Passages {
		q := &w.P.Passages[i]
		for k := 1; k < len(q.Visits); k++ {
			w.behind("gap", fmt.Sprintf("%s,%d", q.Work.Name, q.Done+k+1), &w.Visits[i][k], &w.Visits[i][k-1], q.Visits[k].Least)
		}
	}
}

// allOnce: the first round of a part ends on a day, or with the day before
// any that can be planned; first visits lie on it or before, third visits
// after it.
func (w *Program) allOnce() {
	for i := range w.P.Parts {
		q := &w.P.Parts[i]
		rounds, thirds := false, false
		for k := q.First; k < q.Last; k++ {
			rounds = rounds || w.P.Passages[k].InRound
			thirds = thirds || w.P.Passages[k].Third != instance.None
		}
		if !rounds || !thirds {
			continue
		}
		phi := w.track("round", q.Work.Name, q.Lo-1, max(q.Lo-1, q.Hi), func(int) bool { return true })
		w.phi[i] = phi
		w.M.SetBounds(phi.by[len(phi.by)-1], 1, 1)
		for k := q.First; k < q.Last; k++ {
			v := &w.P.Passages[k]
			if v.InRound {
				t := &w.Visits[k][0]
				for d := q.Lo - 1; d < v.Hi; d++ {
					w.atMost(fmt.Sprintf("first[%s,%s]", v.Work.Name, w.day(d)),
						t.Placed().Plus(-1, t.upTo(d)).Plus(1, phi.upTo(d)), 1)
				}
			}
			if v.Third != instance.None {
				w.behind("third", v.Work.Name, &w.Visits[k][v.Third], &phi, 1)
			}
		}
	}
}

// daySum is what lies on one day: minutes of playing and of listening, visits.
type daySum struct{ Playing, listening, visits Sum }

// gather sums up the days. It goes from work to days, not from days to work:
// there are too many pairs of both.
func (w *Program) gather() {
	w.On = make([]daySum, w.P.Days)
	for i := range w.P.Parts {
		q := &w.P.Parts[i]
		w.read[i].each(func(d int) { w.On[d].Playing = w.On[d].Playing.Plus(float64(q.Read), w.read[i].on(d)) })
		w.listen[i].each(func(end int) {
			q.Heard(end, func(d, minutes int) {
				w.On[d].listening = w.On[d].listening.Plus(float64(minutes), w.listen[i].on(end))
			})
		})
		w.rec[i].each(func(d int) { w.On[d].listening = w.On[d].listening.Plus(float64(q.Rec), w.rec[i].on(d)) })
	}
	for i := range w.Visits {
		for k := range w.Visits[i] {
			t, minutes := &w.Visits[i][k], float64(w.P.Passages[i].Visits[k].Minutes)
			t.each(func(d int) {
				w.On[d].Playing = w.On[d].Playing.Plus(minutes, t.on(d))
				w.On[d].visits = w.On[d].visits.Plus(1, t.on(d))
			})
		}
	}
}

// keepCap: planned playing fits the room under the cap.
func (w *Program) keepCap() {
	for d := w.P.Today; d < w.P.Days; d++ {
		w.atMost("cap["+w.day(d)+"]", w.On[d].Playing, float64(w.P.Room[d].Playing))
	}
}

// keepPassages: no more visits in a day than the limit.
func (w *Program) keepPassages() {
	for d := w.P.Today; d < w.P.Days; d++ {
		w.atMost("passages["+w.day(d)+"]", w.On[d].visits, float64(w.P.Room[d].Visits))
	}
}

// keepListening: the day's listening stays within its limit.
func (w *Program) keepListening() {
	for d := w.P.Today; d < w.P.Days; d++ {
		w.atMost("listening["+w.day(d)+"]", w.On[d].listening, float64(w.P.Room[d].Listening))
	}
}

// keepHours: everything together fits the free hours, where there are any.
func (w *Program) keepHours() {
	for d := w.P.Today; d < w.P.Days; d++ {
		w.atMost("hours["+w.day(d)+"]", Sum{}.Plus(1, w.On[d].Playing).Plus(1, w.On[d].listening), float64(w.P.Room[d].Held))
	}
}
