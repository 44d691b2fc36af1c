package construct

import "primaprova/solver/instance"

// nudge moves a part's frame a little - the end of the first round, the
// read-through, the listening or the return to the recordings - and places
// anew only the passages that no longer fit it, with a few others; it undoes
// what is not kept. A frame finds its place in many such steps where taking
// the whole part out would cost a hundred times as much.
func (m *Annealer) nudge(i int) {
	s := m.S
	q := &s.P.Parts[i]
	f := s.Frames[i]
	if f.Read == instance.None {
		return
	}
	to, ok := m.nudged(q, f)
	if !ok || to == f {
		return
	}
	before := s.Score()
	list := m.lifted[:0]
	for k := q.First; k < q.Last; k++ {
		if !s.P.InFrame(&s.P.Passages[k], to, s.Sched[k]) || m.rng.IntN(6) == 0 || len(s.Sched[k]) < len(s.P.Passages[k].Visits) {
			list = append(list, k)
		}
	}
	m.lifted = list
	m.liftAll(list)
	s.SetFrame(i, instance.Frame{Listen: instance.None, Read: f.Read, Rec: instance.None, Phi: f.Phi}) // the read-through is tried on its own below
	if q.Read > 0 && f.Read >= 0 {
		s.Play(int(f.Read), -q.Read)
	}
	fits := s.TakesFrame(q, to)
	if q.Read > 0 && f.Read >= 0 {
		s.Play(int(f.Read), q.Read)
	}
	if fits {
		s.SetFrame(i, to)
		for _, k := range list {
			m.Passage(k)
		}
		if m.keeps(before, s.Score()) {
			return
		}
	}
	for _, k := range list {
		s.Lift(k)
	}
	s.SetFrame(i, f)
	m.restore(list)
}

// nudged gives a frame near f, if there is one in the direction chosen.
func (m *Annealer) nudged(q *instance.Part, f instance.Frame) (instance.Frame, bool) {
	by := instance.Day(1 + m.rng.IntN(3))
	if m.rng.IntN(2) == 0 {
		by = -by
	}
	free := func(stage int, d instance.Day) bool { return q.Allowed(stage, int(d)) }
	switch r := m.rng.IntN(8); {
	case r < 3:
		f.Phi += by
		if int(f.Phi) > q.Hi {
			return f, false
		}
	case r < 6 && q.Read > 0:
		f.Read += by
		if f.Read < instance.Day(q.WinLo) || int(f.Read) > q.WinHi || !free(1, f.Read) {
			return f, false
		}
		if q.Listen > 0 {
			f.Listen = min(f.Listen, f.Read)
		}
		f.Phi = max(f.Phi, f.Read)
	case r < 7 && q.Listen > 0 && f.Read >= 0:
		f.Listen = instance.Day(q.WinLo + m.rng.IntN(int(f.Read)-q.WinLo+1))
	case r < 7 && q.Listen > 0 && q.ReadDone && q.WinLo <= q.WinHi:
		f.Listen = instance.Day(q.WinLo + m.rng.IntN(q.WinHi-q.WinLo+1))
	case q.Rec > 0 && q.RecLo <= q.RecHi:
		f.Rec = instance.Day(q.RecLo + m.rng.IntN(q.RecHi-q.RecLo+1))
	default:
		return f, false
	}
	if f.Phi < f.Read || f.Rec != instance.None && f.Rec <= f.Phi || q.Listen > 0 && f.Listen != instance.None && !free(0, f.Listen) || q.Rec > 0 && f.Rec != instance.None && !free(2, f.Rec) {
		return f, false
	}
	return f, true
}

// liftAll takes passages out and keeps where they stood.
func (m *Annealer) liftAll(list []int) {
	m.kept = m.kept[:0]
	for _, i := range list {
		m.kept = append(m.kept, m.S.Sched[i])
		m.S.Lift(i)
	}
}

// restore puts passages that are lifted back where liftAll found them.
func (m *Annealer) restore(list []int) {
	for n, i := range list {
		if len(m.kept[n]) > 0 {
			m.S.Place(i, m.kept[n])
		}
	}
}
