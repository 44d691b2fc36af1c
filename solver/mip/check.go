package mip

import (
	"fmt"
	"math"
)

// Value returns the objective at x, which has one entry for each variable.
func (m *Model) Value(x []float64) float64 {
	sum := m.offset
	for v, c := range m.cost {
		sum += c * x[v]
	}
	return sum
}

// Activity returns Σ coef·x of row r at x.
func (m *Model) Activity(r Row, x []float64) float64 {
	var sum float64
	for _, t := range m.terms[r] {
		sum += t.Coef * x[t.Var]
	}
	return sum
}

// Violation returns the greatest amount, in absolute terms, by which x breaks
// a bound, a row or a whole variable, and says which by name. It returns 0 and
// "" if x breaks nothing, and +Inf if x is no point of this model. The engine
// has no part in it, so it can judge the engine.
func (m *Model) Violation(x []float64) (worst float64, what string) {
	if len(x) != len(m.cost) {
		return math.Inf(1), fmt.Sprintf("the point has %d values, the model %d variables", len(x), len(m.cost))
	}
	for i, value := range x {
		v := Var(i)
		if !finite(value) {
			return math.Inf(1), fmt.Sprintf("variable %s is %v", m.Name(v), value)
		}
		if by := outside(value, m.lower[v], m.upper[v]); by > worst {
			worst = by
			what = fmt.Sprintf("variable %s is %g, outside %g to %g", m.Name(v), value, m.lower[v], m.upper[v])
		}
		if by := math.Abs(value - math.Round(value)); m.integer[v] && by > worst {
			worst = by
			what = fmt.Sprintf("variable %s is %g, not whole", m.Name(v), value)
		}
	}
	for i := range m.terms {
		r := Row(i)
		value := m.Activity(r, x)
		if by := outside(value, m.rowLower[r], m.rowUpper[r]); by > worst {
			worst = by
			what = fmt.Sprintf("row %s is %g, outside %g to %g", m.RowName(r), value, m.rowLower[r], m.rowUpper[r])
		}
	}
	return worst, what
}

func outside(x, lo, hi float64) float64 { return max(lo-x, x-hi, 0) }
