package compact

import (
	"context"
	"fmt"
	"math"

	"primaprova/model"
	"primaprova/solver/instance"
)

// SolveWish solves the written-out program for one wish, with what those before it cost held, from
// a solution that keeps to that. It gives the solution, the one it began with where none is better,
// and what is proven.
func SolveWish(ctx context.Context, p *instance.Instance, engine WholeEngine, from *instance.Solution, j model.Wish, held instance.Score) (*instance.Solution, instance.Bound, error) {
	found, low, err := Write(p).solve(ctx, engine, j, held, from)
	if err != nil {
		return nil, instance.Bound{}, err
	}
	if found == nil || !found.Score().LessFrom(from.Score(), j) || !held.Allows(found.Score(), j) {
		found = from
	}
	return found, instance.Bound{Wish: j, Least: low, Under: held}, nil
}

// solve solves the program for one wish, those before it held, beginning with a solution. It gives what
// the engine found, nil if nothing, and what is proven.
func (w *Program) solve(ctx context.Context, engine WholeEngine, j model.Wish, held instance.Score, from *instance.Solution) (found *instance.Solution, low int64, err error) {
	w.wish(j, held)
	x, bound, err := engine(ctx, j, w.M, w.Start(from))
	if err != nil {
		return nil, 0, fmt.Errorf("%v: %w", j, err)
	}
	if bound > 0 {
		low = int64(math.Ceil(bound - 1e-6*max(1, bound)))
	}
	if x != nil {
		found = w.State(x)
	}
	return found, low, nil
}
