package compact

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
	sums   []Sum
	excess bool
}

// Sum is Σ coef·variable + constant.
type Sum struct {
	Terms    []mip.Term
	Constant float64
}

// Plus adds coef times another sum. The receiver is not to be used again: the
// result may take its terms over.
func (s Sum) Plus(coef float64, o Sum) Sum {
	for _, t := range o.Terms {
		s.Terms = append(s.Terms, mip.Term{Var: t.Var, Coef: coef * t.Coef})
	}
	s.Constant += coef * o.Constant
	return s
}

func (s Sum) at(x []float64) float64 {
	v := s.Constant
	for _, t := range s.Terms {
		v += t.Coef * x[t.Var]
	}
	return v
}

// atMost adds the row s ≤ most, unless nothing can break it.
func (w *Program) atMost(name string, s Sum, most float64) {
	if w.largest(s) > most {
		w.M.Row(name, math.Inf(-1), most-s.Constant, s.Terms...)
	}
}

// largest gives what a sum cannot exceed, its variables' bounds considered and
// nothing else.
func (w *Program) largest(s Sum) float64 {
	coef := map[mip.Var]float64{}
	for _, t := range s.Terms {
		coef[t.Var] += t.Coef
	}
	v := s.Constant
	for x, c := range coef {
		v += c * w.bound(x, c > 0)
	}
	return v
}

func (w *Program) bound(v mip.Var, upper bool) float64 {
	if upper {
		return w.M.Upper(v)
	}
	return w.M.Lower(v)
}

// excess gives max(0, the largest of the sums) as a variable with a row for
// each sum, or the constant 0 where none of them can rise above it.
func (w *Program) excess(name string, sums ...Sum) Sum {
	sums = slices.DeleteFunc(sums, func(s Sum) bool { return w.largest(s) <= 0 })
	if len(sums) == 0 {
		return Sum{}
	}
	most := 0.0
	for _, s := range sums {
		most = max(most, w.largest(s))
	}
	v := w.M.Real(name, 0, most, 0)
	for n, s := range sums {
		row := name
		if len(sums) > 1 {
			row = fmt.Sprintf("%s.%d", name, n+1)
		}
		w.M.Row(row, s.Constant, math.Inf(1), append([]mip.Term{{Var: v, Coef: 1}}, negated(s.Terms)...)...)
	}
	w.defs = append(w.defs, definition{v, sums, true})
	return Sum{Terms: []mip.Term{{Var: v, Coef: 1}}}
}

// equal gives a variable that equals a sum which cannot fall below 0.
func (w *Program) equal(name string, s Sum) mip.Var {
	v := w.M.Real(name, 0, max(0, w.largest(s)), 0)
	w.M.Row(name, s.Constant, s.Constant, append([]mip.Term{{Var: v, Coef: 1}}, negated(s.Terms)...)...)
	w.defs = append(w.defs, definition{v, []Sum{s}, false})
	return v
}

func negated(terms []mip.Term) []mip.Term {
	out := make([]mip.Term, len(terms))
	for i, t := range terms {
		out[i] = mip.Term{Var: t.Var, Coef: -t.Coef}
	}
	return out
}
