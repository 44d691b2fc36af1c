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
	w := Write(p)
	w.wish(j, held)
	proven := instance.Bound{Wish: j, Under: held}
	x, bound, err := engine(ctx, j, w.M, w.Start(from))
	if err != nil {
		return nil, proven, fmt.Errorf("%v: %w", j, err)
	}
	if bound > 0 {
		proven.Least = int64(math.Ceil(bound - 1e-6*max(1, bound)))
	}
	if x != nil {
		if found := w.State(x); found.Score().LessFrom(from.Score(), j) && held.Allows(found.Score(), j) {
			return found, proven, nil
		}
	}
	return from, proven, nil
}
