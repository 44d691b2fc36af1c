package solver

import (
	"math"
	"testing"

	"primaprova/model"
)

// A part in a box costs what it costs in the cheapest of the box's frames, or
// without a read-through, each priced by itself; its frame is the one that rating all
// of them gives.
func TestBoxesAgainstSingleFrames(t *testing.T) {
	read, unread := 0, 0
	for seed := range 60 {
		roll := dieOf(seed)
		p := tinySeason(roll, tinySize{12, 4, 3}).problem()
		w := newPricer(p, 1).workers[0]
		x := tariff{minute: make([]float64, p.days), listen: make([]float64, p.days), visit: make([]float64, p.days)}
		for d := range p.days {
			x.minute[d], x.listen[d], x.visit[d] = float64(roll(9))/8-0.25, float64(roll(5))/8, float64(roll(5))
		}
		for j := range x.weight {
			x.weight[j] = float64(roll(6))
		}
		x.weight[model.Coverage] *= 4
		for i := range p.parts {
			q := &p.parts[i]
			b := q.allFrames()
			u := unit{part: i, first: q.first, last: q.last, whole: true, box: &b}
			for _, side := range []*[2]int16{&b.read, &b.phi} {
				if n := int(side[1] - side[0]); n > 0 && roll.once(2) {
					side[0] += int16(roll(n))
					side[1] -= int16(roll(int(side[1]-side[0]) + 1))
				}
			}
			got, want := w.unit(p, &u, &x), inf
			if !q.readDone {
				var sum float64
				for k := q.first; k < q.last; k++ {
					w.charge(&w.r, p, &p.passages[k], &x)
					sum += w.r.unread()
				}
				w.rateStages(p, q, &x)
				want = q.unread(x.weights(), &w.stages, sum).cost
			}
			empty := w.rate(p, i, &x, b)
			if all := q.bestFrames(x.weights(), w.sum, &w.stages, empty, 1, b)[0]; all.frame != got.frame {
				t.Errorf("season %d: frame %v, the first of the cheapest is %v", seed, got.frame, all.frame)
			}
			if !u.keeps(got.frame) {
				t.Fatalf("season %d: frame %v is not in the box %v", seed, got.frame, b)
			}
			for r := b.read[0]; r <= b.read[1]; r++ {
				for phi := b.phi[0]; phi <= b.phi[1]; phi++ {
					one := unit{part: i, first: q.first, last: q.last, whole: true, held: true, frame: frame{none, r, none, phi}}
					w.rateStages(p, q, &x)
					if stages, _ := w.stages.complete(q, r, phi, x.weight[model.Coverage]); stages < inf {
						want = min(want, w.unit(p, &one, &x).cost)
					}
				}
			}
			if math.Abs(got.cost-want) > 1e-9 {
				t.Errorf("season %d: part %d costs %v in the box %v, %v in the best of its frames", seed, i, got.cost, b, want)
			}
			if got.read == none {
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
