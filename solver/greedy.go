package solver

// greedy fills the calendar part by part, the earliest deadline first, each in
// its cheapest frame beside what is there already, each passage as cheaply as
// it goes, the ones with most at stake first. It needs no engine and gives a
// plan that keeps every rule.
func greedy(p *problem) *state {
	s := newState(p)
	in := &inserter{s: s, by: inOrder}
	for _, i := range p.byDeadline() {
		in.part(i, 1, p.order(&p.parts[i]))
	}
	return s
}
