package solver

import (
	"cmp"
	"slices"
)

// stageCharges are what a part's stages cost by day, counted from part.lo;
// +Inf where the stage may not lie.
type stageCharges struct {
	listen, read, rec []float64
}

// ratedFrame is a frame with the cost of the part in it.
type ratedFrame struct {
	frame
	cost float64
}

// reset makes room for a part of n days and forbids every day.
func (c *stageCharges) reset(n int) {
	for _, s := range []*[]float64{&c.listen, &c.read, &c.rec} {
		if cap(*s) < n {
			*s = make([]float64, n)
		}
		*s = (*s)[:n]
		for i := range *s {
			(*s)[i] = inf
		}
	}
}

// keep forbids the days on which a state has no room for a part's stages. Where a bare
// one has, in which others' listening and recordings are lifted, they cost that much
// more: something has to give way.
func (c *stageCharges) keep(q *part, s, bare *state, more float64) {
	for at := range c.read {
		d := q.lo + at
		yield := func(cost *float64, fits func(s *state) bool) {
			switch {
			case fits(s):
			case fits(bare):
				*cost += more
			default:
				*cost = inf
			}
		}
		yield(&c.listen[at], func(s *state) bool { return s.listenable(d, q.listen) })
		yield(&c.read[at], func(s *state) bool { return s.playable(d, q.read) })
		yield(&c.rec[at], func(s *state) bool { return s.listenable(d, q.rec) })
	}
}

// square gives a matrix of n+1 by n+1 zeros on top of old.
func square(old [][]float64, n int) [][]float64 {
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

// bestFrames gives the `want` cheapest frames of a box, the cheapest first,
// given the passages' costs by frame (recursion.frames) and their cost when no
// read-through is placed (recursion.unread). Of the frames with the same read-through it keeps
// the one with the cheapest end of the first round. Ties go to the earlier day.
func (q *part) bestFrames(w weights, sum [][]float64, c *stageCharges, empty float64, want int, b box) []ratedFrame {
	out := q.reads(w, c, b)
	for n, f := range out {
		out[n] = q.bestPhi(sum, f, b)
	}
	if !q.readDone {
		out = append(out, q.unread(w, c, empty))
	}
	slices.SortStableFunc(out, func(a, b ratedFrame) int { return cmp.Compare(a.cost, b.cost) })
	return out[:min(want, len(out))]
}

// reads gives the frames of a box but for the ends of their first rounds, one for each
// day ρ of the read-through, with what their stages cost: its charge, the cheapest
// listening on a day ≤ ρ, and the cheapest return to the recordings on a day > ρ or its
// worth.
func (q *part) reads(w weights, c *stageCharges, b box) []ratedFrame {
	n := len(c.read)
	var out []ratedFrame
	rec := make([]float64, n+1) // cheapest return on a day with index ≥ i
	recAt := make([]int16, n+1)
	rec[n], recAt[n] = 0, none
	if q.rec > 0 {
		rec[n] = w.coverage * float64(q.recV)
	}
	for i := n - 1; i >= 0; i-- {
		rec[i], recAt[i] = rec[i+1], recAt[i+1]
		if q.rec > 0 && c.rec[i] <= rec[i] {
			rec[i], recAt[i] = c.rec[i], int16(q.lo+i)
		}
	}
	if q.readDone {
		late, at := c.late(q, w.coverage)
		return []ratedFrame{{frame{at, before, recAt[0], 0}, late + rec[0]}}
	}
	listen, listenAt := inf, int16(none)
	for g := 1; g <= n; g++ {
		if c.listen[g-1] < listen {
			listen, listenAt = c.listen[g-1], int16(q.lo+g-1)
		}
		base := c.read[g-1] + rec[g]
		if q.listen > 0 {
			base += listen
		}
		if base < inf && b.reads(q.lo+g-1) {
			out = append(out, ratedFrame{frame{listenAt, int16(q.lo + g - 1), recAt[g], 0}, base})
		}
	}
	return out
}

// late gives the cheapest day of a listening that was not done before the
// read-through, and its cost there or left out.
func (c *stageCharges) late(q *part, coverage float64) (cost float64, day int16) {
	if q.listen == 0 {
		return 0, none
	}
	cost, day = coverage*float64(q.listenV), none
	for at, charge := range c.listen {
		if charge < cost || day == none && charge <= cost {
			cost, day = charge, int16(q.lo+at)
		}
	}
	return cost, day
}

// column gives the place of a frame's read-through among what recursion.frames adds to.
func (q *part) column(f frame) int {
	if f.read == before {
		return 0
	}
	return int(f.read) - q.lo + 1
}

// unread gives the cheapest frame without a read-through, and its cost where the
// passages cost so much.
func (q *part) unread(w weights, c *stageCharges, passages float64) ratedFrame {
	f := ratedFrame{frame{none, none, none, none}, passages + w.coverage*float64(q.readV)}
	if q.rec > 0 {
		f.cost += w.coverage * float64(q.recV)
	}
	if q.listen == 0 {
		return f
	}
	listen, at := inf, int16(none)
	for i, cost := range c.listen {
		if cost < listen {
			listen, at = cost, int16(q.lo+i)
		}
	}
	if left := w.coverage * float64(q.listenV); left < listen {
		f.cost += left
	} else {
		f.cost += listen
		f.listen = at
	}
	return f
}

// bestPhi completes a frame with the cheapest end of its first round in a box.
func (q *part) bestPhi(sum [][]float64, f ratedFrame, b box) ratedFrame {
	// A first round that ends before the read-through has no first visits, but
	// third visits may lie before it where the visits before them were done.
	best, g := inf, q.column(f.frame)
	for n := range sum {
		if i := (g + n) % len(sum); sum[i][g] < best && b.ends(q.lo+i-1) {
			best = sum[i][g]
			f.phi = int16(q.lo + i - 1)
		}
	}
	f.cost += best
	return f
}

// complete gives a frame with its read-through on day r and its first round
// until phi the cheapest days of its other stages, and what its stages cost.
func (c *stageCharges) complete(q *part, r, phi int16, coverage float64) (float64, frame) {
	f := frame{none, r, none, phi}
	cost, at := 0.0, -1
	if r == before {
		cost, f.listen = c.late(q, coverage)
	}
	if r >= 0 {
		at = int(r) - q.lo
		cost = c.read[at]
		if q.listen > 0 {
			d := q.winLo - q.lo + cheapest(c.listen[q.winLo-q.lo:at+1])
			f.listen = int16(q.lo + d)
			cost += c.listen[d]
		}
	}
	if q.rec > 0 {
		left := coverage * float64(q.recV)
		if from := max(at+1, q.recLo-q.lo); r != none && from <= q.winHi-q.lo { // not without a read-through
			if d := from + cheapest(c.rec[from:q.winHi-q.lo+1]); c.rec[d] <= left {
				left, f.rec = c.rec[d], int16(q.lo+d)
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
