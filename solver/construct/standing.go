package construct

import "primaprova/solver/instance"

// FromStanding begins with the standing plan: whatever of it can stay where it
// stands does, the rest and what is new is placed as near and as cheaply as it
// goes, part by part, the earliest deadline first.
func FromStanding(p *instance.Instance) *instance.Solution {
	s := instance.NewSolution(p)
	in := &Inserter{S: s, By: instance.InOrder}
	var left []int
	kept := make([]bool, len(p.Parts))
	for _, i := range p.ByDeadline() {
		f, ok := p.StandingFrame(i)
		if !ok || !s.TakesFrame(&p.Parts[i], f) {
			continue
		}
		kept[i] = true
		s.SetFrame(i, f)
	}
	for _, i := range p.ByDeadline() {
		if !kept[i] {
			continue
		}
		for _, k := range p.Order(&p.Parts[i]) {
			if days, ok := p.StandingDays(k, s.Frames[i]); ok && s.Takes(k, days) {
				s.Place(k, days)
			} else {
				left = append(left, k)
			}
		}
	}
	for _, k := range left {
		in.Passage(k)
	}
	for _, i := range p.ByDeadline() {
		if !kept[i] {
			in.Part(i, 3, p.Order(&p.Parts[i]))
		}
	}
	return s
}
