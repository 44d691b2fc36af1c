package cpsat

import "math"

// objective is scale·(Σ terms + offset), whose bracket the engine minimises.
type objective struct {
	terms         []term
	offset, scale float64
}

// Minimize replaces the objective by the least value of e.
func (m *Model) Minimize(e Linear) { m.optimise(e, 1) }

// Maximize replaces the objective by the greatest value of e.
func (m *Model) Maximize(e Linear) { m.optimise(e, -1) }

// NoObjective removes the objective: any solution will do.
func (m *Model) NoObjective() { m.objective = nil }

// optimise minimises sign·e and has the engine show sign times that, which is e.
func (m *Model) optimise(e Linear, sign int64) {
	sum := m.sum("objective", Times(sign, e))
	if sum.constant > 1<<53 || sum.constant < -1<<53 {
		m.fail("objective: its constant %d is more than a float64 holds exactly", sum.constant)
	}
	m.objective = &objective{sum.terms, float64(sum.constant), float64(sign)}
}

// scaled sets the objective to scale·(Σ terms + offset), scale above 0.
func (m *Model) scaled(e Linear, offset, scale float64) {
	sum := m.sum("objective", e)
	offset += float64(sum.constant)
	if math.IsNaN(offset) || math.IsInf(offset, 0) || math.IsInf(scale, 0) || !(scale > 0) {
		m.fail("objective: %v·(sum + %v) is not finite", scale, offset)
	}
	m.objective = &objective{sum.terms, offset, scale}
}
