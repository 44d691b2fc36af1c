package cpsat

import (
	"context"
	"fmt"
	"math"
)

// Solve solves m. An error means that nothing was found out: the model or the
// settings have a fault, or the answer makes no sense. That a model has no
// solution, or that a limit came first, is told by the Status.
//
// When ctx ends, the search ends within a tenth of a second or so and the best
// solution so far is returned: Stopped is true then, and the error nil. A ctx
// that has ended already gives Unknown.
//
// The calling goroutine's thread is inside the engine until it returns; other
// goroutines run on. Solves may run side by side, each with its own workers.
func (l *Library) Solve(ctx context.Context, m *Model, p Params) (Response, error) {
	if err := p.check(); err != nil {
		return Response{}, err
	}
	model, err := m.encode()
	if err != nil {
		return Response{}, err
	}
	o := m.objective
	a, err := decode(l.run(ctx, model, p.encode()))
	if err != nil {
		return Response{}, err
	}
	if err := m.judge(a, o); err != nil {
		return Response{}, err
	}
	return Response{
		Status:  a.status,
		Stopped: ctx.Err() != nil && (a.status == Unknown || a.status == Feasible),
		Work:    a.work,
		Log:     a.log,
		model:   m, values: a.solution,
		objective: o, bound: a.innerBound, bounded: o != nil && a.bounded(),
	}, nil
}

// bounded reports whether the answer holds a bound. A search that ended before
// it began says 0, like one that has proven 0, so an Unknown 0 does not count.
func (a answer) bounded() bool {
	switch a.status {
	case Optimal, Feasible:
		return !math.IsInf(a.bound, 0)
	case Unknown:
		return !math.IsInf(a.bound, 0) && (a.bound != 0 || a.innerBound != 0)
	}
	return false
}

// judge checks that an answer can be one to m, so that no handle of m can miss
// its value. It doesn't check the constraints: whoever knows what they mean
// audits the plan.
func (m *Model) judge(a answer, o *objective) error {
	switch a.status {
	case invalid:
		return fmt.Errorf("cpsat: the engine refuses the model: %s", a.info)
	case Unknown, Infeasible:
		return nil
	case Feasible, Optimal:
	default:
		return broken(fmt.Errorf("%v is not one of its own", a.status))
	}
	if len(a.solution) != len(m.vars) {
		return broken(fmt.Errorf("%d values for %d variables", len(a.solution), len(m.vars)))
	}
	for i, value := range a.solution {
		if !m.vars[i].domain.Contains(value) {
			return broken(fmt.Errorf("variable %s is %d, outside its domain", m.varLabel(int32(i)), value))
		}
	}
	if o != nil {
		// Far off means that the two have not the same objective in mind.
		if ours := o.shown(o.inner(a.solution)); !(math.Abs(ours-a.objective) <= 1e-6*max(1, math.Abs(ours))) {
			return broken(fmt.Errorf("its objective is %v, its solution is worth %v", a.objective, ours))
		}
	}
	return nil
}
