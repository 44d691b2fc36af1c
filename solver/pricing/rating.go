package pricing

import (
	"cmp"
	"slices"

	"primaprova/solver/instance"
)

// StageCharges are what a part's stages cost by day, counted from part.lo;
// +Inf where the stage may not lie.
type StageCharges struct {
	Listen, Read, Rec []float64
}

// PricedFrame is a frame with the cost of the part in it.
type PricedFrame struct {
	instance.Frame
	Cost float64
}

// Reset makes room for a part of n days and forbids every day.
func (c *StageCharges) Reset(n int) {
	for _, s := range []*[]float64{&c.Listen, &c.Read, &c.Rec} {
		if cap(*s) < n {
			*s = make([]float64, n)
		}
		*s = (*s)[:n]
		for i := range *s {
			(*s)[i] = instance.Inf
		}
	}
}

// Keep forbids the days on which a solution has no room for a part's stages. Where a bare
// one has, in which others' listening and recordings are lifted, they cost that much
// more: something has to give way.
func (c *StageCharges) Keep(q *instance.Part, s, bare *instance.Solution, more float64) {
	for at := range c.Read {
		d := q.Lo + at
		yield := func(cost *float64, fits func(s *instance.Solution) bool) {
			switch {
			case fits(s):
			case fits(bare):
				*cost += more
			default:
				*cost = instance.Inf
			}
		}
		yield(&c.Listen[at], func(s *instance.Solution) bool { return s.Hearable(q, d) })
		yield(&c.Read[at], func(s *instance.Solution) bool { return s.Playable(d, q.Read) })
		yield(&c.Rec[at], func(s *instance.Solution) bool { return s.Listenable(d, q.Rec) })
	}
}

// Square gives a matrix of n+1 by n+1 zeros on top of old.
func Square(old [][]float64, n int) [][]float64 {
	if cap(old) < n+1 {
		old = make([][]float64, n+1)
	}
	old = old[:n+1]
	for i := range old {
		if cap(old[i]) < n+1 {
			old[i] = make([]float64, n+1)
		}
		old[i] = old[i][:n+1]
		clear(old[i])
	}
	return old
}

// BestFrames gives the `want` cheapest frames of a box, the cheapest first,
// given the passages' costs by frame (DP.Frames) and their cost when no
// read-through is placed (DP.Unread). Of the frames with the same read-through it keeps
// the one with the cheapest end of the first round. Ties go to the earlier day.
func BestFrames(q *instance.Part, w instance.Weights, sum [][]float64, c *StageCharges, empty float64, want int, b instance.Box) []PricedFrame {
	out, back := readsOf(q, w, c, b), c.returns(q, w)
	for n, f := range out {
		out[n] = bestPhi(q, sum, f, b, back)
	}
	if !q.ReadDone {
		out = append(out, unreadFrame(q, w, c, empty))
	}
	slices.SortStableFunc(out, func(a, b PricedFrame) int { return cmp.Compare(a.Cost, b.Cost) })
	return out[:min(want, len(out))]
}

// back is the cheapest return to the recordings on a day with index i or later, or its
// worth: its cost and its day.
type back struct {
	cost float64
	day  instance.Day
}

// returns gives the cheapest returns by the index of the first day after the first round.
func (c *StageCharges) returns(q *instance.Part, w instance.Weights) []back {
	n := len(c.Rec)
	out := make([]back, n+1)
	out[n] = back{0, instance.None}
	if q.Rec > 0 {
		out[n].cost = w.Coverage * float64(q.RecWorth)
	}
	for i := n - 1; i >= 0; i-- {
		out[i] = out[i+1]
		if q.Rec > 0 && c.Rec[i] <= out[i].cost {
			out[i] = back{c.Rec[i], instance.Day(q.Lo + i)}
		}
	}
	return out
}

// readsOf gives the frames of a box but for the ends of their first rounds and what comes
// after them, one for each day ρ of the read-through, with what their stages cost: its
// charge, and the cheapest listening on a day ≤ ρ.
func readsOf(q *instance.Part, w instance.Weights, c *StageCharges, b instance.Box) []PricedFrame {
	n := len(c.Read)
	var out []PricedFrame
	if q.ReadDone {
		late, at := c.late(q, w.Coverage)
		return []PricedFrame{{instance.Frame{Listen: at, Read: instance.Before, Rec: instance.None, Phi: 0}, late}}
	}
	listen, listenAt := instance.Inf, instance.Day(instance.None)
	for g := 1; g <= n; g++ {
		if c.Listen[g-1] < listen {
			listen, listenAt = c.Listen[g-1], instance.Day(q.Lo+g-1)
		}
		base := c.Read[g-1]
		if q.Listen > 0 {
			base += listen
		}
		if base < instance.Inf && b.Reads(q.Lo+g-1) {
			out = append(out, PricedFrame{instance.Frame{Listen: listenAt, Read: instance.Day(q.Lo + g - 1), Rec: instance.None, Phi: 0}, base})
		}
	}
	return out
}

// late gives the cheapest day of a listening that was not done before the
// read-through, and its cost there or left out.
func (c *StageCharges) late(q *instance.Part, coverage float64) (cost float64, day instance.Day) {
	if q.Listen == 0 {
		return 0, instance.None
	}
	cost, day = coverage*float64(q.ListenWorth), instance.None
	for at, charge := range c.Listen {
		if charge < cost || day == instance.None && charge <= cost {
			cost, day = charge, instance.Day(q.Lo+at)
		}
	}
	return cost, day
}

// columnOf gives the place of a frame's read-through among what DP.Frames adds to.
func columnOf(q *instance.Part, f instance.Frame) int {
	if f.Read == instance.Before {
		return 0
	}
	return int(f.Read) - q.Lo + 1
}

// unreadFrame gives the cheapest frame without a read-through, and its cost where the
// passages cost so much.
func unreadFrame(q *instance.Part, w instance.Weights, c *StageCharges, passages float64) PricedFrame {
	f := PricedFrame{instance.Frame{Listen: instance.None, Read: instance.None, Rec: instance.None, Phi: instance.None}, passages + w.Coverage*float64(q.ReadWorth)}
	if q.Rec > 0 {
		f.Cost += w.Coverage * float64(q.RecWorth)
	}
	if q.Listen == 0 {
		return f
	}
	listen, at := instance.Inf, instance.Day(instance.None)
	for i, cost := range c.Listen {
		if cost < listen {
			listen, at = cost, instance.Day(q.Lo+i)
		}
	}
	if left := w.Coverage * float64(q.ListenWorth); left < listen {
		f.Cost += left
	} else {
		f.Cost += listen
		f.Listen = at
	}
	return f
}

// bestPhi completes a frame with the cheapest end of its first round in a box, and the
// cheapest return to the recordings after that.
func bestPhi(q *instance.Part, sum [][]float64, f PricedFrame, b instance.Box, after []back) PricedFrame {
	// A first round that ends before the read-through has no first visits, but
	// third visits may lie before it where the visits before them were done.
	best, g := instance.Inf, columnOf(q, f.Frame)
	for n := range sum {
		i := (g + n) % len(sum)
		if cost := sum[i][g] + after[max(i, g)].cost; cost < best && b.Ends(q.Lo+i-1) {
			best = cost
			f.Phi, f.Rec = instance.Day(q.Lo+i-1), after[max(i, g)].day
		}
	}
	f.Cost += best
	return f
}

// Complete gives a frame with its read-through on day r and its first round
// until phi the cheapest days of its other stages, and what its stages cost.
func (c *StageCharges) Complete(q *instance.Part, r, phi instance.Day, coverage float64) (float64, instance.Frame) {
	f := instance.Frame{Listen: instance.None, Read: r, Rec: instance.None, Phi: phi}
	cost, at := 0.0, -1
	if r == instance.Before {
		cost, f.Listen = c.late(q, coverage)
	}
	if r >= 0 {
		at = int(r) - q.Lo
		cost = c.Read[at]
		if q.Listen > 0 {
			d := q.WinLo - q.Lo + cheapest(c.Listen[q.WinLo-q.Lo:at+1])
			f.Listen = instance.Day(q.Lo + d)
			cost += c.Listen[d]
		}
	}
	if q.Rec > 0 {
		left := coverage * float64(q.RecWorth)
		if from := max(at+1, int(phi)+1-q.Lo, q.RecLo-q.Lo); r != instance.None && from <= q.RecHi-q.Lo { // not without a read-through
			if d := from + cheapest(c.Rec[from:q.RecHi-q.Lo+1]); c.Rec[d] <= left {
				left, f.Rec = c.Rec[d], instance.Day(q.Lo+d)
			}
		}
		cost += left
	}
	return cost, f
}

// cheapest gives the place of the least cost, the first of equals.
func cheapest(costs []float64) int {
	at := 0
	for i, c := range costs {
		if c < costs[at] {
			at = i
		}
	}
	return at
}
