package highs

import (
	"errors"
	"fmt"
	"runtime"
	"slices"
)

// Columns is a number of new columns for an LP. Column j's coefficients are
// Value[Start[j]:Start[j+1]], in the rows Index[Start[j]:Start[j+1]], each row
// at most once. Start has one entry more than there are columns.
type Columns struct {
	Cost, Lower, Upper []float64
	Start, Index       []int32
	Value              []float64
}

// Add appends one column to the batch.
func (c *Columns) Add(cost, lower, upper float64, rows []int32, values []float64) {
	if len(c.Start) == 0 {
		c.Start = append(c.Start, 0)
	}
	c.Cost, c.Lower, c.Upper = append(c.Cost, cost), append(c.Lower, lower), append(c.Upper, upper)
	c.Index, c.Value = append(c.Index, rows...), append(c.Value, values...)
	c.Start = append(c.Start, int32(len(c.Index)))
}

// AddCols appends columns, outside the basis. They are numbered on from Cols().
func (p *LP) AddCols(c *Columns) error {
	n := len(c.Cost)
	if err := errors.Join(p.want(len(c.Lower), n, "columns"), p.want(len(c.Upper), n, "columns"),
		p.wantMatrix(n, p.rows, c.Start, c.Index, c.Value)); err != nil || n == 0 {
		return err
	}
	code := p.l.c.addCols(p.h, int32(n), first(c.Cost), first(c.Lower), first(c.Upper),
		int32(len(c.Value)), first(c.Start), first(c.Index), first(c.Value))
	runtime.KeepAlive(c)
	if err := ok("Highs_addCols", code, n, " columns"); err != nil {
		return err
	}
	p.cols += n
	return nil
}

// Rows is a number of new rows for an LP, stored as Columns is, with the
// columns' numbers in Index.
type Rows struct {
	Lower, Upper []float64
	Start, Index []int32
	Value        []float64
}

// Add appends one row to the batch.
func (r *Rows) Add(lower, upper float64, cols []int32, values []float64) {
	if len(r.Start) == 0 {
		r.Start = append(r.Start, 0)
	}
	r.Lower, r.Upper = append(r.Lower, lower), append(r.Upper, upper)
	r.Index, r.Value = append(r.Index, cols...), append(r.Value, values...)
	r.Start = append(r.Start, int32(len(r.Index)))
}

// AddRows appends rows, in the basis: what they cut off, the next run repairs.
func (p *LP) AddRows(r *Rows) error {
	n := len(r.Lower)
	if err := errors.Join(p.want(len(r.Upper), n, "rows"),
		p.wantMatrix(n, p.cols, r.Start, r.Index, r.Value)); err != nil || n == 0 {
		return err
	}
	code := p.l.c.addRows(p.h, int32(n), first(r.Lower), first(r.Upper),
		int32(len(r.Value)), first(r.Start), first(r.Index), first(r.Value))
	runtime.KeepAlive(r)
	if err := ok("Highs_addRows", code, n, " rows"); err != nil {
		return err
	}
	p.rows += n
	return nil
}

// wantMatrix keeps the engine from reading beyond a slice. It looks for
// repeated entries itself.
func (p *LP) wantMatrix(n, size int, start, index []int32, value []float64) error {
	if p.h == 0 {
		return errClosed
	}
	if n == 0 && len(value) == 0 {
		return nil
	}
	if len(start) != n+1 || start[0] != 0 || int(start[n]) != len(index) || len(index) != len(value) || !slices.IsSorted(start) {
		return fmt.Errorf("highs: start, index and value of %d columns or rows do not fit together", n)
	}
	return p.wantSet(index, size)
}

func (p *LP) wantSet(set []int32, size int) error {
	if p.h == 0 {
		return errClosed
	}
	for _, i := range set {
		if i < 0 || int(i) >= size {
			return fmt.Errorf("highs: %d is outside 0 to %d", i, size-1)
		}
	}
	return nil
}

// ChangeCosts replaces the costs of some columns.
func (p *LP) ChangeCosts(cols []int32, cost []float64) error {
	if err := errors.Join(p.wantSet(cols, p.cols), p.want(len(cost), len(cols), "columns")); err != nil || len(cols) == 0 {
		return err
	}
	code := p.l.c.changeColsCostBySet(p.h, int32(len(cols)), first(cols), first(cost))
	runtime.KeepAlive(cols)
	runtime.KeepAlive(cost)
	return ok("Highs_changeColsCostBySet", code)
}

// ChangeBounds replaces the bounds of some columns. Bounds of 0 and 0 take a
// column out and leave the basis as it is.
func (p *LP) ChangeBounds(cols []int32, lower, upper []float64) error {
	if err := errors.Join(p.wantSet(cols, p.cols), p.want(len(lower), len(cols), "columns"),
		p.want(len(upper), len(cols), "columns")); err != nil || len(cols) == 0 {
		return err
	}
	code := p.l.c.changeColsBoundsBySet(p.h, int32(len(cols)), first(cols), first(lower), first(upper))
	runtime.KeepAlive(cols)
	runtime.KeepAlive(lower)
	runtime.KeepAlive(upper)
	return ok("Highs_changeColsBoundsBySet", code)
}

// ChangeSides replaces the sides of some rows.
func (p *LP) ChangeSides(rows []int32, lower, upper []float64) error {
	if err := errors.Join(p.wantSet(rows, p.rows), p.want(len(lower), len(rows), "rows"),
		p.want(len(upper), len(rows), "rows")); err != nil || len(rows) == 0 {
		return err
	}
	code := p.l.c.changeRowsBoundsBySet(p.h, int32(len(rows)), first(rows), first(lower), first(upper))
	runtime.KeepAlive(rows)
	runtime.KeepAlive(lower)
	runtime.KeepAlive(upper)
	return ok("Highs_changeRowsBoundsBySet", code)
}

// DeleteCols takes columns out; those behind move up, in their order. The basis
// survives if none of them was basic.
func (p *LP) DeleteCols(cols []int32) error {
	set, err := p.distinct(cols, p.cols)
	if err != nil || len(set) == 0 {
		return err
	}
	code := p.l.c.deleteColsBySet(p.h, int32(len(set)), first(set))
	runtime.KeepAlive(set)
	if err := ok("Highs_deleteColsBySet", code); err != nil {
		return err
	}
	p.cols -= len(set)
	return nil
}

// distinct returns the set in rising order, as the engine wants it.
func (p *LP) distinct(set []int32, size int) ([]int32, error) {
	if err := p.wantSet(set, size); err != nil {
		return nil, err
	}
	set = slices.Clone(set)
	slices.Sort(set)
	return slices.Compact(set), nil
}
