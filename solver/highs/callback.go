package highs

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sync"
	"sync/atomic"
	"time"
	"unsafe"

	"github.com/ebitengine/purego"
)

// Progress is the state of a whole-number program while it is being solved.
type Progress struct {
	Incumbent    float64 // objective of the best point so far, +Inf if none
	Bound        float64 // no point is better than this, -Inf if nothing is known
	Nodes        int64
	LPIterations int64
	Seconds      float64 // since the run began
}

// The kinds of callback we listen to.
const (
	onSimplex     = 1
	onInterior    = 2
	onImprovement = 4
	onMIPCheck    = 6
)

// outLayout holds where the callback's data lie in the struct the engine
// passes. They are asked of the library once, so no layout is guessed, and no
// name is looked up at every iteration.
type outLayout struct {
	seconds, objective, nodes, iterations, incumbent, bound uintptr
}

func (o *outLayout) find(c *calls) error {
	var zero [512]byte
	base := unsafe.Pointer(&zero)
	for name, at := range map[string]*uintptr{
		"running_time":             &o.seconds,
		"objective_function_value": &o.objective,
		"mip_node_count":           &o.nodes,
		"mip_total_lp_iterations":  &o.iterations,
		"mip_primal_bound":         &o.incumbent,
		"mip_dual_bound":           &o.bound,
	} {
		p := c.getCallbackDataOutItem(base, name)
		*at = uintptr(p) - uintptr(base)
		if p == nil || *at > uintptr(len(zero)-8) {
			return fmt.Errorf("its callbacks do not tell %s", name)
		}
	}
	return nil
}

func float(out unsafe.Pointer, at uintptr) float64 { return *(*float64)(unsafe.Add(out, at)) }
func integer(out unsafe.Pointer, at uintptr) int64 { return *(*int64)(unsafe.Add(out, at)) }

// watch is one run, as its callbacks see it.
type watch struct {
	l        *Library
	vars     int
	maxIter  int64
	patience int64
	enough   func(Progress) bool
	progress func(Progress)
	solution func([]float64, float64)

	stop   atomic.Bool // the context is done, or a callback has panicked
	workUp atomic.Bool // maxIter is reached, or patience at its end

	// With more than one thread the engine may call from any of them, and
	// whoever gives the run up reads from outside.
	mu     sync.Mutex
	muted  bool // nobody is to be told anything any more
	told   time.Time
	last   Progress  // the last news
	better int64     // iterations at the last better point
	best   []float64 // the incumbent, nil if none; never written to again
	thrown any       // what the caller's own function panicked with
}

func (l *Library) newWatch(vars int, o *Options) *watch {
	return &watch{
		l: l, vars: vars, maxIter: o.MaxLPIterations, patience: o.Patience, enough: o.Enough, progress: o.Progress, solution: o.Solution,
		last: Progress{Incumbent: math.Inf(1), Bound: math.Inf(-1)},
	}
}

// Callbacks cannot be given back to purego and their number is limited, so
// there is one for the process. The engine hands it the number of the run.
var (
	callback = sync.OnceValue(func() uintptr { return purego.NewCallback(called) })
	watches  sync.Map // uintptr -> *watch
	lastID   atomic.Uintptr
)

// called is what the engine calls. in points to a struct whose first member is
// an int that stops the run if it is not zero (stated in the engine's header
// HighsCallbackStruct.h of 1.12 as something others rely on).
func called(kind int32, _, out, in unsafe.Pointer, id uintptr) uintptr {
	found, ok := watches.Load(id)
	if !ok {
		return 0
	}
	w := found.(*watch)
	switch kind {
	case onMIPCheck, onImprovement:
		w.hear(kind, out)
	}
	if kind != onImprovement && in != nil && (w.stop.Load() || w.workUp.Load()) {
		*(*int32)(in) = 1
	}
	return 0
}

// hear notes news and passes it on. A panic must not run through the engine's
// own frames, so it waits until the engine has returned.
func (w *watch) hear(kind int32, out unsafe.Pointer) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.muted {
		return
	}
	defer func() {
		if thrown := recover(); thrown != nil {
			w.thrown, w.muted = thrown, true
			w.stop.Store(true)
		}
	}()
	at := &w.l.out
	w.last = Progress{
		Incumbent:    float(out, at.incumbent),
		Bound:        float(out, at.bound),
		Nodes:        integer(out, at.nodes),
		LPIterations: integer(out, at.iterations),
		Seconds:      float(out, at.seconds),
	}
	if w.maxIter > 0 && w.last.LPIterations >= w.maxIter {
		w.workUp.Store(true)
	}
	if kind == onImprovement {
		w.better = w.last.LPIterations
		w.improve(out)
	} else if w.enough != nil && w.enough(w.last) {
		w.workUp.Store(true)
	}
	if w.patience > 0 && w.last.LPIterations-w.better >= max(w.patience, 3*w.better) {
		w.workUp.Store(true)
	}
	if w.progress != nil && (kind == onImprovement || time.Since(w.told) >= time.Second/10) {
		w.told = time.Now()
		w.progress(w.last)
	}
}

func (w *watch) improve(out unsafe.Pointer) {
	x := (*float64)(w.l.c.getCallbackDataOutItem(out, "mip_solution"))
	if x == nil {
		return
	}
	w.best = slices.Clone(unsafe.Slice(x, w.vars))
	w.last.Incumbent = float(out, w.l.out.objective)
	if w.solution != nil {
		w.solution(slices.Clone(w.best), w.last.Incumbent)
	}
}

// giveUp returns what is known of a run that does not end, and mutes it.
func (w *watch) giveUp() Result {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.muted = true
	r := Result{
		Status: Interrupted, X: w.best, Objective: w.last.Incumbent, Bound: w.last.Bound,
		Nodes: max(w.last.Nodes, 0), LPIterations: max(w.last.LPIterations, 0),
	}
	if r.X == nil {
		r.Objective = math.Inf(1)
	}
	return r
}

// attach makes the engine call w during its next run, as far as anything is to
// be heard or stopped. The caller calls detach when the run is over.
func (w *watch) attach(ctx context.Context, h uintptr, mip bool) (detach func(), err error) {
	id := lastID.Add(1)
	c := &w.l.c
	if err := ok("Highs_setCallback", c.setCallback(h, callback(), id)); err != nil {
		return nil, err
	}
	var kinds []int32
	if mip {
		kinds = append(kinds, onMIPCheck, onImprovement)
	}
	// These are called at every iteration, which costs a linear program some
	// hundredths of its time, and serve for nothing but being stopped from outside.
	if ctx.Done() != nil {
		kinds = append(kinds, onSimplex, onInterior)
	}
	for _, kind := range kinds {
		if err := ok("Highs_startCallback", c.startCallback(h, kind), kind); err != nil {
			return nil, err
		}
	}
	watches.Store(id, w)
	unhook := context.AfterFunc(ctx, func() { w.stop.Store(true) })
	return func() {
		unhook()
		watches.Delete(id)
	}, nil
}
