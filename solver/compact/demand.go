package compact

import "primaprova/solver/instance"

// WriteDemand states the rules of an instance as an integer program in which
// everything has to be placed. Nil where something has no day at all.
func WriteDemand(p *instance.Instance, ordered bool) *Program {
	w := WriteRules(p, ordered)
	if !w.MustStages() {
		return nil
	}
	for i := range w.Visits {
		for k := range w.Visits[i] {
			if !w.Must(&w.Visits[i][k]) {
				return nil
			}
		}
	}
	return w
}

// Must has something placed, and tells whether it has a day at all.
func (w *Program) Must(t *track) bool {
	if len(t.by) == 0 || t.by[len(t.by)-1] == instance.None {
		return false
	}
	w.M.SetBounds(t.by[len(t.by)-1], 1, 1)
	return true
}

// MustStages has all stages placed that are wanted.
func (w *Program) MustStages() bool {
	for i := range w.P.Parts {
		q := &w.P.Parts[i]
		for n, t := range [3]*track{&w.listen[i], &w.read[i], &w.rec[i]} {
			if [3]int{q.Listen, q.Read, q.Rec}[n] > 0 && !w.Must(t) {
				return false
			}
		}
	}
	return true
}
