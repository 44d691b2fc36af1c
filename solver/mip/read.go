package mip

import (
	"fmt"
	"math"
	"slices"
	"strconv"
)

// Title returns the model's name.
func (m *Model) Title() string { return m.name }

// Vars returns the number of variables.
func (m *Model) Vars() int { return len(m.cost) }

// Rows returns the number of rows.
func (m *Model) Rows() int { return len(m.terms) }

// Offset returns the constant of the objective.
func (m *Model) Offset() float64 { return m.offset }

// Lower returns the least value of v, Inf(-1) if there is none.
func (m *Model) Lower(v Var) float64 { return m.lower[v] }

// Upper returns the greatest value of v, Inf(1) if there is none.
func (m *Model) Upper(v Var) float64 { return m.upper[v] }

// Cost returns what one unit of v costs.
func (m *Model) Cost(v Var) float64 { return m.cost[v] }

// IsInteger reports whether v must be whole.
func (m *Model) IsInteger(v Var) bool { return m.integer[v] }

// HasIntegers reports whether any variable must be whole.
func (m *Model) HasIntegers() bool { return slices.Contains(m.integer, true) }

// Name returns the name of v, or x and its number if it was given none.
func (m *Model) Name(v Var) string {
	if n := m.varName[v]; n != "" {
		return n
	}
	return "x" + strconv.Itoa(int(v))
}

// RowLower returns the lower side of r, Inf(-1) if there is none.
func (m *Model) RowLower(r Row) float64 { return m.rowLower[r] }

// RowUpper returns the upper side of r, Inf(1) if there is none.
func (m *Model) RowUpper(r Row) float64 { return m.rowUpper[r] }

// RowName returns the name of r, or r and its number if it was given none.
func (m *Model) RowName(r Row) string {
	if n := m.rowName[r]; n != "" {
		return n
	}
	return "r" + strconv.Itoa(int(r))
}

// Terms returns the coefficients of row r, each variable once, in the order
// they were given. Do not write to the slice: it may be the model's own.
func (m *Model) Terms(r Row) []Term {
	if !m.doubled[r] {
		return m.terms[r]
	}
	at := make(map[Var]int, len(m.terms[r]))
	sum := make([]Term, 0, len(m.terms[r]))
	for _, t := range m.terms[r] {
		if i, ok := at[t.Var]; ok {
			sum[i].Coef += t.Coef
			continue
		}
		at[t.Var] = len(sum)
		sum = append(sum, t)
	}
	return sum
}

// Bounds returns copies of all lower and upper bounds, by variable.
func (m *Model) Bounds() (lower, upper []float64) {
	return slices.Clone(m.lower), slices.Clone(m.upper)
}

// Costs returns a copy of all costs, by variable.
func (m *Model) Costs() []float64 { return slices.Clone(m.cost) }

// Sides returns copies of all lower and upper sides, by row.
func (m *Model) Sides() (lower, upper []float64) {
	return slices.Clone(m.rowLower), slices.Clone(m.rowUpper)
}

// Columns returns the matrix by columns, as engines want it: the coefficients
// of variable v are value[start[v]:start[v+1]], in the rows
// index[start[v]:start[v+1]], which rise. Zeros are left out.
func (m *Model) Columns() (start, index []int32, value []float64) {
	n := len(m.cost)
	start = make([]int32, n+1)
	for r := range m.terms {
		for _, t := range m.Terms(Row(r)) {
			if t.Coef != 0 {
				start[t.Var+1]++
			}
		}
	}
	for v := range n {
		start[v+1] += start[v]
	}
	index = make([]int32, start[n])
	value = make([]float64, start[n])
	next := slices.Clone(start[:n])
	for r := range m.terms {
		for _, t := range m.Terms(Row(r)) {
			if t.Coef != 0 {
				at := next[t.Var]
				next[t.Var]++
				index[at], value[at] = int32(r), t.Coef
			}
		}
	}
	return start, index, value
}

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
