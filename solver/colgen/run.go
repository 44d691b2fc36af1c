package colgen

import (
	"context"
	"errors"
	"fmt"

	"primaprova/model"
	"primaprova/solver/highs"
	"primaprova/solver/instance"
	"primaprova/solver/pricing"
)

// warm goes on from the last corner by the primal simplex method, cold begins
// anew inside.
var (
	warm = highs.Options{LPSolver: "simplex", Presolve: highs.Off, Raw: map[string]any{"simplex_strategy": 4}}
	cold = highs.Options{LPSolver: "ipx", Presolve: highs.On}
)

// Run solves the linear program and reads its prices. Where the simplex method
// gives up, or calls a corner optimal without having prices for it, interior
// point does it.
func (m *Master) Run(ctx context.Context) error {
	if ctx.Err() != nil {
		return context.Cause(ctx)
	}
	if len(m.Blocks) > 0 && !m.Blocks[0].Whole {
		ctx = Briefly(ctx)
	}
	err := m.solveBy(ctx, warm)
	if stuck := (*StuckError)(nil); errors.As(err, &stuck) {
		err = m.solveBy(ctx, cold)
	}
	if err != nil {
		return err
	}
	iterations, err := m.LP.Iterations()
	if err != nil {
		return err
	}
	m.Work += (iterations + 1) * int64(m.LP.Rows())
	for n, w := range m.Weights[m.Base:] { // one for each column: none was added since the run
		if c := &m.Columns[n]; w > 1e-6 {
			c.idle = 0
		} else {
			c.idle++
		}
	}
	readDuals(&m.Duals, m.Linking, m.RowDuals, &m.Objective)
	m.Value, err = m.LP.Objective()
	m.Value += m.Objective.Weight[model.Body] * m.Linking.Outside
	return err
}

// Briefly lets a program that takes a moment run to its end. The engine asks
// whether to stop at every iteration otherwise, some hundredths of its time.
func Briefly(ctx context.Context) context.Context { return context.WithoutCancel(ctx) }

// solveBy solves the linear program by one method and takes its prices and
// weights.
func (m *Master) solveBy(ctx context.Context, by highs.Options) error {
	status, err := m.LP.Run(ctx, by)
	if err != nil {
		return err
	}
	if status == highs.Interrupted {
		return context.Cause(ctx)
	}
	if status != highs.Optimal {
		return &StuckError{status}
	}
	m.RowDuals, m.Weights = pricing.Sized(m.RowDuals, m.LP.Rows()), pricing.Sized(m.Weights, m.LP.Cols())
	err = errors.Join(m.LP.Duals(m.RowDuals), m.LP.Primal(m.Weights))
	if errors.Is(err, highs.ErrNoSolution) {
		return &StuckError{highs.Unknown}
	}
	return err
}

// StuckError says that the engine gave up on a linear program. Nothing is wrong
// with the plan so far: what was being tried ends there.
type StuckError struct{ status highs.Status }

func (e *StuckError) Error() string { return fmt.Sprintf("the master program is %s", e.status) }

// Ended tells whether an error only ends what was being tried.
func Ended(ctx context.Context, err error) bool {
	var stuck *StuckError
	return ctx.Err() != nil || errors.As(err, &stuck)
}

// Solve runs and prices so many rounds, fewer if nothing is found.
func (m *Master) Solve(ctx context.Context, rounds int) error {
	for n := range rounds {
		if err := m.Run(ctx); err != nil {
			return err
		}
		if n == rounds-1 {
			break
		}
		if added, err := m.PriceOut(); err != nil || added == 0 {
			return err
		}
	}
	return nil
}

// Prove gives the master an aim, and runs and prices until its bound is as near
// to its value as a share of it, in so many rounds at most.
func (m *Master) Prove(ctx context.Context, a instance.Objective, rounds int, near float64) error {
	if err := m.Minimise(a); err != nil {
		return err
	}
	return m.Price(ctx, rounds, func(added int) bool { return added == 0 || m.Value-m.Bound <= near*m.Value })
}

// Price runs and prices until enough says so, which is given how many columns came in,
// in so many rounds at most.
func (m *Master) Price(ctx context.Context, rounds int, enough func(added int) bool) error {
	for range rounds {
		if err := m.Run(ctx); err != nil {
			return err
		}
		if added, err := m.PriceOut(); err != nil || enough(added) {
			return err
		}
	}
	return nil
}
