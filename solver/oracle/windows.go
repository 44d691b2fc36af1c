package oracle

import (
	"primaprova/model"
	"primaprova/solver/instance"
)

// timeWindow is one session of a demand with the days it may lie on when everything
// is placed.
type timeWindow struct {
	Part, Lo, Hi int
	Uses         [3]int // by model.Supply
}

// TimeWindows gives every session its days, each part as if it were alone: as
// model.Slots does for a season, here for an instance in which facts were
// dropped. It is not ok where a session has no day. Where order is dropped
// only gaps tie a passage's visits.
func TimeWindows(p *instance.Instance, ordered bool) (out []timeWindow, ok bool) {
	for i := range p.Parts {
		if out, ok = windowsOf(p, i, ordered, out); !ok {
			return nil, false
		}
	}
	return out, true
}

// windows are those of one part while they are found: first all first days, then, backwards, all last ones.
type windows struct {
	p       *instance.Instance
	part    int
	q       *instance.Part
	ordered bool

	lengths, his [3]int
	stages       [3]timeWindow
	chains       [][]timeWindow // by passage of the part
	read         int            // first day of the read-through
}

func windowsOf(p *instance.Instance, i int, ordered bool, out []timeWindow) ([]timeWindow, bool) {
	q := &p.Parts[i]
	w := &windows{p: p, part: i, q: q, ordered: ordered, read: instance.Before,
		lengths: [3]int{q.Listen, q.Read, q.Rec}, his: [3]int{q.WinHi, q.WinHi, q.RecHi}}
	if !w.stagesFirst() || !w.visitsFirst() || !w.stagesLast(w.visitsLast()) {
		return nil, false
	}
	for _, chain := range w.chains {
		out = append(out, chain...)
	}
	for n := len(w.stages) - 1; n >= 0; n-- {
		if w.lengths[n] > 0 {
			out = append(out, w.stages[n])
		}
	}
	for _, s := range out {
		if s.Hi < s.Lo {
			return nil, false
		}
	}
	return out, true
}

// stagesFirst gives listening, read-through and recordings their first days; false where one has none.
func (w *windows) stagesFirst() bool {
	q, los := w.q, [3]int{w.q.WinLo, w.q.WinLo, w.q.RecLo}
	for n, m := range w.lengths {
		if m == 0 {
			continue
		}
		s := &w.stages[n]
		s.Part, s.Hi = w.part, w.his[n]
		s.Uses[stageSupply[n]] = m
		if n == 0 && q.Sits != nil {
			s.Uses[stageSupply[n]] = q.Sits[len(q.Sits)-1].Minutes // those before lie on other days
		}
		if w.ordered && n == 1 && q.Listen > 0 {
			los[1] = max(los[1], w.stages[0].Lo)
		}
		if w.ordered && n == 2 && q.Read > 0 {
			los[2] = max(los[2], w.stages[1].Lo+1)
		}
		s.Lo = firstDay(w.p, los[n], w.his[n], func(d int) bool { return stageFits(w.p, q, n, m, d) })
		if s.Lo > w.his[n] {
			return false
		}
		if n == 1 {
			w.read = s.Lo
		}
	}
	return true
}

// visitsFirst gives each visit its first day; false where one has none.
func (w *windows) visitsFirst() bool {
	w.chains = make([][]timeWindow, w.q.Last-w.q.First)
	round := instance.Before
	for c := range w.chains {
		v := &w.p.Passages[w.q.First+c]
		w.chains[c] = make([]timeWindow, len(v.Visits))
		if v.InRound && len(v.Visits) > 0 {
			lo := v.Lo
			if w.ordered {
				lo = max(lo, w.read+1)
			}
			round = max(round, firstDay(w.p, lo, v.Hi, func(d int) bool { return visitFits(w.p, &v.Visits[0], d) }))
		}
	}
	for c, chain := range w.chains {
		v := &w.p.Passages[w.q.First+c]
		lo := v.Lo
		for k := range chain {
			visit := &v.Visits[k]
			switch {
			case k > 0:
				lo = chain[k-1].Lo + visit.Least
			case v.Done > 0:
				lo = max(lo, v.Since+visit.Least)
			case w.ordered:
				lo = max(lo, w.read+1)
			}
			if k == v.Third {
				lo = max(lo, round+1)
			}
			chain[k] = timeWindow{Part: w.part, Lo: firstDay(w.p, lo, v.Hi, func(d int) bool { return visitFits(w.p, visit, d) })}
			chain[k].Uses = [3]int{model.PlayingTime: visit.Minutes, model.VisitCount: 1}
			if chain[k].Lo > v.Hi {
				return false
			}
		}
	}
	return true
}

// visitsLast gives each visit its last day, and the last on which the read-through may lie before all of them.
func (w *windows) visitsLast() (latest int) {
	thirds := w.p.Days
	for c, chain := range w.chains {
		v := &w.p.Passages[w.q.First+c]
		lastDays(w.p, v, chain, len(chain)-1, v.Hi)
		if v.Third != instance.None {
			thirds = min(thirds, chain[v.Third].Hi)
		}
	}
	latest = w.q.WinHi
	for c, chain := range w.chains {
		v := &w.p.Passages[w.q.First+c]
		if len(chain) == 0 {
			continue
		}
		if v.InRound && chain[0].Hi >= thirds {
			lastDays(w.p, v, chain, 0, thirds-1)
		}
		if v.Done == 0 {
			latest = min(latest, chain[0].Hi-1)
		}
	}
	return latest
}

// stagesLast gives the stages their last days, up to one; false where one has none.
func (w *windows) stagesLast(latest int) bool {
	for n := len(w.stages) - 1; n >= 0; n-- {
		if w.lengths[n] == 0 {
			continue
		}
		s, hi := &w.stages[n], w.his[n]
		if w.ordered && n < 2 && !w.q.ReadDone { // after the read-through listening may lie anywhere
			hi = min(hi, latest)
		}
		s.Hi = lastDay(s.Lo, hi, func(d int) bool { return stageFits(w.p, w.q, n, w.lengths[n], d) })
		if s.Hi < s.Lo {
			return false
		}
		switch n {
		case 2:
			latest = min(latest, s.Hi-1)
		case 1:
			latest = s.Hi
		}
	}
	return true
}

// lastDays gives visit k of a passage its last day, up to a day, and those
// before it theirs.
func lastDays(p *instance.Instance, v *instance.Passage, chain []timeWindow, k, to int) {
	for ; k >= 0; k-- {
		chain[k].Hi = lastDay(chain[k].Lo, to, func(d int) bool { return visitFits(p, &v.Visits[k], d) })
		to = chain[k].Hi - v.Visits[k].Least
	}
}

// firstDay gives the first day from lo on that will do; hi+1 or later where
// none up to hi does.
func firstDay(p *instance.Instance, lo, hi int, will func(d int) bool) int {
	d := max(lo, p.Today)
	for d <= hi && !will(d) {
		d++
	}
	return d
}

// lastDay gives the last day up to hi that will do; lo−1 where none does.
func lastDay(lo, hi int, will func(d int) bool) int {
	d := hi
	for d >= lo && !will(d) {
		d--
	}
	return max(d, lo-1)
}
