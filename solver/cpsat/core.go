package cpsat

import (
	"context"
	"slices"
)

// Core asks why a model cannot be met under its assumptions (Model.Assume). If
// it is infeasible, it returns assumptions that cannot all hold, in the order
// of their variables; an empty core then means that the rest of the model is
// contradictory already. Otherwise the core is empty and the status says what
// was found.
//
// Cost: one solve of its own. The engine shrinks a core only when the model has
// no objective and one worker searches, so the objective is left out and
// p.Workers is ignored.
//
// Even so the core need not be minimal. For one that is, drop each of its
// assumptions in turn and ask again: if the rest is still contradictory, go on
// with the core that was returned, else put the assumption back. That is as
// many solves as the first core is long, most of them short. (Deletion
// filtering: Chinneck and Dravnieks, ORSA Journal on Computing 3, 157-168,
// 1991; from memory.)
func (l *Library) Core(ctx context.Context, m *Model, p Params) ([]Bool, Response, error) {
	p.Workers = 1
	r, err := l.solveModel(ctx, m, p, false)
	if err != nil || r.Status != Infeasible {
		return nil, r, err
	}
	refs := sortedUnique(slices.Clone(r.core))
	for _, ref := range refs {
		if !slices.Contains(m.assumptions, ref) {
			// Presolve can name a literal that was never assumed (reported
			// upstream as 5141). All of the assumptions are a core as well, if a long one.
			refs = m.assumptions
			break
		}
	}
	core := make([]Bool, len(refs))
	for i, ref := range refs {
		core[i] = Bool{m, ref}
	}
	return core, r, nil
}
