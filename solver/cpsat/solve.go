package cpsat

import (
	"context"
	"fmt"
	"time"
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
	return l.solveModel(ctx, m, p, true)
}

// Core asks why a model cannot be met under its assumptions (Model.Assume). If
// it is infeasible, it returns assumptions that cannot all hold; none of them
// means that the rest of the model is contradictory already. Otherwise the core is empty and the
// status says what was found.
//
// The engine shrinks a core only when the model has no objective and one
// worker searches, so the objective is left out and p.Workers and p.Interleave
// are ignored. Even then the core need not be minimal. For one that is, drop
// each of its assumptions in turn, ask again, and keep out those without which
// the rest is still contradictory: as many solves as the core is long, most
// of them short, each replacing the core by the one it returns. (Deletion filtering; Chinneck
// and Dravnieks, ORSA Journal on Computing 3, 157-168, 1991; from memory.)
func (l *Library) Core(ctx context.Context, m *Model, p Params) ([]Bool, Response, error) {
	p.Workers, p.Interleave = 1, false
	r, err := l.solveModel(ctx, m, p, false)
	if err != nil || r.Status != Infeasible {
		return nil, r, err
	}
	core := make([]Bool, len(r.core))
	for i, ref := range r.core {
		core[i] = Bool{m, ref}
	}
	return core, r, nil
}

func (l *Library) solveModel(ctx context.Context, m *Model, p Params, withObjective bool) (Response, error) {
	if err := p.check(); err != nil {
		return Response{}, err
	}
	model, err := m.encode(withObjective)
	if err != nil {
		return Response{}, err
	}
	a, err := decode(l.run(ctx, model, p.encode()))
	if err != nil {
		return Response{}, err
	}
	if err := m.judge(a); err != nil {
		return Response{}, err
	}
	return Response{
		Status:    a.status,
		Stopped:   ctx.Err() != nil && (a.status == Unknown || a.status == Feasible),
		Work:      a.work,
		Wall:      time.Duration(a.wall * float64(time.Second)),
		Conflicts: a.conflicts, Branches: a.branches,
		Info: a.info, Log: a.log,
		model: m, optimises: withObjective && m.objective != nil,
		values: a.solution, objective: a.objective, bound: a.bound,
		core: a.core,
	}, nil
}

// judge checks that an answer can be one to m, so that no handle of m can miss
// its value. It doesn't check the constraints: whoever knows what they mean audits the plan.
func (m *Model) judge(a answer) error {
	switch a.status {
	case invalid:
		return fmt.Errorf("cpsat: the engine refuses the model: %s", a.info)
	case Unknown, Infeasible:
		for _, ref := range a.core {
			if int(index(ref)) >= len(m.vars) {
				return broken(fmt.Errorf("it names variable %d of %d", index(ref), len(m.vars)))
			}
		}
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
	return nil
}
