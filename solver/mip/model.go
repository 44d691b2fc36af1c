// Package mip is a small builder for mixed-integer linear programs:
//
//	minimise    offset + Σ cost(v)·x(v)
//	subject to  lo(r) ≤ Σ coef(r,v)·x(v) ≤ hi(r)    for every row r
//	            lo(v) ≤ x(v) ≤ hi(v)                for every variable v
//	            x(v) whole                          where v is Bool or Integer
//
// It holds variables, rows, the objective and their names, checks a point
// against them, and writes MPS. It knows no engine and no music, and imports
// the standard library only: bindings take a Model and hand it over, packages
// above say what its variables mean.
//
// A Model is built by one goroutine. Once built it may be read by many, since
// no reading method changes it.
package mip

import (
	"fmt"
	"math"
)

// Var is a variable's place in its model, counted from 0 in order of insertion.
type Var int32

// Row is a row's place in its model, counted from 0 in order of insertion.
type Row int32

// Term is one coefficient of a row.
type Term struct {
	Var  Var
	Coef float64
}

// Model is one program. Make it with New.
type Model struct {
	name   string
	offset float64
	err    error

	lower, upper, cost []float64
	integer            []bool
	varName            []string

	rowLower, rowUpper []float64
	rowName            []string
	terms              [][]Term
	// doubled marks the rows that AddTerm may have given the same variable
	// twice. Finding out at once would make AddTerm search the row.
	doubled []bool

	// stamp and slot let Row sum repeated variables without a map: stamp[v]
	// is 1 + the last row that used v, slot[v] the place of v in that row.
	stamp, slot []int32
}

// New returns an empty model. The name goes into MPS only and may be empty.
func New(name string) *Model { return &Model{name: name} }

// Bool adds a variable that is 0 or 1. An empty name costs no memory; MPS then
// calls the variable x and its number.
func (m *Model) Bool(name string, cost float64) Var {
	return m.add(name, 0, 1, cost, true)
}

// Integer adds a whole variable with lo ≤ x ≤ hi; either side may be infinite.
func (m *Model) Integer(name string, lo, hi, cost float64) Var {
	return m.add(name, lo, hi, cost, true)
}

// Real adds a continuous variable with lo ≤ x ≤ hi; either side may be infinite.
func (m *Model) Real(name string, lo, hi, cost float64) Var {
	return m.add(name, lo, hi, cost, false)
}

func (m *Model) add(name string, lo, hi, cost float64, integer bool) Var {
	v := Var(len(m.cost))
	m.lower = append(m.lower, lo)
	m.upper = append(m.upper, hi)
	m.cost = append(m.cost, cost)
	m.integer = append(m.integer, integer)
	m.varName = append(m.varName, name)
	m.stamp = append(m.stamp, 0)
	m.slot = append(m.slot, 0)
	m.checkVar(v)
	return v
}

// Row adds lo ≤ Σ terms ≤ hi, where a side may be infinite. A variable that
// occurs more than once has its coefficients summed. The terms are copied.
func (m *Model) Row(name string, lo, hi float64, terms ...Term) Row {
	r := Row(len(m.terms))
	m.rowLower = append(m.rowLower, lo)
	m.rowUpper = append(m.rowUpper, hi)
	m.rowName = append(m.rowName, name)
	m.doubled = append(m.doubled, false)
	kept := make([]Term, 0, len(terms))
	for _, t := range terms {
		if !m.checkTerm(r, t) {
			continue
		}
		if m.stamp[t.Var] == int32(r)+1 {
			kept[m.slot[t.Var]].Coef += t.Coef
			continue
		}
		m.stamp[t.Var], m.slot[t.Var] = int32(r)+1, int32(len(kept))
		kept = append(kept, t)
	}
	m.terms = append(m.terms, kept)
	m.checkRow(r)
	return r
}

// AddTerm adds coef·v to row r, on top of what the row has of v already.
func (m *Model) AddTerm(r Row, v Var, coef float64) {
	t := Term{v, coef}
	if !m.hasRow(r) || !m.checkTerm(r, t) {
		return
	}
	m.terms[r] = append(m.terms[r], t)
	m.doubled[r] = true
}

// SetCost replaces the cost of v.
func (m *Model) SetCost(v Var, cost float64) {
	if m.hasVar(v) {
		m.cost[v] = cost
		m.checkVar(v)
	}
}

// SetBounds replaces the bounds of v. Equal bounds fix it.
func (m *Model) SetBounds(v Var, lo, hi float64) {
	if m.hasVar(v) {
		m.lower[v], m.upper[v] = lo, hi
		m.checkVar(v)
	}
}

// SetRow replaces the sides of row r.
func (m *Model) SetRow(r Row, lo, hi float64) {
	if m.hasRow(r) {
		m.rowLower[r], m.rowUpper[r] = lo, hi
		m.checkRow(r)
	}
}

// SetOffset sets the constant of the objective.
func (m *Model) SetOffset(c float64) {
	if !finite(c) {
		m.fail("the objective's offset is %v, not a number to add", c)
		return
	}
	m.offset = c
}

// Err returns the first fault met while building: a bound, side, cost or
// coefficient that is no usable number, a lower side above its upper one, or a
// variable or row that is not in the model. A model with a fault must not be
// solved.
func (m *Model) Err() error { return m.err }

func (m *Model) fail(format string, args ...any) {
	if m.err == nil {
		m.err = fmt.Errorf("mip: "+format, args...)
	}
}

func (m *Model) hasVar(v Var) bool {
	if v < 0 || int(v) >= len(m.cost) {
		m.fail("variable %d is not in the model, which has %d", v, len(m.cost))
		return false
	}
	return true
}

func (m *Model) hasRow(r Row) bool {
	if r < 0 || int(r) >= len(m.terms) {
		m.fail("row %d is not in the model, which has %d", r, len(m.terms))
		return false
	}
	return true
}

func (m *Model) checkVar(v Var) {
	if !finite(m.cost[v]) {
		m.fail("variable %s: cost %v is not a finite number", m.Name(v), m.cost[v])
	}
	if !ordered(m.lower[v], m.upper[v]) {
		m.fail("variable %s: no value lies between %v and %v", m.Name(v), m.lower[v], m.upper[v])
	}
}

func (m *Model) checkRow(r Row) {
	if !ordered(m.rowLower[r], m.rowUpper[r]) {
		m.fail("row %s: no value lies between %v and %v", m.RowName(r), m.rowLower[r], m.rowUpper[r])
	}
}

func (m *Model) checkTerm(r Row, t Term) bool {
	if t.Var < 0 || int(t.Var) >= len(m.cost) {
		m.fail("row %s: variable %d is not in the model, which has %d", m.RowName(r), t.Var, len(m.cost))
		return false
	}
	if !finite(t.Coef) {
		m.fail("row %s: coefficient %v of %s is not a finite number", m.RowName(r), t.Coef, m.Name(t.Var))
		return false
	}
	return true
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// ordered reports whether some finite value can lie in lo..hi. NaN never can.
func ordered(lo, hi float64) bool {
	return lo <= hi && !math.IsInf(lo, 1) && !math.IsInf(hi, -1)
}
