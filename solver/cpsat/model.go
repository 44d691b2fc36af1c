package cpsat

import (
	"fmt"
	"math"
	"unicode/utf8"
)

// Model is variables, constraints, an objective and hints. Make
// it with NewModel. It may be solved, changed and solved again. One goroutine
// builds it; while none changes it, many may solve it.
//
// Building methods return no errors. The first fault is kept, Err tells it, and
// Solve refuses a model that has one.
type Model struct {
	name        string
	err         error
	vars        []variable
	constraints []constraint
	objective   *objective
	hints       map[int32]int64
}

type variable struct {
	name   string
	domain Domain
}

// half bounds variables and sums. The engine refuses more, so that differences
// never overflow.
const half = math.MaxInt64 / 2

// NewModel returns an empty model. The name only shows in logs.
func NewModel(name string) *Model {
	m := &Model{name: name, hints: map[int32]int64{}}
	m.checkText("the model's name", name)
	return m
}

// Int is a handle on a whole variable.
type Int struct {
	m     *Model
	index int32
}

// Bool is a handle on a literal: a 0/1 variable, or 1 minus one.
type Bool struct {
	m *Model
	// ref is the variable's index, or -index-1 for its negation, as on the wire.
	ref int32
}

// NewInt adds a variable with values in domain, whose sides must lie within
// half of int64; the engine refuses a model whose bounds summed don't fit one
// either. The name only shows in logs and errors, and may be empty.
func (m *Model) NewInt(name string, domain Domain) Int {
	switch {
	case domain.Empty():
		m.fail("variable %s: its domain is empty", label("v", name, len(m.vars)))
		domain = Range(0, 0)
	case domain.min() < -half || domain.max() > half:
		m.fail("variable %s: %d to %d does not lie within -2^62 and 2^62: give it finite sides",
			label("v", name, len(m.vars)), domain.min(), domain.max())
		domain = Range(0, 0)
	}
	if m.full("variables", len(m.vars)) {
		return Int{m, 0}
	}
	m.checkText("a variable's name", name)
	m.vars = append(m.vars, variable{name, domain})
	return Int{m, int32(len(m.vars) - 1)}
}

// NewBool adds a 0/1 variable.
func (m *Model) NewBool(name string) Bool {
	return Bool{m, m.NewInt(name, Range(0, 1)).index}
}

// Var returns variable i, counted from 0 in order of insertion.
func (m *Model) Var(i int) Int {
	if i < 0 || i >= len(m.vars) {
		m.fail("variable %d is not in the model, which has %d", i, len(m.vars))
		return Int{}
	}
	return Int{m, int32(i)}
}

// Not is the negation of b.
func (b Bool) Not() Bool { return Bool{b.m, -b.ref - 1} }

// Int is the variable of b, whichever way round b is.
func (b Bool) Int() Int { return Int{b.m, index(b.ref)} }

// Negated reports whether b is 1 minus its variable.
func (b Bool) Negated() bool { return b.ref < 0 }

// String is the variable's name, with "not" before it if negated.
func (b Bool) String() string {
	if b.m == nil {
		return "no variable"
	}
	if b.ref < 0 {
		return "not " + b.m.varLabel(-b.ref-1)
	}
	return b.m.varLabel(b.ref)
}

// String is the variable's name.
func (x Int) String() string {
	if x.m == nil {
		return "no variable"
	}
	return x.m.varLabel(x.index)
}

// Hint suggests a value for x, replacing an earlier one. A hint guides the
// search and binds nothing; one that satisfies every constraint is found at once.
func (m *Model) Hint(x Int, value int64) {
	if m.owns(x.m, x.index) {
		m.hints[x.index] = value
	}
}

// Err returns the first fault met while building, or nil.
func (m *Model) Err() error { return m.err }

func (m *Model) fail(format string, args ...any) {
	if m.err == nil {
		m.err = fmt.Errorf("cpsat: "+format, args...)
	}
}

// full guards the 32 bits that the wire has for an index.
func (m *Model) full(what string, n int) bool {
	if n >= math.MaxInt32 {
		m.fail("more than %d %s", math.MaxInt32, what)
		return true
	}
	return false
}

// owns reports whether index i of model of is one of m's variables.
func (m *Model) owns(of *Model, i int32) bool {
	switch {
	case of == nil:
		m.fail("a variable of no model is used")
	case of != m:
		m.fail("variable %s belongs to another model", of.varLabel(i))
	default:
		return true
	}
	return false
}

// checkText guards against text that is not UTF-8: the engine cannot parse it,
// and aborts.
func (m *Model) checkText(what, text string) {
	if !utf8.ValidString(text) {
		m.fail("%s is not UTF-8: %q", what, text)
	}
}

func (m *Model) varLabel(i int32) string { return label("v", m.vars[i].name, int(i)) }

// label is a name, or kind and number where there is none.
func label(kind, name string, n int) string {
	if name != "" {
		return name
	}
	return fmt.Sprintf("%s%d", kind, n)
}

// index is the variable of a literal reference.
func index(ref int32) int32 {
	if ref < 0 {
		return -ref - 1
	}
	return ref
}

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
