package construct

import "primaprova/solver/instance"

// Greedy fills the calendar part by part, the earliest deadline first, each in
// its cheapest frame beside what is there already, each passage as cheaply as
// it goes, the ones with most at stake first. It needs no engine and gives a
// plan that keeps every rule.
func Greedy(p *instance.Instance) *instance.Solution {
	s := instance.NewSolution(p)
	in := &Inserter{S: s, By: instance.InOrder}
	for _, i := range p.ByDeadline() {
		in.Part(i, 1, p.Order(&p.Parts[i]))
	}
	return s
}
