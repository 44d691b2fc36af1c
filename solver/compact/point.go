package compact

import (
	"math"

	"primaprova/solver/instance"
)

// Start gives a solution as a point of the program. Variables that are as small
// as their rows let them be are computed after the others.
func (w *Program) Start(s *instance.Solution) []float64 {
	x := make([]float64, w.M.Vars())
	put := func(t *track, day instance.Day) {
		if day >= 0 {
			t.set(x, int(day))
		}
	}
	for i := range w.P.Parts {
		q, f := &w.P.Parts[i], s.Frames[i]
		put(&w.listen[i], f.Listen)
		put(&w.read[i], f.Read)
		put(&w.rec[i], f.Rec)
		phi := int(f.Phi)
		if f.Read == instance.None {
			phi = q.Lo - 1 // no first visits
		}
		w.phi[i].set(x, phi)
	}
	for i := range w.Visits {
		for k, d := range s.Sched[i] {
			put(&w.Visits[i][k], d)
		}
	}
	for _, def := range w.defs {
		v := math.Inf(-1)
		if def.excess {
			v = 0
		}
		for _, s := range def.sums {
			v = max(v, s.at(x))
		}
		x[def.v] = v
	}
	return x
}

// set puts a track on a day.
func (t *track) set(x []float64, day int) {
	for i, v := range t.by {
		if v != instance.None && t.lo+i >= day {
			x[v] = 1
		}
	}
}

// day gives the day on which a point has a track, or none.
func (t *track) day(x []float64) int {
	at := instance.None
	t.each(func(d int) {
		if on := t.on(d); on.at(x) > 0.5 {
			at = d
		}
	})
	return at
}

// State reads a point back. Only the days of the work are looked at: the
// solution's own sums say what they are worth.
func (w *Program) State(x []float64) *instance.Solution {
	s := instance.NewSolution(w.P)
	for i := range w.P.Parts {
		q, f := &w.P.Parts[i], s.Frames[i]
		if q.ReadDone {
			f.Listen, f.Rec = instance.Day(w.listen[i].day(x)), instance.Day(w.rec[i].day(x))
		} else {
			f.Listen, f.Read, f.Rec = instance.Day(w.listen[i].day(x)), instance.Day(w.read[i].day(x)), instance.Day(w.rec[i].day(x))
			f.Phi = max(f.Read, instance.Day(q.Lo-1))
		}
		for k := q.First; k < q.Last; k++ {
			if v := w.Visits[k]; w.P.Passages[k].InRound && len(v) > 0 && f.Read != instance.None {
				f.Phi = max(f.Phi, instance.Day(v[0].day(x)))
			}
		}
		s.SetFrame(i, f)
	}
	for i := range w.Visits {
		var days []instance.Day
		for k := range w.Visits[i] {
			if d := w.Visits[i][k].day(x); d != instance.None {
				days = append(days, instance.Day(d))
			}
		}
		if len(days) > 0 {
			s.Place(i, days)
		}
	}
	return s
}
