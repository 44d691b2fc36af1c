package solver

import (
	"context"
	"errors"
	"fmt"

	"primaprova/model"
	"primaprova/solver/highs"
)

// warm goes on from the last corner by the primal simplex method, cold begins
// anew inside.
var (
	warm = highs.Options{LPSolver: "simplex", Presolve: highs.Off, Raw: map[string]any{"simplex_strategy": 4}}
	cold = highs.Options{LPSolver: "ipx", Presolve: highs.On}
)

// run solves the linear program and reads its prices. Where the simplex method
// gives up, or calls a corner optimal without having prices for it, interior
// point does it.
func (m *master) run(ctx context.Context) error {
	if ctx.Err() != nil {
		return context.Cause(ctx)
	}
	if len(m.units) > 0 && !m.units[0].whole {
		ctx = briefly(ctx)
	}
	err := m.solveBy(ctx, warm)
	if stuck := (*stuckError)(nil); errors.As(err, &stuck) {
		err = m.solveBy(ctx, cold)
	}
	if err != nil {
		return err
	}
	iterations, err := m.lp.Iterations()
	if err != nil {
		return err
	}
	m.work += (iterations + 1) * int64(m.lp.Rows())
	for n, w := range m.x[m.base:] { // one for each column: none was added since the run
		if c := &m.cols[n]; w > 1e-6 {
			c.idle = 0
		} else {
			c.idle++
		}
	}
	m.t.read(m.c, m.price, &m.aim)
	m.value, err = m.lp.Objective()
	m.value += m.aim.want[model.Body] * m.c.outside
	return err
}

// briefly lets a program that takes a moment run to its end. The engine asks
// whether to stop at every iteration otherwise, some hundredths of its time.
func briefly(ctx context.Context) context.Context { return context.WithoutCancel(ctx) }

// solveBy solves the linear program by one method and takes its prices and
// weights.
func (m *master) solveBy(ctx context.Context, by highs.Options) error {
	status, err := m.lp.Run(ctx, by)
	if err != nil {
		return err
	}
	if status == highs.Interrupted {
		return context.Cause(ctx)
	}
	if status != highs.Optimal {
		return &stuckError{status}
	}
	m.price, m.x = sized(m.price, m.lp.Rows()), sized(m.x, m.lp.Cols())
	err = errors.Join(m.lp.Duals(m.price), m.lp.Primal(m.x))
	if errors.Is(err, highs.ErrNoSolution) {
		return &stuckError{highs.Unknown}
	}
	return err
}

// stuckError says that the engine gave up on a linear program. Nothing is wrong
// with the plan so far: what was being tried ends there.
type stuckError struct{ status highs.Status }

func (e *stuckError) Error() string { return fmt.Sprintf("the master program is %s", e.status) }

// ended tells whether an error only ends what was being tried.
func ended(ctx context.Context, err error) bool {
	var stuck *stuckError
	return ctx.Err() != nil || errors.As(err, &stuck)
}

// solve runs and prices so many rounds, fewer if nothing is found.
func (m *master) solve(ctx context.Context, rounds int) error {
	for n := range rounds {
		if err := m.run(ctx); err != nil {
			return err
		}
		if n == rounds-1 {
			break
		}
		if added, err := m.round(); err != nil || added == 0 {
			return err
		}
	}
	return nil
}

// prove gives the master an aim, and runs and prices until its bound is as near
// to its value as a share of it, in so many rounds at most.
func (m *master) prove(ctx context.Context, a aim, rounds int, near float64) error {
	if err := m.set(a); err != nil {
		return err
	}
	for range rounds {
		if err := m.run(ctx); err != nil {
			return err
		}
		added, err := m.round()
		if err != nil || added == 0 || m.value-m.bound <= near*m.value {
			return err
		}
	}
	return nil
}
