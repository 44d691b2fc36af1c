package run

import "slices"

// Params are the numbers that say how much of what is done, in which order, and what is not. Where one
// was measured docs/lab.md has the table; the others are what worked at first, and were not swept
// (go run ./cmd/bench sweep does that). Numbers of the engines' tolerances, and those that an algorithm's
// correctness rests on, stand beside it.
type Params struct {
	Off   []string // operators (Operators) that are left out
	Short bool     // a season of so few weeks that seconds are waited for (Shortened): what can't win any more is left

	Anneal      [5]Schedule // by the wish that is worked at
	Mending     Schedule    // where a plan is brought under limits: cold, since what a dive reached is far better than where hot moves come to rest
	AnnealAgain int         // times that coverage is worked at once more while above its bound, where no dive follows
	AnnealLess  int         // by which moves are divided where a dive takes the place of what they find
	Around      int         // percent of moves up to which passages around one are lifted, shares of frames included,
	OnDays      int         // and up to which those of its days are; the rest lifts one alone
	Moves       [5]int      // of annealing, for each passage, by wish; at least LeastMoves in all
	LeastMoves  int
	Mend        int    // moves for each passage where a dive left something lacking
	BoundRounds [5]int // of pricing for a bound, by wish

	CompactSize               int        // visit-days up to which the compact program is solved at the end
	CompactWork, CompactLeast int64      // iterations for all wishes of it together, and with a small budget at least; whatever its size, each takes some 0.3 ms of a core
	CompactSecond             [5]float64 // of CP-SAT for a wish that could not be proven, in its own count (about a second of a core for each 1)
	CompactRate               float64    // iterations that 1 of that counts as
	CompactAlone              int64      // iterations for coverage where CP-SAT is not to be had
	CompactMoves              int        // of annealing before a wish of it, once something could not be proven
	CompactPatience           int64      // iterations without a better plan after which a wish is left (highs.Options.Patience)
	CompactReach              int        // visit-days up to which larger ones get it beside the columns
	CompactBrief              int        // days of a season up to which a quarter of that is the reach of spacing, and that is short (Shortened)
	CompactEach               int64      // iterations for each wish of those
	StripDays, StripPasses    int        // of those, days of a strip in which a wish is bettered first, and times through the season, at most
	StripEach                 int64      // iterations for each

	// Fixing frames: parts together at least, frames tried for each, rounds of pricing for each of them.
	FixParts, FixTries, FixRounds int

	// Searching frames: work for each part (iterations × rows), sweeps over the parts, days that a move
	// reaches, frames it tries, rounds of pricing for each, and what a move saves at least (days).
	FrameWork, FrameSweeps            int
	FrameReach                        int
	FrameTries, FrameRounds           int
	FrameLeast                        float64
	PerturbMore                       int      // perturbations beside one for each stretch
	PerturbLeast, PerturbHope         float64  // days saved for each part that another is worth; hope added to what they brought
	PerturbShare                      float64  // of the parts that are kicked
	PerturbReach, PerturbSweeps       int      // days at most; sweeps of the search after it
	RecombineMost                     int      // programmes in a row, at most
	DivePassages                      int      // made whole by one dive, at least
	DiveRounds                        int      // of pricing before it
	FillSide, FillMost, FillSweeps    int      // parts side by side; passages freed over a standing plan up to which another start is tried where one won nothing; sweeps
	FillWhole                         int      // spread plans made whole over a standing plan, at most
	FillHope, FillMore                float64  // share of what that costs that they promise to save, at least, from the second round on; and where more passages are freed
	FillRounds                        [5]int   // by wish
	FillReach                         int      // days that a move reaches
	FillTries                         int      // frames that it tries
	FillLeast                         float64  // that it saves at least
	SubRounds, RepairRounds           int      // of pricing a sub-MIP, in passes and in repairs
	WorthIt                           float64  // by which a sub-MIP betters what it aims at, at least
	Fast, Slow                        DiveRate // of dives: of the whole season, and around a few parts
	RepairPassages                    int      // freed together where whole passages are repaired
	Passes                            []Pass   // of the season, in their order: with less work the first ones, two at least; with more the last goes on
	ShortPasses                       []Pass   // in their place where a season is short
	Stripes                           int      // stretches gone through side by side, at most
	TradeFirst, TradeLeast            float64  // days of spacing that a minute of body weighs at first, and at least
	TradeRange                        float64  // factor by which that may change in a pass
	RepairDays                        int      // of a strip in which something is won back
	Thorough, Brief                   Care     // of repairs: after a dive, and where somebody waits
	BranchWork, BranchWorkBefore      int      // of trees, for each part: of body and spacing, and of a wish before
	BranchParts, BranchTurn           int      // parts of a subproblem, at most; nodes that a tree grows by at a time
	TryRounds, NodeRounds, RootRounds int      // of pricing a node: in trial, to its end, at the root
	TryMost, TryReliable              int      // candidates tried at a node; times after which they are only tried if they promise most
	Near, NearStanding                float64  // share of the master's value at which its bound is near enough; over a standing plan, where somebody waits

	HoursWork float64 // of a day's hours, in CP-SAT's own count (about a second of a core for each 1); half of it where what stood is held fast

	// Whether a demand fits: moves for each passage that does not lie as it stands, and in all at least and
	// at most; iterations of an engine's run, and visit-days of its program at most (larger ones take
	// minutes to come to nothing); orders that are tried, and days by which sessions trade places in them.
	JudgeMoves, JudgeLeast, JudgeMost int
	JudgeWork                         int64
	JudgeSize                         int
	DueTries, DueSpread               int

	// Why something is left out. Work is in about a microsecond of a core of 2024 (oracle/oracle.go).
	AskRuns                          int   // of the engine in an inquiry, at most
	ReasonWork, OfferWork, AloneWork int64 // of a reason, of an offer, of one asked about alone
	Swaps                            int   // times a set is looked for without the facts of which it could not be told whether they can be spared
	SettleMoves, PolishMoves         int   // of a plan with an offer taken; for each of its free passages, at most 50
	EarlierMost                      int   // parts offered to come earlier
	PartDays, PartMost               int   // by which a part comes earlier where that helps only in part; parts tried
	PriceRounds                      int   // of pricing where days are compared
}

// Pass is one time through the season by sub-MIPs.
type Pass struct {
	Operator   string  // whose neighbourhoods are freed: Passages, Strips, or a new one
	Size       int     // of each: passages, or days
	Iterations int64   // of each integer program, at most
	Noise      float64 // added to costs, at most, so that what costs the same is told apart
	Repair     bool    // what found no room is tried again after it, with the days emptier
}

// Schedule says how annealing works at a wish.
type Schedule struct {
	Charge         [5]float64 // what proposals charge for a unit of each wish
	Heat, Cold     float64    // that a move may cost, at the beginning and at the end, in units of the goal
	Reframe, Nudge int        // percent of the moves that take whole parts out, and that move a frame a little
}

// DiveRate is how a dive goes down.
type DiveRate struct {
	Share  float64 // of the blocks left that are placed at a time
	Rounds int     // of pricing the others then
}

// Care is how much a repair takes.
type Care struct {
	Passes     int
	Iterations int64   // of each integer program, at most
	PerUnit    int64   // of the wish that its linear program promises; 0: no matter
	Gap        float64 // that is near enough
	Whole      bool    // where strips bring nothing, whole passages are tried
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
