package solver

import (
	"fmt"
	"math"
	"slices"

	"primaprova/solver/mip"
)

// definition is a variable that is as small as its rows let it be: the largest
// of its sums, and at least 0 if it is an excess.
type definition struct {
	v      mip.Var
	sums   []sum
	excess bool
}

// sum is Σ coef·variable + constant.
type sum struct {
	terms    []mip.Term
	constant float64
}

// plus adds coef times another sum. The receiver is not to be used again: the
// result may take its terms over.
func (s sum) plus(coef float64, o sum) sum {
	for _, t := range o.terms {
		s.terms = append(s.terms, mip.Term{Var: t.Var, Coef: coef * t.Coef})
	}
	s.constant += coef * o.constant
	return s
}

func (s sum) at(x []float64) float64 {
	v := s.constant
	for _, t := range s.terms {
		v += t.Coef * x[t.Var]
	}
	return v
}

// atMost adds the row s ≤ most, unless nothing can break it.
func (w *written) atMost(name string, s sum, most float64) {
	if w.largest(s) > most {
		w.m.Row(name, math.Inf(-1), most-s.constant, s.terms...)
	}
}

// largest gives what a sum cannot exceed, its variables' bounds considered and
// nothing else.
func (w *written) largest(s sum) float64 {
	coef := map[mip.Var]float64{}
	for _, t := range s.terms {
		coef[t.Var] += t.Coef
	}
	v := s.constant
	for x, c := range coef {
		v += c * w.bound(x, c > 0)
	}
	return v
}

func (w *written) bound(v mip.Var, upper bool) float64 {
	if upper {
		return w.m.Upper(v)
	}
	return w.m.Lower(v)
}

// excess gives max(0, the largest of the sums) as a variable with a row for
// each sum, or the constant 0 where none of them can rise above it.
func (w *written) excess(name string, sums ...sum) sum {
	sums = slices.DeleteFunc(sums, func(s sum) bool { return w.largest(s) <= 0 })
	if len(sums) == 0 {
		return sum{}
	}
	most := 0.0
	for _, s := range sums {
		most = max(most, w.largest(s))
	}
	v := w.m.Real(name, 0, most, 0)
	for n, s := range sums {
		row := name
		if len(sums) > 1 {
			row = fmt.Sprintf("%s.%d", name, n+1)
		}
		w.m.Row(row, s.constant, math.Inf(1), append([]mip.Term{{Var: v, Coef: 1}}, negated(s.terms)...)...)
	}
	w.defs = append(w.defs, definition{v, sums, true})
	return sum{terms: []mip.Term{{Var: v, Coef: 1}}}
}

// equal gives a variable that equals a sum which cannot fall below 0.
func (w *written) equal(name string, s sum) mip.Var {
	v := w.m.Real(name, 0, max(0, w.largest(s)), 0)
	w.m.Row(name, s.constant, s.constant, append([]mip.Term{{Var: v, Coef: 1}}, negated(s.terms)...)...)
	w.defs = append(w.defs, definition{v, []sum{s}, false})
	return v
}

func negated(terms []mip.Term) []mip.Term {
	out := make([]mip.Term, len(terms))
	for i, t := range terms {
		out[i] = mip.Term{Var: t.Var, Coef: -t.Coef}
	}
	return out
}
