package cpsat

import "fmt"

// Status is what a solve found out about its model. That the engine refused
// the model is not a Status but an error.
type Status int32

// The numbers are those of CpSolverStatus.
const (
	// Unknown: a limit or a stop came before anything was found.
	Unknown Status = 0
	// Feasible: there is a solution, not proven best.
	Feasible Status = 2
	// Infeasible: proven to have no solution.
	Infeasible Status = 3
	// Optimal: the solution is the best, or within the gap that Params allow, or
	// there is no objective.
	Optimal Status = 4

	invalid Status = 1
)

var statusText = map[Status]string{
	Unknown: "unknown", invalid: "model invalid", Feasible: "feasible",
	Infeasible: "infeasible", Optimal: "optimal",
}

// String is the status in lower case.
func (s Status) String() string {
	if text, ok := statusText[s]; ok {
		return text
	}
	return fmt.Sprintf("status %d", int32(s))
}

// HasSolution reports whether a solution comes with this status.
func (s Status) HasSolution() bool { return s == Feasible || s == Optimal }
