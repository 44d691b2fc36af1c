package lns

import (
	"context"
	"math"
	"reflect"
	"slices"
	"testing"

	"primaprova/model/invent"
	"primaprova/solver/colgen"
	"primaprova/solver/construct"
	"primaprova/solver/instance"
	"primaprova/solver/pricing"
	"primaprova/solver/run"
	"primaprova/solver/tiny"
)

// A master of some parts beside the others as they are mixed speaks of the same as the
// whole one: where that is solved, it saves nothing and costs nothing. Held, a part has
// plans in one frame only, and what the others are mixed of is as it was.
func TestMixture(t *testing.T) {
	mixed, held, some := 0, 0, 0
	for seed := range uint64(3) {
		p := instance.New(invent.Season(invent.Grown(14, 2, true, seed)), nil, nil)
		from, pr, a := construct.Greedy(p), pricing.NewPricer(p, 2), instance.WeightedSum(instance.Trade)
		x := NewFractional(&run.Options{Engine: tiny.HiGHS(t)}, from).mix(p.ByDeadline())
		whole, err := x.among(pr, x.list, a)
		if err != nil {
			t.Fatal(err)
		}
		defer whole.Close()
		solve := func(m *colgen.Master) {
			t.Helper()
			if err := m.Solve(context.Background(), 200); err != nil {
				t.Fatal(err)
			}
		}
		solve(whole)
		x.take(whole)
		cost := func(i int) float64 {
			sum := 0.0
			for _, pl := range x.parts[i].plans {
				sum += pl.weight * a.Cost(pl.S)
			}
			return sum
		}
		for i := range p.Parts {
			if len(x.parts[i].frames) > 1 {
				mixed++
			}
			near := p.Parts[i].Nearest
			if len(near) == len(p.Parts) {
				continue
			}
			m, err := x.among(pr, near, a)
			if err != nil {
				t.Fatal(err)
			}
			solve(m)
			some++
			sum := m.Value
			for j := range p.Parts {
				if !slices.Contains(near, j) {
					sum += cost(j)
				}
			}
			m.Close()
			if math.Abs(sum-whole.Value) > 1e-3*math.Abs(whole.Value) {
				t.Errorf("season %d: the whole costs %.2f, those close to part %d beside the rest %.2f", seed, whole.Value, i, sum)
			}
		}
		for next := x.heaviest(x.list); next != instance.None; next = x.heaviest(x.list) {
			before := slices.Clone(x.parts)
			if err := x.hold(context.Background(), pr, next, from.Frames[next], 3, 8); err != nil {
				t.Fatal(err)
			}
			q := &x.parts[next]
			if !q.held {
				t.Fatalf("season %d: part %d is not held", seed, next)
			}
			if len(before[next].plans) > 1 {
				held++
			}
			for j := range p.Parts {
				if !slices.Contains(p.Parts[next].Nearest, j) && !reflect.DeepEqual(before[j], x.parts[j]) {
					t.Errorf("season %d: part %d is mixed otherwise since part %d is held, which is not close to it", seed, j, next)
				}
			}
			for _, pl := range q.plans {
				if pl.Read != instance.None && (pl.Read != q.frame.Read || pl.Phi != q.frame.Phi) {
					t.Errorf("season %d: part %d is held to %v, and has a plan in %v", seed, next, q.frame, pl.Frame)
				}
			}
		}
		for i := range p.Parts {
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
