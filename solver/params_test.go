package solver

import (
	"context"
	"testing"

	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver/tiny"
)

// Whatever is left out leaves no event, a plan that keeps the rules, and of what proves bounds
// none; passes may come in any order, and one that nobody knows is an error.
func TestParams(t *testing.T) {
	z := invent.Grown(5, 1, true, 3)
	z.Parts, z.Passages = 2, 4
	season := invent.Season(z)
	planned := func(p Params) (*model.Plan, map[string]int, error) {
		seen := map[string]int{}
		plan, err := Solve(context.Background(), season, Options{Engine: tiny.HiGHS(t), Days: tiny.CPSAT(t), Work: 0.001, Tolerance: model.DefaultTolerance, Params: &p,
			Trace: func(e Event) { seen[e.Operator]++ }})
		return plan, seen, err
	}
	large := Tuned
	large.CompactSize, large.CompactBrief = 0, 0 // else the compact program would do it all, and a short season what its own passes say
	_, all, err := planned(large)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range Operators {
		off := large
		off.Off = []string{name}
		if name == "master" {
			off.CompactReach = 0 // the compact program proves as well
		}
		plan, seen, err := planned(off)
		if err != nil {
			t.Errorf("without %s: %v", name, err)
			continue
		}
		if seen[name] > 0 || len(season.Audit(plan, nil)) > 0 {
			t.Errorf("without %s: %d events of it", name, seen[name])
		}
		for _, w := range plan.Provenance.Wishes {
			if name == "master" && w.Bound > 0 {
				t.Errorf("%s is bounded by %v, with nothing to prove it", w.Name, w.Bound)
			}
		}
		if all[name] == 0 && name != "fill" && name != "passages" && name != "recombine" && name != "perturb" {
			t.Errorf("%s is never at work, so that this shows nothing: no pass names it?", name)
		}
	}
	other := large
	other.Passes = []Pass{{Operator: "strip", Size: 7, Iterations: 500}, {Operator: "passages", Size: 20, Iterations: 500}}
	if plan, _, err := planned(other); err != nil || len(season.Audit(plan, nil)) > 0 {
		t.Error(err)
	}
	other.Passes[0].Operator = "none"
	if _, _, err := planned(other); err == nil {
		t.Error("a pass of no operator was planned")
	}
}
