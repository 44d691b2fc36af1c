package highs

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"time"
)

// Options says how a program is solved and when to stop. The zero value asks
// for a proven optimum on one thread, without limits. Without TimeLimit, on one
// thread, the same program and options give the same answer every time.
type Options struct {
	// Threads is how many threads one run may use. Zero means 1.
	Threads int

	// Seed changes the order in which the engine tries things. Zero is a seed
	// like any other.
	Seed int32

	// TimeLimit ends the run as TimeUp. Zero means none. What has been found by
	// then differs from run to run; prefer a limit on work.
	TimeLimit time.Duration

	// RelGap and AbsGap end a whole-number program when the incumbent is
	// proven to be within that of the best: relative to the incumbent's
	// objective, offset included, or in units of the objective. Either
	// suffices. Zero means 0 for RelGap and 1e-6 for AbsGap.
	RelGap, AbsGap float64

	// LPSolver is the method for linear programs, the first one of a
	// whole-number program included: "simplex", "ipx" (interior point), or any
	// other name the engine knows. Empty leaves the choice to the engine.
	LPSolver string

	// Crossover says whether an interior point becomes a corner, with a basis,
	// at the end. Off is much faster and still gives prices (duals).
	Crossover Choice

	// Presolve says whether the program is reduced first. By default the
	// engine decides: a linear program with a basis is not reduced.
	Presolve Choice

	// MaxNodes and MaxStallNodes end a whole-number program as WorkUp after so
	// many nodes in all, or without improvement. Zero means no limit.
	MaxNodes, MaxStallNodes int32

	// MaxLPIterations ends the run as WorkUp after so many iterations of the
	// simplex or interior point method. For whole-number programs it is looked
	// at between linear programs and after each heuristic's own search, so the
	// run overshoots, always by the same. Zero means no limit.
	MaxLPIterations int64

	// Patience ends a whole-number program as WorkUp when no better point has come
	// for so many iterations, and for three times those that led to the last. Zero means
	// that it is waited for as long as the other limits allow.
	Patience int64

	// Cutoff makes the engine pass over points whose objective is not below
	// it. Nil means none. A linear program ends as CutoffReached when its
	// bound passes it, if the dual simplex method is at work; a whole-number
	// program without a better point ends as CutoffReached too.
	Cutoff *float64

	// Target ends the run as TargetReached at a point whose objective is below
	// it. Nil means none. It is for whole-number programs.
	Target *float64

	// Raw sets options by the engine's names, after all others. Values are
	// bool, int, int32, float64 or string. The log options stay off.
	Raw map[string]any

	// Progress, if set, is told of a whole-number program's progress, at most
	// ten times a second and at each new incumbent. It runs on the solver's
	// thread, which waits for it.
	Progress func(Progress)

	// Enough, if set, is asked whenever the engine looks up from a whole-number
	// program; true ends the run as WorkUp. Unless its answer looks at Seconds,
	// the run ends at the same point every time. It runs on the solver's thread.
	Enough func(Progress) bool

	// Solution, if set, is given each new incumbent of a whole-number program
	// with its objective. The slice is the receiver's to keep. It runs on the
	// solver's thread, which waits for it.
	Solution func(x []float64, objective float64)
}

// Choice is a switch that may be left to the engine.
type Choice int8

// The positions of a Choice.
const (
	Default Choice = iota
	On
	Off
)

func (c Choice) option() string { return [...]string{"choose", "on", "off"}[c] }

func (o *Options) threads() int { return max(o.Threads, 1) }

// setter gathers the first error of many calls.
type setter struct {
	c   *calls
	h   uintptr
	err error
}

func (s *setter) note(function string, status int32, name string, value any) {
	if s.err == nil {
		s.err = ok(function, status, name, " = ", value)
	}
}

func (s *setter) bool(name string, value bool) {
	var as int32
	if value {
		as = 1
	}
	s.note("Highs_setBoolOptionValue", s.c.setBoolOptionValue(s.h, name, as), name, value)
}

func (s *setter) int(name string, value int32) {
	s.note("Highs_setIntOptionValue", s.c.setIntOptionValue(s.h, name, value), name, value)
}

func (s *setter) float(name string, value float64) {
	s.note("Highs_setDoubleOptionValue", s.c.setDoubleOptionValue(s.h, name, value), name, value)
}

func (s *setter) string(name, value string) {
	s.note("Highs_setStringOptionValue", s.c.setStringOptionValue(s.h, name, value), name, value)
}

// apply sets every option afresh, so that none is left of an earlier run.
func (o *Options) apply(c *calls, h uintptr) error {
	s := &setter{c: c, h: h}
	s.note("Highs_resetOptions", c.resetOptions(h), "all", "default")
	s.quiet()
	s.int("threads", int32(o.threads()))
	s.int("random_seed", o.Seed)
	if o.TimeLimit > 0 {
		s.float("time_limit", o.TimeLimit.Seconds())
	}
	s.float("mip_rel_gap", o.RelGap)
	if o.AbsGap > 0 {
		s.float("mip_abs_gap", o.AbsGap)
	}
	if o.LPSolver != "" {
		s.string("solver", o.LPSolver)
		s.string("mip_lp_solver", o.LPSolver)
	}
	// "choose" as the engine has it would cross over at its own discretion,
	// while its default is to do it.
	if o.Crossover != Default {
		s.string("run_crossover", o.Crossover.option())
	}
	s.string("presolve", o.Presolve.option())
	if o.MaxNodes > 0 {
		s.int("mip_max_nodes", o.MaxNodes)
	}
	if o.MaxStallNodes > 0 {
		s.int("mip_max_stall_nodes", o.MaxStallNodes)
	}
	if o.MaxLPIterations > 0 {
		limit := int32(min(o.MaxLPIterations, math.MaxInt32))
		s.int("simplex_iteration_limit", limit)
		s.int("ipm_iteration_limit", limit)
	}
	if o.Cutoff != nil {
		s.float("objective_bound", *o.Cutoff)
	}
	if o.Target != nil {
		s.float("objective_target", *o.Target)
	}
	s.raw(o.Raw)
	s.quiet()
	return s.err
}

func (s *setter) quiet() {
	s.bool("output_flag", false)
	s.bool("log_to_console", false)
}

func (s *setter) raw(options map[string]any) {
	for _, name := range slices.Sorted(maps.Keys(options)) {
		switch value := options[name].(type) {
		case bool:
			s.bool(name, value)
		case int:
			if value != int(int32(value)) {
				s.err = fmt.Errorf("highs: option %s: %d does not fit into 32 bits", name, value)
				return
			}
			s.int(name, int32(value))
		case int32:
			s.int(name, value)
		case float64:
			s.float(name, value)
		case string:
			s.string(name, value)
		default:
			s.err = fmt.Errorf("highs: option %s: %v is of type %T; wanted bool, int, float64 or string", name, value, value)
			return
		}
	}
}
