package run

import "primaprova/model"

// Tuned are the ordinary parameters.
var Tuned = Params{
	// The charges of the wishes after the goal are so small that they only choose between equals, or near
	// equals while it is hot; those of the wishes before it are what giving up a little of them would be
	// worth, so that the goal is looked for where they are not wasted.
	Anneal: [5]Schedule{
		model.Coverage:  {Charge: charge(1e3, 10, 1, 0.05, 0.01), Heat: 3, Cold: 0.5, Reframe: 40, Nudge: 10},
		model.ReadyBy:   {Charge: charge(1e4, 100, 1, 0.05, 0.01), Heat: 3, Cold: 0.2, Reframe: 10, Nudge: 30},
		model.Closeness: {Charge: charge(1e6, 1e4, 10, 0.1, 0.05), Heat: 1, Cold: 0.1, Reframe: 10, Nudge: 20},
		model.Body:      {Charge: charge(1e6, 1e4, 1e2, 1, 0.1), Heat: 6, Cold: 0.3, Reframe: 2, Nudge: 25},
		model.Spacing:   {Charge: charge(1e6, 1e4, 1e2, 3, 1), Heat: 1.5, Cold: 0.1, Reframe: 2, Nudge: 25},
	},
	Mending:     Schedule{Charge: charge(1e6, 1e4, 1e2, 3, 1), Heat: 0.3, Cold: 0.02, Reframe: 2, Nudge: 25},
	AnnealAgain: 2, AnnealLess: 4, Around: 55, OnDays: 80,
	Moves:       [5]int{model.Coverage: 50, model.ReadyBy: 50, model.Closeness: 200, model.Body: 300, model.Spacing: 20},
	LeastMoves:  2000,
	Mend:        200,
	BoundRounds: [5]int{60, 60, 60, 80, 80},
	CompactSize: 1500, CompactWork: 26_000, CompactLeast: 6_000, CompactAlone: 150_000,
	CompactSecond: [5]float64{model.Coverage: 1, model.Body: 0.4, model.Spacing: 2.5}, CompactRate: 4000, CompactMoves: 10_000, CompactPatience: 30_000,
	CompactReach: 10_000, CompactBrief: 35, CompactEach: 30_000, StripDays: 14, StripPasses: 6, StripEach: 10_000,
	FixParts: 30, FixTries: 5, FixRounds: 10,
	FrameWork: 17_000_000, FrameSweeps: 4, FrameReach: 4, FrameTries: 4, FrameRounds: 8, FrameLeast: 0.5,
	PerturbMore: 3, PerturbLeast: 0.04, PerturbHope: 0.05, PerturbShare: 0.6, PerturbReach: 3, PerturbSweeps: 2,
	RecombineMost: 4,
	DivePassages:  600, DiveRounds: 15,
	FillSide: 2, FillWhole: 6, FillMost: 150, FillHope: 0.07, FillMore: 0.15, FillSweeps: 5, FillRounds: [5]int{model.Coverage: 3, model.ReadyBy: 1}, FillReach: 14, FillTries: 6, FillLeast: 100,
	SubRounds: 30, RepairRounds: 12, WorthIt: 0.1, Fast: DiveRate{0.15, 2}, Slow: DiveRate{0.05, 4},
	RepairPassages: 60,
	Passes: []Pass{{Passages, 60, 2500, 0, false}, {Strips, 21, 2500, 0, true}, {Strips, 28, 5000, 0, false},
		{Strips, 21, 5000, 0, false}, {Strips, 21, 2500, 0.02, false}},
	ShortPasses: []Pass{{Strips, 14, 2500, 0, true}, {Strips, 14, 2500, 0, false}, {Strips, 21, 2500, 0, false},
		{Strips, 14, 2500, 0.02, false}, {Strips, 21, 2500, 0.02, false}},
	Stripes: 6, TradeFirst: 1.5, TradeLeast: 0.25, TradeRange: 1.25,
	RepairDays: 21, Thorough: Care{5, 10_000, 0, 0.1, true}, Brief: Care{3, 5000, 300, 0.5, false},
	BranchWork: 3_400_000, BranchWorkBefore: 500_000, BranchParts: 12, BranchTurn: 10,
	TryRounds: 3, NodeRounds: 60, RootRounds: 200, TryMost: 5, TryReliable: 2,
	Near: 0.002, NearStanding: 0.02,
	HoursWork:  0.1,
	JudgeMoves: 200, JudgeLeast: 300, JudgeMost: 1500, JudgeWork: 30_000, JudgeSize: 4_000, DueTries: 30, DueSpread: 5,
	AskRuns: 60, ReasonWork: 3_000_000, OfferWork: 1_500_000, AloneWork: 2_000_000,
	Swaps: 6, SettleMoves: 1000, PolishMoves: 10, EarlierMost: 3, PartDays: 14, PartMost: 3, PriceRounds: 12,
}

func charge(coverage, ready, closeness, body, spacing float64) [5]float64 {
	return [5]float64{model.Coverage: coverage, model.ReadyBy: ready, model.Closeness: closeness, model.Body: body, model.Spacing: spacing}
}
