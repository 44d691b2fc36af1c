package solver_test

import (
	"reflect"
	"slices"
	"testing"

	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver"
	"primaprova/solver/compact"
	"primaprova/solver/construct"
	"primaprova/solver/highs"
	"primaprova/solver/instance"
	"primaprova/solver/run"
	"primaprova/solver/tiny"
)

func overfull() *instance.Instance {
	z := invent.Grown(2, 0, true, 908)
	z.Passages, z.Tightness = 3, 1.5
	return instance.New(invent.Season(z), nil, nil)
}

// A wish that is near enough ends early, within the gap of what is proven of it; what is proven
// is true, and without a gap nothing is near enough.
func TestCompactGap(t *testing.T) {
	p, from := overfull(), construct.Greedy(overfull())
	asked := 0
	solved := func(gap float64, sure int64) (instance.Score, instance.Bounds) {
		within := compact.Within(gap, sure)
		o := highs.Options{Enough: func(p highs.Progress) bool {
			enough := within(p)
			if enough {
				asked++
			}
			return enough
		}}
		st, proven, err := compact.Solve(t.Context(), p, compact.ByHighs(tiny.HiGHS(t), o), from, model.Tolerance{})
		if err != nil {
			t.Fatal(err)
		}
		return st.Score(), proven
	}
	best, proven := solved(0, 0)
	if best != proven.All(best) || asked > 0 {
		t.Fatalf("%v is not proven: %v", best, proven.All(best))
	}
	const gap = 0.5
	near, under := solved(gap, 0)
	low := under.Least(model.Coverage, near)
	if asked == 0 || near.Less(best) || low > best[model.Coverage] || float64(low) < (1-gap)*float64(near[model.Coverage])-1 {
		t.Errorf("%v, coverage at least %d, where %v is best; near enough %d times", near, low, best, asked)
	}
	asked = 0
	if late, _ := solved(gap, 1e9); late != best || asked > 0 {
		t.Errorf("%v, where %v is best and no work was enough", late, best)
	}
}

// A gap that is reached spares the passes after the second; one that is not changes nothing of the plan.
func TestGapOfPasses(t *testing.T) {
	z := invent.Grown(5, 1, true, 3)
	z.Parts, z.Passages = 2, 4
	season, p := invent.Season(z), run.Tuned
	p.CompactSize = 0
	p.Passes = slices.Repeat([]run.Pass{{Operator: run.Strips, Size: 14, Iterations: 200}}, 80)
	planned := func(gap float64) (plan *model.Plan, sweeps int) {
		plan, err := solver.Solve(t.Context(), season, solver.Options{Engine: tiny.HiGHS(t), Work: 0.05, Gap: gap, Tolerance: model.DefaultTolerance, Params: &p, Trace: func(e solver.Event) {
			if e.Phase == "sweep" {
				sweeps++
			}
		}})
		if err != nil {
			t.Fatal(err)
		}
		plan.Provenance.Seconds = 0
		return plan, sweeps
	}
	all, most := planned(0)
	same, as := planned(1e-9)
	if most != as || !reflect.DeepEqual(all.Sessions, same.Sessions) || !reflect.DeepEqual(all.Provenance.Wishes, same.Provenance.Wishes) {
		t.Errorf("a gap out of reach changed the plan: %d for %d", as, most)
	}
	near, few := planned(0.9999)
	if few == 0 || few >= most {
		t.Errorf("%d of %d windows were solved though the plan was near enough", few, most)
	}
	for _, w := range near.Provenance.Wishes {
		if w.Value-w.Bound > 0.9999*w.Value {
			t.Errorf("%s %v is not near %v", w.Name, w.Value, w.Bound)
		}
	}
}

// Enough ends a program at the same point every time, with what is known by then.
func TestEnough(t *testing.T) {
	p := overfull()
	w := compact.Write(p)
	var ends [2]highs.Result
	for i := range ends {
		r, err := tiny.HiGHS(t).Solve(t.Context(), w.M, highs.Options{Enough: func(p highs.Progress) bool { return p.LPIterations > 0 }}, w.Start(construct.Greedy(p)))
		if err != nil || r.Status != highs.WorkUp || r.X == nil {
			t.Fatal(r.Status, err)
		}
		ends[i] = r
	}
	if ends[0].LPIterations != ends[1].LPIterations || ends[0].Objective != ends[1].Objective || ends[0].Bound != ends[1].Bound {
		t.Error("two runs ended apart")
	}
}
