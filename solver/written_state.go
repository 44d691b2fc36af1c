package solver

import "math"

// start gives a state as a point of the program. Variables that are as small
// as their rows let them be are computed after the others.
func (w *written) start(s *state) []float64 {
	x := make([]float64, w.m.Vars())
	put := func(t *track, day int16) {
		if day >= 0 {
			t.set(x, int(day))
		}
	}
	for i := range w.p.parts {
		q, f := &w.p.parts[i], s.frames[i]
		put(&w.listen[i], f.listen)
		put(&w.read[i], f.read)
		put(&w.rec[i], f.rec)
		phi := int(f.phi)
		if f.read == none {
			phi = q.lo - 1 // no first visits
		}
		w.phi[i].set(x, phi)
	}
	for i := range w.visits {
		for k, d := range s.sched[i] {
			put(&w.visits[i][k], d)
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
		if v != none && t.lo+i >= day {
			x[v] = 1
		}
	}
}

// day gives the day on which a point has a track, or none.
func (t *track) day(x []float64) int {
	at := none
	t.each(func(d int) {
		if on := t.on(d); on.at(x) > 0.5 {
			at = d
		}
	})
	return at
}

// state reads a point back. Only the days of the work are looked at: the
// state's own sums say what they are worth.
func (w *written) state(x []float64) *state {
	s := newState(w.p)
	for i := range w.p.parts {
		q, f := &w.p.parts[i], s.frames[i]
		if q.readDone {
			f.listen, f.rec = int16(w.listen[i].day(x)), int16(w.rec[i].day(x))
		} else {
			f.listen, f.read, f.rec = int16(w.listen[i].day(x)), int16(w.read[i].day(x)), int16(w.rec[i].day(x))
			f.phi = max(f.read, int16(q.lo-1))
		}
		for k := q.first; k < q.last; k++ {
			if v := w.visits[k]; w.p.passages[k].inRound && len(v) > 0 && f.read != none {
				f.phi = max(f.phi, int16(v[0].day(x)))
			}
		}
		s.setFrame(i, f)
	}
	for i := range w.visits {
		var days []int16
		for k := range w.visits[i] {
			if d := w.visits[i][k].day(x); d != none {
				days = append(days, int16(d))
			}
		}
		if len(days) > 0 {
			s.place(i, days)
		}
	}
	return s
}
