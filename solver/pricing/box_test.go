package pricing

import (
	"math"
	"testing"

	"primaprova/model"
	"primaprova/solver/instance"
	"primaprova/solver/tiny"
)

// A part in a box costs what it costs in the cheapest of the box's frames, or
// without a read-through, each priced by itself; its frame is the one that rating all
// of them gives. It lies on no day that it may not have.
func TestBoxesAgainstSingleFrames(t *testing.T) {
	read, unread := 0, 0
	for seed := range 60 {
		roll := tiny.DieOf(seed)
		p := tiny.Draw(roll, tiny.Size{Days: 12, Passages: 4, Visits: 3}).Problem()
		w := NewPricer(p, 1).Workers[0]
		x := Duals{Minute: make([]float64, p.Days), Listen: make([]float64, p.Days), Visit: make([]float64, p.Days)}
		for d := range p.Days {
			x.Minute[d], x.Listen[d], x.Visit[d] = float64(roll(9))/8-0.25, float64(roll(5))/8, float64(roll(5))
		}
		for j := range x.Weight {
			x.Weight[j] = float64(roll(6))
		}
		x.Weight[model.Coverage] *= 4
		for i := range p.Parts {
			q := &p.Parts[i]
			b := q.AllFrames()
			u := Block{Part: i, First: q.First, Last: q.Last, Whole: true, Box: &b}
			for _, side := range []*[2]instance.Day{&b.Read, &b.Phi} {
				if n := int(side[1] - side[0]); n > 0 && roll.Once(2) {
					side[0] += instance.Day(roll(n))
					side[1] -= instance.Day(roll(int(side[1]-side[0]) + 1))
				}
			}
			got, want := w.Unit(p, &u, &x), instance.Inf
			if !q.ReadDone {
				var sum float64
				for k := q.First; k < q.Last; k++ {
					w.charge(&w.r, p, &p.Passages[k], &x)
					sum += w.r.Unread()
				}
				w.rateStages(p, q, &x)
				want = unreadFrame(q, x.Weights(), &w.Stages, sum).Cost
			}
			empty := w.Rate(p, i, &x, b)
			if all := BestFrames(q, x.Weights(), w.Sum, &w.Stages, empty, 1, b)[0]; all.Frame != got.Frame {
				t.Errorf("season %d: frame %v, the first of the cheapest is %v", seed, got.Frame, all.Frame)
			}
			if !u.Keeps(got.Frame) {
				t.Fatalf("season %d: frame %v is not in the box %v", seed, got.Frame, b)
			}
			barred := q.Pinned(got.Frame)
			for k, days := range got.Days {
				for n, d := range days {
					barred = barred || !p.Passages[q.First+k].Visits[n].May(int(d))
				}
			}
			if barred {
				t.Errorf("season %d: part %d has days that it may not have: %v, %v", seed, i, got.Frame, got.Days)
			}
			for r := b.Read[0]; r <= b.Read[1]; r++ {
				for phi := b.Phi[0]; phi <= b.Phi[1]; phi++ {
					one := Block{Part: i, First: q.First, Last: q.Last, Whole: true, Held: true, Frame: instance.Frame{Listen: instance.None, Read: r, Rec: instance.None, Phi: phi}}
					w.rateStages(p, q, &x)
					if stages, _ := w.Stages.Complete(q, r, phi, x.Weight[model.Coverage]); stages < instance.Inf {
						want = min(want, w.Unit(p, &one, &x).Cost)
					}
				}
			}
			if math.Abs(got.Cost-want) > 1e-9 {
				t.Errorf("season %d: part %d costs %v in the box %v, %v in the best of its frames", seed, i, got.Cost, b, want)
			}
			if got.Read == instance.None {
				unread++
			} else {
				read++
			}
		}
	}
	if read == 0 || unread == 0 {
		t.Errorf("%d parts are read through, %d are not: the prices can't tell", read, unread)
	}
}
