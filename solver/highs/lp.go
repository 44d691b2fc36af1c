package highs

import (
	"context"
	"errors"
	"fmt"
	"math"

	"primaprova/solver/mip"
)

// LP is a linear program held inside the engine. Run starts from the basis the
// last run left, also after columns and rows were added or changed, which is
// what makes the next run short.
//
// One goroutine at a time may use an LP; different LPs are independent. It
// holds memory that Go does not see: call Close. Every slice given to a method
// is copied, and every slice it fills is the caller's.
type LP struct {
	l          *Library
	h          uintptr
	cols, rows int
	status     Status
}

// ErrNoSolution says that the engine holds no point, or no prices, for the
// program as it is. Now and then it calls a run optimal and has no prices.
var ErrNoSolution = errors.New("highs: there is no solution")

var errClosed = errors.New("highs: the LP is closed")

// NewLP returns an empty linear program, to be minimised.
func (l *Library) NewLP() (*LP, error) {
	h, err := l.newHandle()
	if err != nil {
		return nil, err
	}
	return &LP{l: l, h: h}, nil
}

// Close gives the program's memory back. The LP is of no use afterwards.
func (p *LP) Close() {
	if p.h != 0 {
		p.l.c.destroy(p.h)
		p.h = 0
	}
}

// PassModel replaces the program by m, whose whole variables are relaxed.
func (p *LP) PassModel(m *mip.Model) error {
	if p.h == 0 {
		return errClosed
	}
	if err := m.Err(); err != nil {
		return err
	}
	if err := p.l.pass(p.h, m, false); err != nil {
		return err
	}
	p.cols, p.rows, p.status = m.Vars(), m.Rows(), Unknown
	return nil
}

// Cols and Rows return the program's size.
func (p *LP) Cols() int { return p.cols }

// Rows returns the number of rows.
func (p *LP) Rows() int { return p.rows }

// Run solves the program. The status is Optimal, Infeasible, Unbounded or why
// the run ended early; Progress, Solution and the gaps of o have no meaning
// here.
func (p *LP) Run(ctx context.Context, o Options) (Status, error) {
	if p.h == 0 {
		return Unknown, errClosed
	}
	w := p.l.newWatch(p.cols, &o)
	status, err := p.l.run(ctx, p.h, false, &o, w)
	p.status = status
	return status, err
}

// Objective returns the objective after the last run, offset included, and
// +Inf if that found no point which keeps every row and bound.
func (p *LP) Objective() (float64, error) {
	if p.h == 0 {
		return 0, errClosed
	}
	i := &info{c: &p.l.c, h: p.h}
	if !i.solutionIs("primal") {
		return math.Inf(1), i.err
	}
	return i.float("objective_function_value"), i.err
}

// Iterations returns how many iterations, of all methods together, the last
// run took.
func (p *LP) Iterations() (int64, error) {
	if p.h == 0 {
		return 0, errClosed
	}
	i := &info{c: &p.l.c, h: p.h}
	return i.iterations(), i.err
}

// Primal writes the point of the last run into x, by column.
func (p *LP) Primal(x []float64) error {
	if err := p.want(len(x), p.cols, "columns"); err != nil {
		return err
	}
	if err := p.has("primal"); err != nil {
		return err
	}
	return ok("Highs_getSolution", p.l.c.getSolution(p.h, first(x), nil, nil, nil))
}

// Activity writes Σ coefficient·x of each row at the point of the last run.
func (p *LP) Activity(sums []float64) error {
	if err := p.want(len(sums), p.rows, "rows"); err != nil {
		return err
	}
	if err := p.has("primal"); err != nil {
		return err
	}
	return ok("Highs_getSolution", p.l.c.getSolution(p.h, nil, nil, first(sums), nil))
}

// Duals writes the price of each row: by how much the objective rises with one
// unit on the row's binding side, so ≥ 0 at a lower side and ≤ 0 at an upper.
func (p *LP) Duals(price []float64) error {
	if err := p.want(len(price), p.rows, "rows"); err != nil {
		return err
	}
	if err := p.has("dual"); err != nil {
		return err
	}
	return ok("Highs_getSolution", p.l.c.getSolution(p.h, nil, nil, nil, first(price)))
}

// want keeps the engine from writing beyond a slice.
func (p *LP) want(got, want int, of string) error {
	if p.h == 0 {
		return errClosed
	}
	if got != want {
		return fmt.Errorf("highs: %d values given for %d %s", got, want, of)
	}
	return nil
}

// has refuses values that the engine does not hold: since the last run the
// program may have been changed, or the run may have found none.
func (p *LP) has(side string) error {
	i := &info{c: &p.l.c, h: p.h}
	if !i.solutionIs(side) && i.err == nil {
		return fmt.Errorf("%w: no %s one: the last run's status is %q, or the program was changed since", ErrNoSolution, side, p.status)
	}
	return i.err
}
