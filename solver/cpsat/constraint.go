package cpsat

import (
	"slices"
)

// Field numbers of the kinds in ConstraintProto.
const (
	kindOr         = 3
	kindAnd        = 4
	kindLinear     = 12
	kindInterval   = 19
	kindNoOverlap  = 20
	kindAtMostOne  = 26
	kindExactlyOne = 29
)

type constraint struct {
	name string
	// when holds the literals that must all be true for it to bind, as wire
	// references, sorted.
	when []int32
	kind int
	// body is the encoded message of the kind. A constraint's contents never
	// change, so they are checked and written once, when it is added.
	body []byte
}

// Constraint is a handle on a constraint.
type Constraint struct {
	m *Model
	i int
}

// Named sets the constraint's name, which shows in logs and errors.
func (c Constraint) Named(name string) Constraint {
	if c.m != nil {
		c.m.checkText("a constraint's name", name)
		c.m.constraints[c.i].name = name
	}
	return c
}

// Name returns the constraint's name, or c and its number if it has none.
func (c Constraint) Name() string {
	if c.m == nil {
		return "no constraint"
	}
	return label("c", c.m.constraints[c.i].name, c.i)
}

// OnlyIf makes the constraint bind only where all the literals are true, on
// top of those it waits for already. An interval is not made optional this
// way: use OptionalInterval.
func (c Constraint) OnlyIf(literals ...Bool) Constraint {
	if c.m == nil {
		return c
	}
	its := &c.m.constraints[c.i]
	if its.kind == kindInterval {
		c.m.fail("constraint %s is an interval, which is made optional when it is added", c.Name())
		return c
	}
	refs := c.m.literals("constraint "+c.Name(), literals, anyNumber)
	its.when = sortedUnique(append(slices.Clone(its.when), refs...))
	return c
}

// Linear adds: the value of e is in the domain. An empty domain is never met.
func (m *Model) Linear(e Linear, in Domain) Constraint {
	what := "constraint " + label("c", "", len(m.constraints))
	sum := m.sum(what, e)
	return m.add(kindLinear, linearBody(sum.terms, in.shifted(sum.constant)))
}

// Equal adds a = b.
func (m *Model) Equal(a, b Linear) Constraint {
	return m.Linear(Sum(a).AddTerm(-1, b), Range(0, 0))
}

// AtMost adds a ≤ b.
func (m *Model) AtMost(a, b Linear) Constraint {
	return m.Linear(Sum(a).AddTerm(-1, b), UpTo(0))
}

// AtLeast adds a ≥ b.
func (m *Model) AtLeast(a, b Linear) Constraint { return m.AtMost(b, a) }

// Or adds: at least one literal is true. With none it is never met.
func (m *Model) Or(literals ...Bool) Constraint {
	return m.boolean(kindOr, literals, anyNumber)
}

// And adds: all literals are true.
func (m *Model) And(literals ...Bool) Constraint {
	return m.boolean(kindAnd, literals, anyNumber)
}

// Implies adds: if b is true, so are all the literals.
func (m *Model) Implies(b Bool, literals ...Bool) Constraint {
	return m.And(literals...).OnlyIf(b)
}

// AtMostOne adds: no two literals are true. Each may be given once.
func (m *Model) AtMostOne(literals ...Bool) Constraint {
	return m.boolean(kindAtMostOne, literals, unique)
}

// ExactlyOne adds: one literal is true and the others are false. Each may be
// given once; with none it is never met.
func (m *Model) ExactlyOne(literals ...Bool) Constraint {
	return m.boolean(kindExactlyOne, literals, unique)
}

func (m *Model) boolean(kind int, literals []Bool, times repeats) Constraint {
	what := "constraint " + label("c", "", len(m.constraints))
	return m.add(kind, appendPacked(nil, 1, m.literals(what, literals, times)))
}

func (m *Model) add(kind int, body []byte) Constraint {
	if m.full("constraints", len(m.constraints)) {
		return Constraint{}
	}
	m.constraints = append(m.constraints, constraint{kind: kind, body: body})
	return Constraint{m, len(m.constraints) - 1}
}

type repeats bool

const (
	anyNumber repeats = false
	unique    repeats = true
)

// literals checks literals and returns their sorted references. A repeated one
// is dropped, or a fault where it would change the meaning or hide a mistake.
func (m *Model) literals(what string, literals []Bool, times repeats) []int32 {
	refs := make([]int32, 0, len(literals))
	for _, b := range literals {
		if !m.owns(b.m, index(b.ref)) {
			return nil
		}
		if d := m.vars[index(b.ref)].domain; d.min() < 0 || d.max() > 1 {
			m.fail("%s: %v is no 0/1 variable", what, b)
			return nil
		}
		refs = append(refs, b.ref)
	}
	n := len(refs)
	refs = sortedUnique(refs)
	if times == unique && len(refs) < n {
		m.fail("%s: a literal is given twice", what)
	}
	return refs
}

// linear is a checked sum.
type linear struct {
	terms    []term
	constant int64
}

// sum checks that e belongs to m and that none of its partial sums can
// overflow, by the engine's own rule: with every variable at whichever of its
// sides, or left out, the sum stays within half of int64.
func (m *Model) sum(what string, e Linear) linear {
	expr := Sum(e)
	terms, fault := expr.canon()
	if fault == "" && expr.owner != nil && expr.owner != m {
		fault = "a variable of another model"
	}
	if fault != "" {
		m.fail("%s: %s", what, fault)
		return linear{}
	}
	var low, high int64
	for _, t := range terms {
		d := m.vars[t.v].domain
		a, okA := times(t.coef, d.min())
		b, okB := times(t.coef, d.max())
		low, okA = plusIf(okA && okB, low, min(a, b, 0))
		high, okB = plusIf(okA && okB, high, max(a, b, 0))
		if !okA || !okB || low < -half || high > half {
			m.fail("%s: its sum may leave -2^62 to 2^62, at %s", what, m.varLabel(t.v))
			return linear{}
		}
	}
	return linear{terms, expr.constant}
}

func plusIf(ok bool, a, b int64) (int64, bool) {
	if !ok {
		return 0, false
	}
	return plus(a, b)
}

// affine is sum for the places where the engine takes one variable at most.
func (m *Model) affine(what string, e Linear) linear {
	sum := m.sum(what, e)
	if len(sum.terms) > 1 {
		m.fail("%s: %d variables, where one is the most", what, len(sum.terms))
		return linear{}
	}
	if low, high, ok := m.reach(sum); !ok || low < -half || high > half {
		m.fail("%s: it may leave -2^62 to 2^62", what)
		return linear{}
	}
	return sum
}

// reach is the least and greatest value of a sum, and whether both fit.
func (m *Model) reach(s linear) (low, high int64, ok bool) {
	low, high, ok = s.constant, s.constant, true
	for _, t := range s.terms {
		d := m.vars[t.v].domain
		a, okA := times(t.coef, d.min())
		b, okB := times(t.coef, d.max())
		low, okA = plusIf(okA && okB, low, min(a, b))
		high, okB = plusIf(okA && okB, high, max(a, b))
		ok = ok && okA && okB
	}
	return low, high, ok
}

func sortedUnique(refs []int32) []int32 {
	slices.Sort(refs)
	return slices.Compact(refs)
}
