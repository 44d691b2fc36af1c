package solver

// around leaves all parts where they stand but some, and gives these as a
// problem of their own in the room that is left, which of p's parts and
// passages its own are, and the state of the others. p has to be cut to a bid.
// A part of which something does not stand, or can't stay, is among the some.
func (p *problem) around(free func(part int) bool) (rest *state, inner *problem, back origin) {
	rest = newState(p)
	moves := make([]bool, len(p.parts))
	for i := range p.parts {
		if moves[i] = free(i) || !rest.stay(i); moves[i] {
			rest.liftPart(i)
		}
	}
	inner, back = p.cut(p.bidAll(), func(i int) bool { return moves[i] })
	inner.room = make([]dayRoom, p.days)
	for d := p.today; d < p.days; d++ {
		r := p.room[d]
		played := int(rest.planned[d])
		inner.room[d] = dayRoom{r.playing - played, r.listening - rest.listen[d], r.visits - rest.visits[d], r.held - played - rest.listen[d]}
	}
	return rest, inner, back
}

// stay places a part where it stands, and tells whether all of it does.
func (s *state) stay(i int) bool {
	q := &s.p.parts[i]
	f, ok := s.p.standingFrame(i)
	if !ok || q.listen > 0 && f.listen == none || q.rec > 0 && f.rec == none || s.p.parts[i].pinned(f) || !s.takesFrame(q, f) {
		return false
	}
	s.setFrame(i, f)
	for k := q.first; k < q.last; k++ {
		days, ok := s.p.standingDays(k, f)
		if !ok || !s.takes(k, days) {
			return false
		}
		s.place(k, days)
	}
	return true
}

// join places what another state has of the parts and passages of its own.
func (s *state) join(o *state, back origin) {
	for i, of := range back.parts {
		s.setFrame(of, o.frames[i])
	}
	for i, of := range back.passages {
		s.place(of, o.sched[i])
	}
}
