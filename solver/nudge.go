package solver

// nudge moves a part's frame a little - the end of the first round, the
// read-through, the listening or the return to the recordings - and places
// anew only the passages that no longer fit it, with a few others; it undoes
// what is not kept. A frame finds its place in many such steps where taking
// the whole part out would cost a hundred times as much.
func (m *improver) nudge(i int) {
	s := m.s
	q := &s.p.parts[i]
	f := s.frames[i]
	if f.read == none {
		return
	}
	to, ok := m.nudged(q, f)
	if !ok || to == f {
		return
	}
	before := s.score()
	list := m.lifted[:0]
	for k := q.first; k < q.last; k++ {
		if !s.p.inFrame(&s.p.passages[k], to, s.sched[k]) || m.rng.IntN(6) == 0 || len(s.sched[k]) < len(s.p.passages[k].visits) {
			list = append(list, k)
		}
	}
	m.lifted = list
	m.liftAll(list)
	s.setFrame(i, frame{none, f.read, none, f.phi}) // the read-through is tried on its own below
	if q.read > 0 && f.read >= 0 {
		s.play(int(f.read), -q.read)
	}
	fits := s.takesFrame(q, to)
	if q.read > 0 && f.read >= 0 {
		s.play(int(f.read), q.read)
	}
	if fits {
		s.setFrame(i, to)
		for _, k := range list {
			m.passage(k)
		}
		if m.keeps(before, s.score()) {
			return
		}
	}
	for _, k := range list {
		s.lift(k)
	}
	s.setFrame(i, f)
	m.restore(list)
}

// nudged gives a frame near f, if there is one in the direction chosen.
func (m *improver) nudged(q *part, f frame) (frame, bool) {
	by := int16(1 + m.rng.IntN(3))
	if m.rng.IntN(2) == 0 {
		by = -by
	}
	free := func(stage int, d int16) bool { return q.allowed(stage, int(d)) }
	switch r := m.rng.IntN(8); {
	case r < 3:
		f.phi += by
		if int(f.phi) > q.hi {
			return f, false
		}
	case r < 6 && q.read > 0:
		f.read += by
		if f.read < int16(q.winLo) || int(f.read) > q.winHi || !free(1, f.read) {
			return f, false
		}
		if q.listen > 0 {
			f.listen = min(f.listen, f.read)
		}
		if f.rec != none && f.rec <= f.read {
			return f, false
		}
		f.phi = max(f.phi, f.read)
	case r < 7 && q.listen > 0 && f.read >= 0:
		f.listen = int16(q.winLo + m.rng.IntN(int(f.read)-q.winLo+1))
	case r < 7 && q.listen > 0 && q.readDone && q.winLo <= q.winHi:
		f.listen = int16(q.winLo + m.rng.IntN(q.winHi-q.winLo+1))
	case q.rec > 0 && q.recLo <= q.winHi:
		f.rec = int16(q.recLo + m.rng.IntN(q.winHi-q.recLo+1))
		if f.rec <= f.read {
			return f, false
		}
	default:
		return f, false
	}
	if f.phi < f.read || q.listen > 0 && f.listen != none && !free(0, f.listen) || q.rec > 0 && f.rec != none && !free(2, f.rec) {
		return f, false
	}
	return f, true
}

// liftAll takes passages out and keeps where they stood.
func (m *improver) liftAll(list []int) {
	m.kept = m.kept[:0]
	for _, i := range list {
		m.kept = append(m.kept, m.s.sched[i])
		m.s.lift(i)
	}
}

// restore puts passages that are lifted back where liftAll found them.
func (m *improver) restore(list []int) {
	for n, i := range list {
		if len(m.kept[n]) > 0 {
			m.s.place(i, m.kept[n])
		}
	}
}
