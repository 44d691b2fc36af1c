package solver

// fromStanding begins with the standing plan: whatever of it can stay where it
// stands does, the rest and what is new is placed as near and as cheaply as it
// goes, part by part, the earliest deadline first.
func fromStanding(p *problem) *state {
	s := newState(p)
	in := &inserter{s: s, by: inOrder}
	var left []int
	kept := make([]bool, len(p.parts))
	for _, i := range p.byDeadline() {
		f, ok := p.standingFrame(i)
		if !ok || !s.takesFrame(&p.parts[i], f) {
			continue
		}
		kept[i] = true
		s.setFrame(i, f)
	}
	for _, i := range p.byDeadline() {
		if !kept[i] {
			continue
		}
		for _, k := range p.order(&p.parts[i]) {
			if days, ok := p.standingDays(k, s.frames[i]); ok && s.takes(k, days) {
				s.place(k, days)
			} else {
				left = append(left, k)
			}
		}
	}
	for _, k := range left {
		in.passage(k)
	}
	for _, i := range p.byDeadline() {
		if !kept[i] {
			in.part(i, 3, p.order(&p.parts[i]))
		}
	}
	return s
}
