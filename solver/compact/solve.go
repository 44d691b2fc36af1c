package compact

import (
	"context"
	"fmt"
	"io"
	"math"
	"time"

	"primaprova/model"
	"primaprova/solver/construct"
	"primaprova/solver/cpsat"
	"primaprova/solver/highs"
	"primaprova/solver/instance"
	"primaprova/solver/mip"
	"primaprova/solver/run"
)

// WriteProgram writes the whole season's integer program as MPS, for any other
// solver to check a plan or to look for a better one. The history and the
// standing plan of the options are part of the program.
//
// Variable by[p,k,date] is 1 if visit k of passage p lies on that date or
// before: the visit lies on the first date with a 1. Stages are named by their
// session ids. The values of the five wishes are variables of their own:
// wish[coverage], wish[ready-by], wish[closeness], wish[spacing] in their
// units, wish[body] in hundredths of a minute.
//
// MPS has one objective, and the wishes' strict order cannot be one: weights
// far enough apart for every season would be beyond what solvers compute with.
// The objective is the weighted sum
//
//	10000·coverage + 1000·ready-by + 100·closeness + 0.1·body + spacing
//
// (ten for a minute of body), an approximation. For the strict order, minimise
// the five variables one after the other, each time with an upper bound on
// those before: only five costs and bounds of the file change.
//
// It gives the numbers of variables and rows.
func WriteProgram(out io.Writer, s *model.Season, o run.Options) (vars, rows int, err error) {
	m := Write(instance.New(s, o.History, o.Standing)).M
	return m.Vars(), m.Rows(), m.WriteMPS(out)
}

// FromPoint makes the plan of a point that another solver found for the program
// of WriteProgram: the values of its variables, in the order of the file. It is
// an error if the point breaks the program by more than a solver's tolerance.
func FromPoint(s *model.Season, o run.Options, x []float64) (*model.Plan, error) {
	w := Write(instance.New(s, o.History, o.Standing))
	if by, what := w.M.Violation(x); by > PointTolerance {
		return nil, fmt.Errorf("no point of the season's program: %s", what)
	}
	return instance.Finish(w.State(x), o, nil, model.NotProven, 0)
}

// PointTolerance is by how much a point may break a row: solvers allow 1e-6 or
// so of themselves, on rows that they have scaled.
const PointTolerance = 1e-4

// A WholeEngine solves one integer program, which minimises a wish: from a starting point, nil for
// none, it gives the best point it finds, nil if none, and a proven bound.
type WholeEngine func(ctx context.Context, j model.Wish, m *mip.Model, start []float64) (x []float64, bound float64, err error)

// ByHighs solves integer programs with HiGHS. A context with a deadline limits
// the time.
func ByHighs(l *highs.Library, o highs.Options) WholeEngine {
	return func(ctx context.Context, _ model.Wish, m *mip.Model, start []float64) ([]float64, float64, error) {
		r, err := byHighs(ctx, l, o, m, start)
		return r.X, r.Bound, err
	}
}

func byHighs(ctx context.Context, l *highs.Library, o highs.Options, m *mip.Model, start []float64) (highs.Result, error) {
	o.AbsGap = nearlyOne
	if end, ok := ctx.Deadline(); ok {
		o.TimeLimit = max(time.Until(end), time.Millisecond)
	}
	return l.Solve(ctx, m, o, start)
}

// nearlyOne is how far a best point may lie above its bound, wishes being whole numbers.
const nearlyOne = 0.999

// Within tells that a wish is near enough to its bound: by a share of what it costs, once
// so many iterations have looked for more. With no share it never is.
func Within(gap float64, sure int64) func(highs.Progress) bool {
	return func(p highs.Progress) bool {
		return gap > 0 && p.LPIterations >= sure && p.Incumbent-p.Bound <= gap*p.Incumbent
	}
}

// A Search solves written-out programs wish by wish, in their order and with their tolerances.
type Search struct {
	Engine    WholeEngine
	Tolerance model.Tolerance
	// Aid may give a better solution in a wish, those before it held so, once something could not be proven; nil: none is asked for.
	Aid func(j model.Wish, held instance.Score, from *instance.Solution) *instance.Solution
}

// Solve solves the written-out program from a solution that keeps the rules, with nothing known.
func Solve(ctx context.Context, p *instance.Instance, engine WholeEngine, from *instance.Solution, t model.Tolerance) (best *instance.Solution, proven instance.Bounds, err error) {
	return Search{Engine: engine, Tolerance: t}.Solve(ctx, p, from)
}

// Solve solves it from a solution that keeps the rules. What is proven meets
// the solution's score where the engine was given the time, but for what is spent. Where something is,
// as little of it as will do.
func (g Search) Solve(ctx context.Context, p *instance.Instance, from *instance.Solution) (best *instance.Solution, proven instance.Bounds, err error) {
	w, t := Write(p), g.Tolerance
	best = from
	hard := false           // something could not be proven
	var free instance.Score // of the wishes that are done
	solve := func(j model.Wish, held instance.Score) (low int64, err error) {
		found, low, err := w.solve(ctx, g.Engine, j, held, best)
		if found != nil && found.Score().Better(best.Score(), free) {
			best = found
		}
		return low, err
	}
	for _, j := range model.Wishes {
		held := best.Score().AtMost(free)
		if best.Score()[j] == 0 {
			continue // no wish falls below 0
		}
		if ctx.Err() != nil {
			return best, proven, nil
		}
		aided := func() {
			if g.Aid == nil {
				return
			}
			if found := g.Aid(j, held, best); found.Score().Better(best.Score(), free) {
				best, held = found, found.Score().AtMost(free)
			}
		}
		if hard {
			aided()
		}
		low, err := solve(j, held)
		if err != nil {
			return nil, proven, err
		}
		proven = append(proven, instance.Bound{Wish: j, Least: low, Under: held})
		if now := best.Score(); low > now[j] {
			return nil, proven, fmt.Errorf("internal error: %v %d lies below its bound %d", j, now[j], low)
		}
		if !hard && low < best.Score()[j] {
			hard = true
			aided()
		}
		free = proven.Free(t, best.Score().AtMost(free))
	}
	held := best.Score().AtMost(free)
	for _, j := range model.Wishes {
		held[j] = best.Score()[j]
		if ctx.Err() != nil || t[j] == 0 || held[j] <= proven.Least(j, held) {
			continue
		}
		w.hold(held)
		if _, err := solve(j, held); err != nil {
			return nil, proven, err
		}
		held[j] = best.Score()[j]
	}
	return best, proven, nil
}

// SolveWritten plans a season by solving its whole program at once, wish by
// wish, beginning with the greedy plan. It is for small seasons and for
// comparisons: Solve gets there sooner.
func SolveWritten(ctx context.Context, s *model.Season, o run.Options, engine WholeEngine) (*model.Plan, error) {
	at := time.Now()
	p := instance.New(s, o.History, o.Standing)
	st, proven, err := Solve(ctx, p, engine, construct.Greedy(p), o.Tolerance)
	if err != nil {
		return nil, err
	}
	status := model.NotProven
	if ctx.Err() != nil {
		status = model.CutShort
	}
	return instance.Finish(st, o, proven, status, time.Since(at))
}

// ByCPSAT solves integer programs with CP-SAT, likewise.
func ByCPSAT(l *cpsat.Library, p cpsat.Params) WholeEngine {
	return func(ctx context.Context, _ model.Wish, m *mip.Model, start []float64) ([]float64, float64, error) {
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
