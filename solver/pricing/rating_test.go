package pricing

import (
	"cmp"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"primaprova/solver/instance"
	"primaprova/solver/tiny"
)

// TestBestFramesAreExhaustive: the cheapest frames in a box of a part, one for
// each day of the read-through and one without, against every frame there is.
func TestBestFramesAreExhaustive(t *testing.T) {
	var r DP
	rapid.Check(t, func(t *rapid.T) {
		roll := tiny.Drawn(t)
		for range 20 {
			days := roll.Between(1, 7)
			q := instance.Part{Lo: roll(4), ReadDone: roll.Once(4)}
			q.Hi = q.Lo + days - 1
			q.WinLo, q.WinHi, q.RecLo, q.RecHi = q.Lo, q.Hi, q.Lo, q.Hi
			q.Listen, q.Read, q.Rec = 5*roll(2), 5*roll(3), 5*roll(2)
			if q.ReadDone {
				q.Read = 0
			}
			q.ListenWorth, q.ReadWorth, q.RecWorth = roll(5), roll(9), roll(4)
			w := instance.Weights{Coverage: float64(roll(4)), Ready: float64(roll(4)), Closeness: 1, Spacing: float64(roll(4))}
			var stages StageCharges
			stages.Reset(days)
			for n, minutes := range []int{q.Listen, q.Read, q.Rec} {
				for d := range days {
					if minutes > 0 && !roll.Once(3) {
						[][]float64{stages.Listen, stages.Read, stages.Rec}[n][d] = float64(roll(12))
					}
				}
			}
			b := q.AllFrames()
			if roll.Once(2) {
				b.Phi[0] = instance.Day(roll.Between(q.Lo-1, q.Hi))
				b.Phi[1] = instance.Day(roll.Between(int(b.Phi[0]), q.Hi))
				if !q.ReadDone {
					b.Read[0] = instance.Day(roll.Between(q.Lo, q.Hi))
					b.Read[1] = instance.Day(roll.Between(int(b.Read[0]), q.Hi))
				}
			}
			sum, empty, unread := Square(nil, days), 0.0, 0.0
			var all []*strange
			for range roll(3) {
				s := strangePassage(roll, q.Lo, days)
				s.w = w
				s.load(&r)
				r.Begin()
				r.Frames(q.Lo, sum, b)
				empty += r.Unread()
				unread += s.unread()
				all = append(all, s)
			}
			if empty != unread {
				t.Fatalf("without a read-through %v, the best is %v", empty, unread)
			}
			got := BestFrames(&q, w, sum, &stages, empty, days+1, b)
			want := everyFrame(&q, w, all, &stages, empty, b)
			if !slices.IsSortedFunc(got, func(a, b PricedFrame) int { return cmp.Compare(a.Cost, b.Cost) }) {
				t.Fatalf("not the cheapest first: %v", got)
			}
			if len(got) != len(want) {
				t.Fatalf("%d frames, there are %d: %v, %v", len(got), len(want), got, want)
			}
			for _, f := range got {
				best, ok := want[f.Read]
				if !ok || f.Cost != best {
					t.Fatalf("with the read-through on day %d: %v, the best is %v", f.Read, f.Cost, best)
				}
				if c := frameCost(&q, w, all, &stages, empty, f.Frame); c != f.Cost {
					t.Fatalf("frame %v costs %v, not %v", f.Frame, c, f.Cost)
				}
			}
		}
	})
}

// everyFrame gives the least cost in a box by day of the read-through.
func everyFrame(q *instance.Part, w instance.Weights, all []*strange, c *StageCharges, empty float64, b instance.Box) map[instance.Day]float64 {
	best := map[instance.Day]float64{}
	days := func(wanted bool) []instance.Day {
		out := []instance.Day{instance.None}
		for d := q.Lo; d <= q.Hi && wanted; d++ {
			out = append(out, instance.Day(d))
		}
		return out
	}
	reads := days(true)
	if q.ReadDone {
		reads = []instance.Day{instance.Before}
	}
	for _, read := range reads {
		for _, listen := range days(q.Listen > 0) {
			for _, rec := range days(q.Rec > 0) {
				for phi := q.Lo - 1; phi <= q.Hi; phi++ {
					f := instance.Frame{Listen: listen, Read: read, Rec: rec, Phi: instance.Day(phi)}
					if cost := frameCost(q, w, all, c, empty, f); cost < instance.Inf && b.Holds(f) {
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
func frameCost(q *instance.Part, w instance.Weights, all []*strange, c *StageCharges, empty float64, f instance.Frame) float64 {
	at := func(charges []float64, minutes, value int, d instance.Day) float64 {
		switch {
		case minutes == 0:
			return 0
		case d == instance.None:
			return w.Coverage * float64(value)
		}
		return charges[int(d)-q.Lo]
	}
	cost := at(c.Listen, q.Listen, q.ListenWorth, f.Listen) + at(c.Rec, q.Rec, q.RecWorth, f.Rec)
	if !q.ReadDone {
		if f.Read == instance.None {
			cost += w.Coverage * float64(q.ReadWorth)
		} else {
			cost += c.Read[int(f.Read)-q.Lo]
		}
		if f.Read != instance.None && q.Listen > 0 && (f.Listen == instance.None || f.Listen > f.Read) ||
			f.Rec != instance.None && (f.Read == instance.None || f.Rec <= f.Read) {
			return instance.Inf
		}
	}
	if f.Read == instance.None {
		return cost + empty
	}
	if f.Rec != instance.None && f.Rec <= f.Phi {
		return instance.Inf
	}
	for _, s := range all {
		cost += s.cheapest(int(f.Read), int(f.Phi))
	}
	return cost
}
