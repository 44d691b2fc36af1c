package cpsat

import (
	"fmt"
	"math"

	"primaprova/solver/mip"
)

// MIPOption is something the caller of FromMIP knows about the program and
// this package cannot find out.
type MIPOption func(*mipReader)

// WholeReals takes continuous variables as whole ones. CP-SAT has no others.
//
// This is right only where some best solution has whole values for them: say,
// minutes over a cap, where all coefficients and sides of their rows are whole,
// so that with the whole variables fixed each is the larger of some whole
// numbers. In general the result is a narrower program: its solutions are valid,
// its bounds and its "infeasible" are not. Nothing here can tell the two cases apart, so the
// caller has to.
func WholeReals() MIPOption { return func(r *mipReader) { r.wholeReals = true } }

type mipReader struct {
	from       *mip.Model
	to         *Model
	wholeReals bool
}

// FromMIP converts an integer program. Variable v becomes Model.Var(int(v)),
// row r the constraint after r others; the objective keeps its unit.
//
// CP-SAT computes in whole numbers, so each row, and the objective, is
// multiplied by the least number, at most 1,000,000, that makes its
// coefficients whole. A float64 is taken for the fraction with the smallest
// denominator up to 1,000,000 that rounds to it: 0.1 means 1/10. Nothing is ever
// rounded but a side of a row whose sum is whole, which moves inwards to the
// next whole number and cuts off nothing.
//
// It is an error, with the name of the row or variable, if there is no such
// multiplier, if a variable is continuous (see WholeReals) or has no side, or if
// the program itself has a fault.
func FromMIP(p *mip.Model, options ...MIPOption) (*Model, error) {
	if err := p.Err(); err != nil {
		return nil, err
	}
	r := mipReader{from: p, to: NewModel(p.Title())}
	for _, o := range options {
		o(&r)
	}
	var empty []mip.Var
	for i := range p.Vars() {
		v := mip.Var(i)
		ok, err := r.variable(v)
		if err != nil {
			return nil, err
		}
		if !ok {
			empty = append(empty, v)
		}
	}
	for i := range p.Rows() {
		if err := r.row(mip.Row(i)); err != nil {
			return nil, err
		}
	}
	// After the rows, so that these keep their numbers.
	for _, v := range empty {
		r.to.Or().Named(p.Name(v))
	}
	if err := r.objective(); err != nil {
		return nil, err
	}
	return r.to, r.to.Err()
}

// variable adds v. ok is false if no whole number lies between its sides, which
// makes the program infeasible rather than faulty.
func (r *mipReader) variable(v mip.Var) (ok bool, err error) {
	name := r.from.Name(v)
	if !r.from.IsInteger(v) && !r.wholeReals {
		return false, fmt.Errorf("cpsat: variable %s is continuous, which CP-SAT cannot have", name)
	}
	lo, hi := r.from.Lower(v), r.from.Upper(v)
	lo, hi = math.Ceil(lo), math.Floor(hi)
	if lo < -1<<62 || hi > 1<<62 {
		return false, fmt.Errorf("cpsat: variable %s lies in %g to %g, and CP-SAT needs sides within 2^62",
			name, r.from.Lower(v), r.from.Upper(v))
	}
	if lo > hi {
		r.to.NewInt(name, Range(0, 0))
		return false, nil
	}
	// A float64 near 2^62 may be 2^62 itself, one more than there may be.
	r.to.NewInt(name, Range(max(int64(lo), -half), min(int64(hi), half)))
	return true, nil
}

func (r *mipReader) row(row mip.Row) error {
	terms := r.from.Terms(row)
	coefs := make([]float64, len(terms))
	for i, t := range terms {
		coefs[i] = t.Coef
	}
	whole, scale, ok := wholes(coefs)
	if !ok {
		return fmt.Errorf("cpsat: row %s: no multiplier up to %d makes its coefficients whole",
			r.from.RowName(row), largestScale)
	}
	sum := Sum()
	for i, t := range terms {
		sum.AddTerm(whole[i], r.to.Var(int(t.Var)))
	}
	in := Range(side(r.from.RowLower(row), scale, true), side(r.from.RowUpper(row), scale, false))
	// The error would name the row by number only.
	r.to.Linear(sum, in).Named(r.from.RowName(row))
	if err := r.to.Err(); err != nil {
		return fmt.Errorf("row %s: %w", r.from.RowName(row), err)
	}
	return nil
}

func (r *mipReader) objective() error {
	costs := r.from.Costs()
	whole, scale, ok := wholes(costs)
	if !ok {
		return fmt.Errorf("cpsat: objective: no multiplier up to %d makes its costs whole", largestScale)
	}
	sum := Sum()
	for i, c := range whole {
		if c != 0 {
			sum.AddTerm(c, r.to.Var(i))
		}
	}
	if len(sum.terms) > 0 || r.from.Offset() != 0 {
		r.to.minimizePer(sum, float64(scale)*r.from.Offset(), scale)
	}
	return r.to.Err()
}
