package cpsat

import "math"

// objective is (Σ terms + offset)/per, whose bracket the engine minimises.
type objective struct {
	terms  []term
	offset float64
	per    int64 // above 0
}

// Minimize replaces the objective by the least value of e.
func (m *Model) Minimize(e Linear) {
	sum := m.sum("objective", e)
	if sum.constant > 1<<53 || sum.constant < -1<<53 {
		m.fail("objective: its constant %d is more than a float64 holds exactly", sum.constant)
	}
	m.objective = &objective{sum.terms, float64(sum.constant), 1}
}

// minimizePer sets the objective to (e + offset)/per.
func (m *Model) minimizePer(e Linear, offset float64, per int64) {
	sum := m.sum("objective", e)
	offset += float64(sum.constant)
	if math.IsNaN(offset) || math.IsInf(offset, 0) {
		m.fail("objective: its constant %v is not finite", offset)
	}
	m.objective = &objective{sum.terms, offset, per}
}

// factor is the engine's scaling_factor.
func (o *objective) factor() float64 { return 1 / float64(o.per) }

// shown is the value to show where the terms sum to inner. The engine shows
// objective and bound as well, but after dividing by numbers of its own: a
// proven 1 may read 0.9999999999999998. Its whole numbers are exact.
func (o *objective) shown(inner int64) float64 {
	return (float64(inner) + o.offset) / float64(o.per)
}

// inner is the sum of the terms at values, whose sums m.sum has found safe.
func (o *objective) inner(values []int64) (sum int64) {
	for _, t := range o.terms {
		sum += t.coef * values[t.v]
	}
	return sum
}
