package highs

import (
	"context"
	"fmt"
	"math"
	"runtime"
	"time"
	"unsafe"

	"primaprova/solver/mip"
)

// Result is what a run found.
type Result struct {
	Status Status

	// X is the best point known, by variable, and nil if none is. Whole
	// variables are whole up to the engine's tolerance, 1e-6 by default.
	X []float64

	// Objective is the objective at X, offset included, +Inf without a point.
	Objective float64

	// Bound is proven: no point has a lower objective. It is -Inf if nothing
	// is known and +Inf if there is no point at all.
	Bound float64

	// RowDual and ReducedCost are the prices of a linear program, by row and by
	// variable, nil if there are none: by how much the objective rises with
	// one unit on the row's binding side, and cost − Σ coefficient·RowDual.
	RowDual, ReducedCost []float64

	Nodes        int64 // of branch and bound
	LPIterations int64 // of every method together
}

// Gap returns Objective − Bound, at least 0, in units of the objective. It is
// +Inf while either is unknown.
func (r Result) Gap() float64 { return max(r.Objective-r.Bound, 0) }

// Solve solves m from nothing. start, if not nil, is a point to begin with, a
// value for each variable, NaN where there is none; the engine completes it if
// it can and passes over it if not.
//
// When ctx is done, Solve returns the incumbent with status Interrupted and no
// error, within a fifth of a second. The engine looks up only between the
// linear programs of a whole-number program, and not while it reduces one; if
// that takes long, Solve does not wait, and the engine winds up unheard on a
// thread of its own. So a context is for leaving; to solve for so long and no
// longer, set TimeLimit or a limit on work.
func (l *Library) Solve(ctx context.Context, m *mip.Model, o Options, start []float64) (Result, error) {
	if err := m.Err(); err != nil {
		return Result{}, err
	}
	if start != nil && len(start) != m.Vars() {
		return Result{}, fmt.Errorf("highs: the start has %d values, the model %d variables", len(start), m.Vars())
	}
	h, err := l.newHandle()
	if err != nil {
		return Result{}, err
	}
	err = l.pass(h, m, true)
	if err == nil && len(start) > 0 {
		err = l.passStart(h, start)
	}
	if err != nil {
		l.c.destroy(h)
		return Result{}, err
	}
	return l.solveAndDestroy(ctx, h, &o)
}

// SolveFile solves the program in an MPS or LP file, its variables in the
// file's order, as Solve does. Its purpose is to compare: it is the engine
// alone, without anything of package mip.
func (l *Library) SolveFile(ctx context.Context, file string, o Options) (Result, error) {
	h, err := l.newHandle()
	if err != nil {
		return Result{}, err
	}
	if err := ok("Highs_readModel", l.c.readModel(h, file), file); err != nil {
		l.c.destroy(h)
		return Result{}, err
	}
	return l.solveAndDestroy(ctx, h, &o)
}

// patience is how long a run may take to notice that its context is done.
const patience = 150 * time.Millisecond

func (l *Library) solveAndDestroy(ctx context.Context, h uintptr, o *Options) (Result, error) {
	w := l.newWatch(int(l.c.getNumCol(h)), o)
	var r Result
	var err error
	ended := make(chan struct{})
	go func() {
		defer close(ended)
		defer l.c.destroy(h)
		r, err = l.solveHandle(ctx, h, o, w)
	}()
	select {
	case <-ended:
	case <-ctx.Done():
		select {
		case <-ended:
		case <-time.After(patience):
			return w.giveUp(), nil
		}
	}
	if w.thrown != nil {
		panic(w.thrown)
	}
	return r, err
}

func (l *Library) newHandle() (uintptr, error) {
	h := l.c.create()
	if h == 0 {
		return 0, &CallError{Function: "Highs_create"}
	}
	s := &setter{c: &l.c, h: h}
	s.quiet()
	if s.err != nil {
		l.c.destroy(h)
		return 0, s.err
	}
	return h, nil
}

const byColumn, minimise = 1, 1

// pass copies m into the engine, without its whole numbers if they are not
// wanted.
func (l *Library) pass(h uintptr, m *mip.Model, wholes bool) error {
	start, index, value := m.Columns()
	cost := m.Costs()
	colLower, colUpper := m.Bounds()
	rowLower, rowUpper := m.Sides()
	var whole []int32
	if wholes && m.HasIntegers() {
		whole = make([]int32, m.Vars())
		for v := range whole {
			if m.IsInteger(mip.Var(v)) {
				whole[v] = 1
			}
		}
	}
	code := l.c.passMip(h, int32(m.Vars()), int32(m.Rows()), int32(len(value)), byColumn, minimise, m.Offset(),
		first(cost), first(colLower), first(colUpper), first(rowLower), first(rowUpper),
		first(start), first(index), first(value), first(whole))
	for _, s := range [...][]float64{cost, colLower, colUpper, rowLower, rowUpper, value} {
		runtime.KeepAlive(s)
	}
	for _, s := range [...][]int32{start, index, whole} {
		runtime.KeepAlive(s)
	}
	return ok("Highs_passMip", code, m.Title())
}

func (l *Library) passStart(h uintptr, start []float64) error {
	point := make([]float64, len(start))
	for v, x := range start {
		// The engine's own sign for "no value" is infinity.
		if math.IsNaN(x) {
			x = math.Inf(1)
		}
		point[v] = x
	}
	code := l.c.setSolution(h, first(point), nil, nil, nil)
	runtime.KeepAlive(point)
	return ok("Highs_setSolution", code)
}

func (l *Library) solveHandle(ctx context.Context, h uintptr, o *Options, w *watch) (Result, error) {
	vars, rows := w.vars, int(l.c.getNumRow(h))
	r := Result{Objective: math.Inf(1), Bound: math.Inf(-1)}
	if ctx.Err() != nil {
		r.Status = Interrupted
		return r, nil
	}
	var err error
	if r.Status, err = l.run(ctx, h, true, o, w); err != nil {
		return Result{}, err
	}
	i := &info{c: &l.c, h: h}
	nodes := i.int64("mip_node_count")
	isMIP := nodes >= 0 // the engine counts -1 for a linear program
	r.Nodes = max(nodes, 0)
	r.LPIterations = i.iterations()
	if i.solutionIs("primal") || vars == 0 && r.Status == Optimal {
		r.X = make([]float64, vars)
		r.Objective = i.float("objective_function_value")
	}
	if i.solutionIs("dual") {
		r.RowDual, r.ReducedCost = make([]float64, rows), make([]float64, vars)
	}
	if isMIP {
		r.Bound = i.float("mip_dual_bound")
	} else if r.Status == Optimal {
		r.Bound = r.Objective
	}
	if i.err != nil {
		return Result{}, i.err
	}
	code := l.c.getSolution(h, first(r.X), first(r.ReducedCost), nil, first(r.RowDual))
	if err := ok("Highs_getSolution", code); err != nil {
		return Result{}, err
	}
	r.settle(o, isMIP)
	return r, nil
}

// settle puts into words what the engine leaves to be inferred.
func (r *Result) settle(o *Options, isMIP bool) {
	if isMIP && o.Cutoff != nil {
		// The engine drops what is not below the cutoff. What it then calls
		// infeasible, or optimal at a worse point it happened to meet, shows
		// only that nothing lies below; and its bound reaches no further.
		r.Bound = min(r.Bound, *o.Cutoff)
		if r.Status == Infeasible || r.Status == Optimal && r.Objective > *o.Cutoff-1e-9*(1+math.Abs(*o.Cutoff)) {
			r.Status, r.Bound = CutoffReached, *o.Cutoff
		}
	}
	switch {
	case r.Status == Infeasible:
		r.Bound = math.Inf(1)
	case r.Status == Optimal && isMIP && r.Gap() > 1e-6+1e-9*math.Abs(r.Objective):
		r.Status = WithinGap
	}
}

// first is where C finds a slice, nil for an empty one.
func first[T any](s []T) *T { return unsafe.SliceData(s) }
