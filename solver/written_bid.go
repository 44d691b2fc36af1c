package solver

// writeBid states the rules of a problem as an integer program in which
// everything has to be placed. Nil where something has no day at all.
func (p *problem) writeBid(ordered bool) *written {
	w := p.writeRules(ordered)
	if !w.mustStages() {
		return nil
	}
	for i := range w.visits {
		for k := range w.visits[i] {
			if !w.must(&w.visits[i][k]) {
				return nil
			}
		}
	}
	return w
}

// must has something placed, and tells whether it has a day at all.
func (w *written) must(t *track) bool {
	if len(t.by) == 0 || t.by[len(t.by)-1] == none {
		return false
	}
	w.m.SetBounds(t.by[len(t.by)-1], 1, 1)
	return true
}

// mustStages has all stages placed that are wanted.
func (w *written) mustStages() bool {
	for i := range w.p.parts {
		q := &w.p.parts[i]
		for n, t := range [3]*track{&w.listen[i], &w.read[i], &w.rec[i]} {
			if [3]int{q.listen, q.read, q.rec}[n] > 0 && !w.must(t) {
				return false
			}
		}
	}
	return true
}
