package pricing

import (
	"slices"

	"primaprova/solver/instance"
)

// Block is what one weight decides: passages[first:last] of a part, and the
// part's frame if whole, in the frame given if not.
type Block struct {
	Part, First, Last int
	Whole             bool
	Held              bool // whole, but with its read-through and first round as the frame has them
	Frame             instance.Frame
	Box               *instance.Box       // whole, but only in frames of a box; nil: in any
	Frees             func(k, d int) bool // a passage, whose visit k may lie on day d; nil: on any
}

// Keeps tells whether a block may take a plan in a frame.
func (u *Block) Keeps(f instance.Frame) bool {
	if u.Box != nil && !u.Box.Holds(f) {
		return false
	}
	return !u.Held || f.Read == instance.None || f.Read == u.Frame.Read && f.Phi == u.Frame.Phi
}

// BlockPlan is a whole part: its frame and, passage by passage, its schedules.
type BlockPlan struct {
	PricedFrame
	Days [][]instance.Day
	S    instance.Score // every wish but body
}

// WholeParts gives the blocks of the whole season.
func WholeParts(p *instance.Instance) []Block {
	out := make([]Block, len(p.Parts))
	for i := range out {
		out[i] = WholePart(p, i)
	}
	return out
}

// WholePart gives a part as a block of a master, in any frame.
func WholePart(p *instance.Instance, i int) Block {
	q := &p.Parts[i]
	return Block{Part: i, First: q.First, Last: q.Last, Whole: true}
}

// PlanOf gives a block as it stands.
func PlanOf(s *instance.Solution, u *Block) BlockPlan {
	pl := BlockPlan{PricedFrame: PricedFrame{Frame: s.Frames[u.Part]}, Days: slices.Clone(s.Sched[u.First:u.Last])}
	if u.Whole {
		pl.S = s.P.StagesScore(&s.P.Parts[u.Part], pl.Frame)
	}
	for k, days := range pl.Days {
		pl.S = pl.S.Plus(s.P.ScheduleScore(&s.P.Passages[u.First+k], days))
	}
	return pl
}
