package cpsat

import (
	"cmp"
	"math"
	"slices"
)

// Linear is what can stand in a sum: an Int, a Bool, a Const or an *Expr.
type Linear interface {
	// addTo adds coef times the receiver to e.
	addTo(e *Expr, coef int64)
}

// Const is a number in a sum.
type Const int64

// Expr is constant + Σ coefficient·variable. Its methods change it and return
// it, so that they chain; a faulty term is kept until the Expr is used.
type Expr struct {
	terms    []term
	constant int64
	owner    *Model
	fault    string
}

type term struct {
	v    int32
	coef int64
}

// Sum returns the sum of parts as a new Expr.
func Sum(parts ...Linear) *Expr { return new(Expr).Add(parts...) }

// Times returns coef·x as a new Expr.
func Times(coef int64, x Linear) *Expr { return new(Expr).AddTerm(coef, x) }

// Add adds parts to e.
func (e *Expr) Add(parts ...Linear) *Expr {
	for _, p := range parts {
		e.AddTerm(1, p)
	}
	return e
}

// AddTerm adds coef·x to e.
func (e *Expr) AddTerm(coef int64, x Linear) *Expr {
	if x == nil {
		e.fail("a part of a sum is nil")
		return e
	}
	x.addTo(e, coef)
	return e
}

func (c Const) addTo(e *Expr, coef int64) { e.addConst(coef, int64(c)) }

func (x Int) addTo(e *Expr, coef int64) { e.addVar(x.m, x.index, coef) }

// A negated literal is 1 - x: the engine takes negative references only where
// it expects literals, never in sums.
func (b Bool) addTo(e *Expr, coef int64) {
	if b.ref >= 0 {
		e.addVar(b.m, b.ref, coef)
		return
	}
	minus, ok := times(coef, -1)
	if !ok {
		e.fail("a coefficient overflows")
		return
	}
	e.addConst(coef, 1)
	e.addVar(b.m, -b.ref-1, minus)
}

func (e *Expr) addTo(to *Expr, coef int64) {
	if e == nil {
		to.fail("a part of a sum is nil")
		return
	}
	if e.fault != "" {
		to.fail(e.fault)
		return
	}
	// Counted first, so that adding an Expr to itself ends.
	terms, constant := e.terms[:len(e.terms):len(e.terms)], e.constant
	for _, t := range terms {
		product, ok := times(t.coef, coef)
		if !ok {
			to.fail("a coefficient overflows")
			return
		}
		to.addVar(e.owner, t.v, product)
	}
	to.addConst(coef, constant)
}

func (e *Expr) addVar(m *Model, v int32, coef int64) {
	switch {
	case m == nil:
		e.fail("a variable of no model")
	case e.owner != nil && e.owner != m:
		e.fail("variables of two models in one sum")
	default:
		e.owner = m
		e.terms = append(e.terms, term{v, coef})
	}
}

func (e *Expr) addConst(a, b int64) {
	product, ok := times(a, b)
	if ok {
		product, ok = plus(e.constant, product)
	}
	if !ok {
		e.fail("the constant overflows")
		return
	}
	e.constant = product
}

func (e *Expr) fail(text string) {
	if e.fault == "" {
		e.fault = text
	}
}

// canon returns the terms by rising variable, each once, none zero: the bytes
// must not depend on the order in which a sum was written down.
func (e *Expr) canon() (terms []term, fault string) {
	if e.fault != "" {
		return nil, e.fault
	}
	sorted := slices.Clone(e.terms)
	slices.SortFunc(sorted, func(a, b term) int {
		return cmp.Or(cmp.Compare(a.v, b.v), cmp.Compare(a.coef, b.coef))
	})
	for _, t := range sorted {
		if n := len(terms); n > 0 && terms[n-1].v == t.v {
			sum, ok := plus(terms[n-1].coef, t.coef)
			if !ok {
				return nil, "a coefficient overflows"
			}
			terms[n-1].coef = sum
			continue
		}
		terms = append(terms, t)
	}
	return slices.DeleteFunc(terms, func(t term) bool { return t.coef == 0 }), ""
}

func plus(a, b int64) (int64, bool) {
	s := a + b
	return s, (s > a) == (b > 0)
}

func times(a, b int64) (int64, bool) {
	if a == 0 || b == 0 {
		return 0, true
	}
	p := a * b
	return p, p/b == a && !(a == -1 && b == math.MinInt64) && !(b == -1 && a == math.MinInt64)
}
