package compact

import (
	"context"
	"math"

	"primaprova/solver/cpsat"
	"primaprova/solver/mip"
)

// ByCPSAT solves integer programs with CP-SAT, likewise.
func ByCPSAT(l *cpsat.Library, p cpsat.Params) WholeEngine {
	return func(ctx context.Context, m *mip.Model, start []float64) ([]float64, float64, error) {
		c, err := cpsat.FromMIP(m, cpsat.WholeReals())
		if err != nil {
			return nil, 0, err
		}
		for v, x := range start {
			c.Hint(c.Var(v), int64(math.Round(x)))
		}
		r, err := l.Solve(ctx, c, p)
		if err != nil {
			return nil, 0, err
		}
		bound, ok := r.Bound()
		if !ok {
			bound = math.Inf(-1)
		}
		if s, found := r.Solution(); found {
			return s.Point(), bound, nil
		}
		return nil, bound, nil
	}
}
