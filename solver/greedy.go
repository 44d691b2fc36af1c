package solver

import "slices"

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

// byDeadline gives the parts by the last day of their window, then in the
// order of the season file.
func (p *problem) byDeadline() []int {
	out := make([]int, len(p.parts))
	for i := range out {
		out[i] = i
	}
	slices.SortStableFunc(out, func(a, b int) int { return p.parts[a].winHi - p.parts[b].winHi })
	return out
}
