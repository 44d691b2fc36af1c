package run

import (
	"slices"

	"primaprova/model"
)

// Params are the numbers that say how much of what is done, and what is not. Where one was measured
// docs/lab.md has the table; the others are what worked at first, and were not swept. Numbers of the
// engines' tolerances, and those that an algorithm's correctness rests on, stand beside it.
type Params struct {
	Off []string // operators (Operators) that are left out

	Moves       [5]int // of annealing, for each passage, by wish; at least LeastMoves in all
	LeastMoves  int
	Mend        int    // moves for each passage where a dive left something lacking
	BoundRounds [5]int // of pricing for a bound, by wish

	CompactSize int   // visit-days up to which the compact program is solved at the end
	CompactWork int64 // iterations for each wish of it

	// Fixing frames: parts together at least, frames tried for each, rounds of pricing for each of them.
	FixParts, FixTries, FixRounds int

	// Searching frames: work for each part (iterations × rows), sweeps over the parts, days that a move
	// reaches, frames it tries, rounds of pricing for each, and what a move saves at least (days).
	FrameWork, FrameSweeps            int
	FrameReach                        int16
	FrameTries, FrameRounds           int
	FrameLeast                        float64
	PerturbMore                       int     // perturbations beside one for each stretch
	PerturbLeast, PerturbHope         float64 // days saved for each part that another is worth; hope added to what they brought
	PerturbShare                      float64 // of the parts that are kicked
	PerturbReach, PerturbSweeps       int     // days at most; sweeps of the search after it
	RecombineMost                     int     // programmes in a row, at most
	DivePassages                      int     // made whole by one dive, at least
	DiveRounds                        int     // of pricing before it
	FillSide, FillMost, FillSweeps    int     // parts side by side; passages freed for another time over a standing plan; sweeps
	FillRounds                        [5]int  // by wish
	FillReach                         int16   // days that a move reaches
	FillTries                         int     // frames that it tries
	FillLeast                         float64 // that it saves at least
	Passages                          int     // freed by a neighbourhood of whole passages
	Passes                            []Pass  // of the season, in their order; the last goes on with a larger budget
	Stripes                           int     // stretches gone through side by side, at most
	TradeFirst, TradeLeast            float64 // days of spacing that a minute of body weighs at first, and at least
	TradeRange                        float64 // factor by which that may change in a pass
	RepairDays                        int     // of a strip in which something is won back
	Thorough, Brief                   Care    // of repairs: after a dive, and where somebody waits
	BranchWork, BranchWorkBefore      int     // of trees, for each part: of body and spacing, and of a wish before
	BranchParts, BranchTurn           int     // parts of a subproblem, at most; nodes that a tree grows by at a time
	TryRounds, NodeRounds, RootRounds int     // of pricing a node: in trial, to its end, at the root
	TryMost, TryReliable              int     // candidates tried at a node; times after which they are only tried if they promise most
}

// Pass is one time through the season by sub-MIPs.
type Pass struct {
	Days       int     // of a strip; 0: whole passages
	Iterations int64   // of each integer program, at most
	Noise      float64 // added to costs, at most, so that what costs the same is told apart
}

// Care is how much a repair takes.
type Care struct {
	Passes     int
	Iterations int64   // of each integer program, at most
	PerUnit    int64   // of the wish that its linear program promises; 0: no matter
	Gap        float64 // that is near enough
	Whole      bool    // where strips bring nothing, whole passages are tried
}

// Tuned are the ordinary parameters.
var Tuned = Params{
	Moves:       [5]int{model.Coverage: 50, model.ReadyBy: 50, model.Closeness: 200, model.Body: 300, model.Spacing: 20},
	LeastMoves:  2000,
	Mend:        200,
	BoundRounds: [5]int{60, 60, 60, 80, 80},
	CompactSize: 1500, CompactWork: 150_000,
	FixParts: 30, FixTries: 5, FixRounds: 10,
	FrameWork: 17_000_000, FrameSweeps: 4, FrameReach: 4, FrameTries: 4, FrameRounds: 8, FrameLeast: 0.5,
	PerturbMore: 3, PerturbLeast: 0.04, PerturbHope: 0.05, PerturbShare: 0.6, PerturbReach: 3, PerturbSweeps: 2,
	RecombineMost: 4,
	DivePassages:  600, DiveRounds: 15,
	FillSide: 2, FillMost: 150, FillSweeps: 5, FillRounds: [5]int{model.Coverage: 3, model.ReadyBy: 1}, FillReach: 14, FillTries: 6, FillLeast: 100,
	Passages: 60,
	Passes:   []Pass{{0, 2500, 0}, {21, 2500, 0}, {28, 5000, 0}, {21, 5000, 0}, {21, 2500, 0.02}},
	Stripes:  6, TradeFirst: 1.5, TradeLeast: 0.25, TradeRange: 1.25,
	RepairDays: 21, Thorough: Care{5, 10_000, 0, 0.1, true}, Brief: Care{3, 5000, 300, 0.5, false},
	BranchWork: 3_400_000, BranchWorkBefore: 500_000, BranchParts: 12, BranchTurn: 10,
	TryRounds: 3, NodeRounds: 60, RootRounds: 200, TryMost: 5, TryReliable: 2,
}

// Tuning gives the parameters.
func (o *Options) Tuning() *Params {
	if o.Params == nil {
		return &Tuned
	}
	return o.Params
}

// Does tells whether an operator is not left out.
func (o *Options) Does(operator string) bool { return !slices.Contains(o.Tuning().Off, operator) }
