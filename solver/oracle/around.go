package oracle

import "primaprova/solver/instance"

// Around leaves all parts where they stand but some, and gives these as a
// instance of their own in the room that is left, which of p's parts and
// passages its own are, and the solution of the others. p has to be cut to a demand.
// A part of which something does not stand, or can't stay, is among the some.
func Around(p *instance.Instance, free func(part int) bool) (rest *instance.Solution, inner *instance.Instance, back Origin) {
	rest = instance.NewSolution(p)
	moves := make([]bool, len(p.Parts))
	for i := range p.Parts {
		if moves[i] = free(i) || !stay(rest, i); moves[i] {
			rest.LiftPart(i)
		}
	}
	inner, back = Restrict(p, DemandAll(p), func(i int) bool { return moves[i] })
	inner.Room = make([]instance.DayRoom, p.Days)
	for d := p.Today; d < p.Days; d++ {
		r := p.Room[d]
		played := int(rest.Planned[d])
		inner.Room[d] = instance.DayRoom{Playing: r.Playing - played, Listening: r.Listening - rest.Listen[d], Visits: r.Visits - rest.Visits[d], Held: r.Held - played - rest.Listen[d]}
	}
	return rest, inner, back
}

// stay places a part where it stands, and tells whether all of it does.
func stay(s *instance.Solution, i int) bool {
	q := &s.P.Parts[i]
	f, ok := s.P.StandingFrame(i)
	if !ok || q.Listen > 0 && f.Listen == instance.None || q.Rec > 0 && f.Rec == instance.None || s.P.Parts[i].Pinned(f) || !s.TakesFrame(q, f) {
		return false
	}
	s.SetFrame(i, f)
	for k := q.First; k < q.Last; k++ {
		days, ok := s.P.StandingDays(k, f)
		if !ok || !s.Takes(k, days) {
			return false
		}
		s.Place(k, days)
	}
	return true
}

// Join places what another solution has of the parts and passages of its own.
func Join(s *instance.Solution, o *instance.Solution, back Origin) {
	for i, of := range back.Parts {
		s.SetFrame(of, o.Frames[i])
	}
	for i, of := range back.Passages {
		s.Place(of, o.Sched[i])
	}
}
