package highs

import (
	"context"
	"fmt"
	"runtime"
)

// run solves what handle h holds, and returns the program's status. Where mip
// is false, no variable need be whole. If w.thrown is set afterwards, the
// caller is to panic with it.
func (l *Library) run(ctx context.Context, h uintptr, mip bool, o *Options, w *watch) (Status, error) {
	if err := o.apply(&l.c, h); err != nil {
		return Unknown, err
	}
	if ctx.Err() != nil {
		return Interrupted, nil
	}
	detach, err := w.attach(ctx, h, mip)
	if err != nil {
		return Unknown, err
	}
	defer detach()

	// The engine's clock runs on from one run to the next; its time limit would
	// be for all of them.
	if err := ok("Highs_zeroAllClocks", l.c.zeroAllClocks(h)); err != nil {
		return Unknown, err
	}
	code := l.runOnThread(h, o.threads())
	status := l.c.getModelStatus(h)
	if status == solveError && o.Presolve != Off {
		// HiGHS 1.12 reduces some small programs without a point to nothing,
		// calls that optimal, and sees in the end that the point it put
		// together breaks a bound. Unreduced, it solves them.
		s := &setter{c: &l.c, h: h}
		s.string("presolve", Off.option())
		s.note("Highs_clearSolver", l.c.clearSolver(h), "after", "a failed run")
		if s.err != nil {
			return Unknown, s.err
		}
		code = l.runOnThread(h, o.threads())
		status = l.c.getModelStatus(h)
	}
	if err := ok("Highs_run", code, "model status ", status); err != nil {
		return Unknown, err
	}
	if modelStatus[status] == Interrupted && w.workUp.Load() && !w.stop.Load() {
		return WorkUp, nil
	}
	return modelStatus[status], nil
}

// runOnThread calls the engine's run. The engine keeps its pool of workers in
// memory that belongs to the thread of the operating system, and refuses to run
// with another number of threads than the pool has. Go moves goroutines between
// such threads, so a pool of more than one must not outlive its run. The pool of
// one is no more than a place in memory, and may stay.
func (l *Library) runOnThread(h uintptr, threads int) int32 {
	if threads == 1 {
		return l.c.run(h)
	}
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	l.c.resetGlobalScheduler(1)
	defer l.c.resetGlobalScheduler(1)
	return l.c.run(h)
}

// info reads the engine's figures about the last run, keeping the first error.
type info struct {
	c   *calls
	h   uintptr
	err error
}

func (i *info) note(function string, status int32, name string) {
	if i.err == nil {
		i.err = ok(function, status, name)
	}
}

func (i *info) int(name string) (value int32) {
	i.note("Highs_getIntInfoValue", i.c.getIntInfoValue(i.h, name, &value), name)
	return value
}

func (i *info) int64(name string) (value int64) {
	i.note("Highs_getInt64InfoValue", i.c.getInt64InfoValue(i.h, name, &value), name)
	return value
}

func (i *info) float(name string) (value float64) {
	i.note("Highs_getDoubleInfoValue", i.c.getDoubleInfoValue(i.h, name, &value), name)
	return value
}

// iterations adds up every method's iterations in the last run.
func (i *info) iterations() int64 {
	var sum int64
	for _, name := range [...]string{"simplex_iteration_count", "ipm_iteration_count", "crossover_iteration_count"} {
		sum += int64(max(i.int(name), 0))
	}
	return sum
}

// solutionIs tells whether the engine holds a point that keeps every row and
// bound ("primal"), or prices for it ("dual").
func (i *info) solutionIs(side string) bool { return i.int(side+"_solution_status") == 2 }

// Status says what a run found out about the program. Whether the calls
// themselves worked is told by the error beside it.
type Status int8

// The states of a program after a run.
const (
	Unknown               Status = iota // not run, or the engine gave up
	Optimal                             // solved: no better point exists, up to the engine's tolerances
	WithinGap                           // a point is known, and proven to be within the gap asked for
	Infeasible                          // no point keeps every row and bound
	Unbounded                           // the objective falls without end
	InfeasibleOrUnbounded               // one of the two; the engine stopped before it knew which
	CutoffReached                       // no point is better than the cutoff asked for
	TargetReached                       // a point is known that is better than the target asked for
	TimeUp                              // the time limit ended the run
	WorkUp                              // a limit on iterations, nodes or solutions ended the run
	Interrupted                         // the context ended the run
)

var statusNames = [...]string{
	"unknown", "optimal", "within gap", "infeasible", "unbounded", "infeasible or unbounded",
	"cutoff reached", "target reached", "time up", "work up", "interrupted",
}

func (s Status) String() string {
	if s < 0 || int(s) >= len(statusNames) {
		return fmt.Sprintf("status %d", int8(s))
	}
	return statusNames[s]
}

// Proven reports whether more work could change nothing about the answer.
func (s Status) Proven() bool {
	switch s {
	case Optimal, Infeasible, Unbounded, InfeasibleOrUnbounded, CutoffReached:
		return true
	}
	return false
}

// modelStatus translates the engine's own numbers. Those not listed are
// faults of loading, presolving or solving, or say nothing.
var modelStatus = map[int32]Status{
	6:  Optimal, // no variable and no row: the objective is the offset
	7:  Optimal,
	8:  Infeasible,
	9:  InfeasibleOrUnbounded,
	10: Unbounded,
	11: CutoffReached,
	12: TargetReached,
	13: TimeUp,
	14: WorkUp,
	16: WorkUp,
	17: Interrupted,
}

// solveError is the engine's number for a run that failed.
const solveError = 4

// CallError is a call the engine refused.
type CallError struct {
	Function string // its name in the C interface
	Status   int32  // what it returned: -1 stands for an error
	Detail   string // what was asked of it, or ""
}

func (e *CallError) Error() string {
	if e.Detail != "" {
		return fmt.Sprintf("highs: %s (%s) failed with status %d", e.Function, e.Detail, e.Status)
	}
	return fmt.Sprintf("highs: %s failed with status %d", e.Function, e.Status)
}

// ok makes an error of a call's status. 1 is a warning, such as about a very
// small coefficient taken as zero; the call has done its work.
func ok(function string, status int32, detail ...any) error {
	if status == 0 || status == 1 {
		return nil
	}
	return &CallError{Function: function, Status: status, Detail: fmt.Sprint(detail...)}
}
