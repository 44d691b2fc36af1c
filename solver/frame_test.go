package solver

import (
	"cmp"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// TestBestFramesAreExhaustive: the cheapest frames in a box of a part, one for
// each day of the read-through and one without, against every frame there is.
func TestBestFramesAreExhaustive(t *testing.T) {
	var r recursion
	rapid.Check(t, func(t *rapid.T) {
		roll := drawn(t)
		for range 20 {
			days := roll.between(1, 7)
			q := part{lo: roll(4), readDone: roll.once(4)}
			q.hi = q.lo + days - 1
			q.winLo, q.winHi = q.lo, q.hi
			q.listen, q.read, q.rec = 5*roll(2), 5*roll(3), 5*roll(2)
			if q.readDone {
				q.read = 0
			}
			q.listenV, q.readV, q.recV = roll(5), roll(9), roll(4)
			w := weights{float64(roll(4)), float64(roll(4)), 1, float64(roll(4))}
			var stages stageCharges
			stages.reset(days)
			for n, minutes := range []int{q.listen, q.read, q.rec} {
				for d := range days {
					if minutes > 0 && !roll.once(3) {
						[][]float64{stages.listen, stages.read, stages.rec}[n][d] = float64(roll(12))
					}
				}
			}
			b := q.allFrames()
			if roll.once(2) {
				b.phi[0] = int16(roll.between(q.lo-1, q.hi))
				b.phi[1] = int16(roll.between(int(b.phi[0]), q.hi))
				if !q.readDone {
					b.read[0] = int16(roll.between(q.lo, q.hi))
					b.read[1] = int16(roll.between(int(b.read[0]), q.hi))
				}
			}
			sum, empty, unread := square(nil, days), 0.0, 0.0
			var all []*strange
			for range roll(3) {
				s := strangePassage(roll, q.lo, days)
				s.w = w
				s.load(&r)
				r.begin()
				r.frames(q.lo, sum, b)
				empty += r.unread()
				unread += s.unread()
				all = append(all, s)
			}
			if empty != unread {
				t.Fatalf("without a read-through %v, the best is %v", empty, unread)
			}
			got := q.bestFrames(w, sum, &stages, empty, days+1, b)
			want := everyFrame(&q, w, all, &stages, empty, b)
			if !slices.IsSortedFunc(got, func(a, b ratedFrame) int { return cmp.Compare(a.cost, b.cost) }) {
				t.Fatalf("not the cheapest first: %v", got)
			}
			if len(got) != len(want) {
				t.Fatalf("%d frames, there are %d: %v, %v", len(got), len(want), got, want)
			}
			for _, f := range got {
				best, ok := want[f.read]
				if !ok || f.cost != best {
					t.Fatalf("with the read-through on day %d: %v, the best is %v", f.read, f.cost, best)
				}
				if c := frameCost(&q, w, all, &stages, empty, f.frame); c != f.cost {
					t.Fatalf("frame %v costs %v, not %v", f.frame, c, f.cost)
				}
			}
		}
	})
}

// everyFrame gives the least cost in a box by day of the read-through.
func everyFrame(q *part, w weights, all []*strange, c *stageCharges, empty float64, b box) map[int16]float64 {
	best := map[int16]float64{}
	days := func(wanted bool) []int16 {
		out := []int16{none}
		for d := q.lo; d <= q.hi && wanted; d++ {
			out = append(out, int16(d))
		}
		return out
	}
	reads := days(true)
	if q.readDone {
		reads = []int16{before}
	}
	for _, read := range reads {
		for _, listen := range days(q.listen > 0) {
			for _, rec := range days(q.rec > 0) {
				for phi := q.lo - 1; phi <= q.hi; phi++ {
					f := frame{listen, read, rec, int16(phi)}
					if cost := frameCost(q, w, all, c, empty, f); cost < inf && b.holds(f) {
						if old, ok := best[read]; !ok || cost < old {
							best[read] = cost
						}
					}
				}
			}
		}
	}
	return best
}

// frameCost gives the cost of a part in a frame, +Inf if its stages are not in
// order.
func frameCost(q *part, w weights, all []*strange, c *stageCharges, empty float64, f frame) float64 {
	at := func(charges []float64, minutes, value int, d int16) float64 {
		switch {
		case minutes == 0:
			return 0
		case d == none:
			return w.coverage * float64(value)
		}
		return charges[int(d)-q.lo]
	}
	cost := at(c.listen, q.listen, q.listenV, f.listen) + at(c.rec, q.rec, q.recV, f.rec)
	if !q.readDone {
		if f.read == none {
			cost += w.coverage * float64(q.readV)
		} else {
			cost += c.read[int(f.read)-q.lo]
		}
		if f.read != none && q.listen > 0 && (f.listen == none || f.listen > f.read) ||
			f.rec != none && (f.read == none || f.rec <= f.read) {
			return inf
		}
	}
	if f.read == none {
		return cost + empty
	}
	for _, s := range all {
		cost += s.cheapest(int(f.read), int(f.phi))
	}
	return cost
}
