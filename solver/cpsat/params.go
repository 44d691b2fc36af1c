package cpsat

import (
	"fmt"
	"math"
	"time"

	"google.golang.org/protobuf/encoding/protowire"
)

// Params are the settings of one solve. The zero Params solves to proven
// optimality, with one worker, reproducibly, without limit.
type Params struct {
	// Workers is the number of threads that search. 0 means 1, at most 10,000.
	// With two or more the same input may give another plan of the same worth.
	Workers int
	// Seed varies the search. Any value; default 0.
	Seed int32

	// Work limits each worker, by the engine's own count of work done (its
	// "deterministic time", roughly seconds of one core). 0 means no limit.
	Work float64
	// MaxTime limits the wall clock. Not reproducible: prefer Work. 0 means no limit.
	MaxTime time.Duration
	// FirstSolution ends the search with the first solution.
	FirstSolution bool

	// AbsoluteGap ends the search, as Optimal, when objective and bound differ
	// by at most this much, in the objective's unit. Default 0: proven best.
	// (The engine's own default is 0.0001, too much once an objective is scaled.)
	AbsoluteGap float64
	// RelativeGap likewise, as a share of the objective, its constant included.
	// Default 0.
	RelativeGap float64

	// Relaxation says how much of the model goes into linear relaxations.
	// Default UsualRelaxation.
	Relaxation Relaxation
	// HintConflicts is how much is spent on following a hint at first, in
	// conflicts. 0 means 10.
	HintConflicts int
	// FixHint gives every hinted variable its hinted value, for good: is this
	// plan a solution? Default: no.
	FixHint bool

	// Log keeps the engine's log in Response.Log. Default: none is written.
	Log bool
}

// Relaxation says how much of a model the engine puts into linear relaxations.
type Relaxation int

const (
	UsualRelaxation Relaxation = iota // the engine's default: linear constraints mostly
	NoRelaxation                      // none: often better for pure scheduling
	FullRelaxation                    // Boolean constraints too: often better for integer programs
)

// level is the engine's linearization_level.
func (r Relaxation) level() int64 { return [...]int64{1, 0, 2}[r] }

// check returns what is wrong with p. The engine would refuse some of it
// itself; not all.
func (p Params) check() error {
	switch {
	case p.Workers < 0 || p.Workers > 10000:
		return fmt.Errorf("cpsat: %d workers, where 0 to 10000 can be", p.Workers)
	case p.MaxTime < 0:
		return fmt.Errorf("cpsat: a time limit of %v, which is negative", p.MaxTime)
	case !(p.Work >= 0):
		return fmt.Errorf("cpsat: a work limit of %v, which is no amount", p.Work)
	case !(p.AbsoluteGap >= 0) || math.IsInf(p.AbsoluteGap, 1):
		return fmt.Errorf("cpsat: an absolute gap of %v, which is no amount", p.AbsoluteGap)
	case !(p.RelativeGap >= 0) || math.IsInf(p.RelativeGap, 1):
		return fmt.Errorf("cpsat: a relative gap of %v, which is no share", p.RelativeGap)
	case p.HintConflicts < 0 || p.HintConflicts > math.MaxInt32:
		return fmt.Errorf("cpsat: %d hint conflicts, which is no number of them", p.HintConflicts)
	case p.Relaxation < UsualRelaxation || p.Relaxation > FullRelaxation:
		return fmt.Errorf("cpsat: relaxation %d does not exist", p.Relaxation)
	}
	return nil
}

// encode writes p as a SatParameters, a proto2 message: what equals zero is
// written too, or the engine's default would hold. All that this package
// relies on is sent, since defaults have moved between releases.
//
// Presolve always runs, less what loses solutions in 9.15. As the engine has
// it by default it proves best what is not, and calls infeasible what is not
// (reported upstream as 5274 and 5293; about one random model in ten thousand). Two
// switches, 173 and 201, remove every case seen in what this package offers:
// none was left in 90,000 small random models held against all their points. It
// is no way out to turn presolve off, as the engine then crashed on cumulatives
// that wait for a literal, which are not offered here, nor to allow it no rounds
// (138), as it then calls some ExactlyOnes infeasible that are not.
func (p Params) encode() []byte {
	limit := func(x float64) float64 {
		if x == 0 {
			return math.Inf(1)
		}
		return x
	}
	orElse := func(n, zero int) int64 {
		if n == 0 {
			return int64(zero)
		}
		return int64(n)
	}
	var b []byte
	number := func(field protowire.Number, n int64) {
		b = protowire.AppendTag(b, field, protowire.VarintType)
		b = protowire.AppendVarint(b, uint64(n))
	}
	flag := func(field protowire.Number, on bool) { number(field, int64(protowire.EncodeBool(on))) }
	amount := func(field protowire.Number, x float64) { b = appendDouble(b, field, x) }

	number(31, int64(p.Seed))
	amount(36, limit(p.MaxTime.Seconds()))
	flag(41, p.Log)           // log_search_progress
	amount(67, limit(p.Work)) // max_deterministic_time
	number(82, 0)             // search_branching: automatic
	flag(86, true)            // cp_model_presolve
	flag(87, false)           // enumerate_all_solutions
	number(90, p.Relaxation.level())
	flag(98, p.FirstSolution) // stop_after_first_solution
	flag(135, false)          // catch_sigint_signal: it would take the program's own handler away
	flag(136, false)          // interleave_search: seen to crash, and not quite reproducible
	number(138, 1)            // max_presolve_iterations: more take longer than they save, on models as small as ours
	number(153, orElse(p.HintConflicts, 10))
	amount(159, p.AbsoluteGap)
	amount(160, p.RelativeGap)
	flag(167, false)     // repair_hint: seen to repair to what breaks constraints, which aborts
	flag(173, true)      // keep_all_feasible_solutions_in_presolve
	flag(180, false)     // use_absl_random: seeded from elsewhere, so not reproducible
	flag(186, false)     // log_to_stdout: standard output belongs to the program
	flag(187, p.Log)     // log_to_response
	flag(192, p.FixHint) // fix_variables_to_their_hinted_value
	number(201, 0)       // presolve_inclusion_work_limit
	number(206, orElse(p.Workers, 1))
	return b
}
