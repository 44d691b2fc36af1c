package highs

import "fmt"

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
