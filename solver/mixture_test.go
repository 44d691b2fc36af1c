package solver

import (
	"context"
	"math"
	"reflect"
	"slices"
	"testing"

	"primaprova/model/invent"
)

// A master of some parts beside the others as they are mixed speaks of the same as the
// whole one: where that is solved, it saves nothing and costs nothing. Held, a part has
// plans in one frame only, and what the others are mixed of is as it was.
func TestMixture(t *testing.T) {
	mixed, held, some := 0, 0, 0
	for seed := range uint64(3) {
		p := build(invent.Season(invent.Grown(14, 2, true, seed)), nil, nil)
		from, pr, a := greedy(p), newPricer(p, 2), weighed(trade)
		x := newSpread(highsLibrary(t), from).mix(p.byDeadline())
		whole, err := x.among(pr, x.list, a)
		if err != nil {
			t.Fatal(err)
		}
		defer whole.close()
		solve := func(m *master) {
			t.Helper()
			if err := m.solve(context.Background(), 200); err != nil {
				t.Fatal(err)
			}
		}
		solve(whole)
		x.take(whole)
		cost := func(i int) float64 {
			sum := 0.0
			for _, pl := range x.parts[i].plans {
				sum += pl.weight * a.cost(pl.s)
			}
			return sum
		}
		for i := range p.parts {
			if len(x.parts[i].frames) > 1 {
				mixed++
			}
			near := p.parts[i].close
			if len(near) == len(p.parts) {
				continue
			}
			m, err := x.among(pr, near, a)
			if err != nil {
				t.Fatal(err)
			}
			solve(m)
			some++
			sum := m.value
			for j := range p.parts {
				if !slices.Contains(near, j) {
					sum += cost(j)
				}
			}
			m.close()
			if math.Abs(sum-whole.value) > 1e-3*math.Abs(whole.value) {
				t.Errorf("season %d: the whole costs %.2f, those close to part %d beside the rest %.2f", seed, whole.value, i, sum)
			}
		}
		for next := x.heaviest(x.list); next != none; next = x.heaviest(x.list) {
			before := slices.Clone(x.parts)
			if err := x.hold(context.Background(), pr, next, from.frames[next], 3, 8); err != nil {
				t.Fatal(err)
			}
			q := &x.parts[next]
			if !q.held {
				t.Fatalf("season %d: part %d is not held", seed, next)
			}
			if len(before[next].plans) > 1 {
				held++
			}
			for j := range p.parts {
				if !slices.Contains(p.parts[next].close, j) && !reflect.DeepEqual(before[j], x.parts[j]) {
					t.Errorf("season %d: part %d is mixed otherwise since part %d is held, which is not close to it", seed, j, next)
				}
			}
			for _, pl := range q.plans {
				if pl.read != none && (pl.read != q.frame.read || pl.phi != q.frame.phi) {
					t.Errorf("season %d: part %d is held to %v, and has a plan in %v", seed, next, q.frame, pl.frame)
				}
			}
		}
		for i := range p.parts {
			sum := 0.0
			for _, pl := range x.parts[i].plans {
				sum += pl.weight
			}
			if math.Abs(sum-1) > 1e-3 {
				t.Errorf("season %d: the plans of part %d weigh %v", seed, i, sum)
			}
		}
	}
	if mixed == 0 || held == 0 || some == 0 {
		t.Errorf("%d parts are mixed, %d held so, %d far from some: that tells nothing", mixed, held, some)
	}
}
