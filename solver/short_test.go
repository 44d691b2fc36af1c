package solver_test

import (
	"slices"
	"testing"

	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver"
	"primaprova/solver/run"
	"primaprova/solver/tiny"
)

// A season of a few weeks that is planned by columns gets less work, and no more than the same work in
// seasons that last a day longer than that: no parts are filled in, no sub-MIP frees whole passages,
// spacing is bounded once, and what trees prove the written-out program isn't asked for.
func TestShort(t *testing.T) {
	z := invent.Grown(3, 0, true, 65)
	z.Parts, z.Passages, z.Tightness = 2, 4, 1.4
	season := invent.Season(z)
	planned := func(brief, width int) (wishes []model.WishValue, seen []solver.Event) {
		p := run.Tuned
		p.CompactSize, p.CompactBrief = 0, brief // as if it were larger
		plan, err := solver.Solve(t.Context(), season, solver.Options{Engine: tiny.HiGHS(t), Work: 0.25, Width: width,
			Tolerance: model.DefaultTolerance, Params: &p, Trace: func(e solver.Event) { seen = append(seen, e) }})
		if err != nil {
			t.Fatal(err)
		}
		return plan.Provenance.Wishes, seen
	}
	times := func(seen []solver.Event, phase, operator, wish string) (n int) {
		for _, e := range seen {
			if e.Phase == phase && (operator == "" || e.Operator == operator) && (wish == "" || e.Wish == wish) {
				n++
			}
		}
		return n
	}
	days := int(season.To-season.From) + 1
	short, seen := planned(days, 1)
	long, all := planned(days-1, 1)
	if times(seen, "fill", "", "")+times(seen, "sweep", run.Passages, "") > 0 || times(seen, "bound", run.Branching, "spacing") > 1 {
		t.Errorf("a short season: %v", seen)
	}
	if times(all, "sweep", run.Passages, "") == 0 {
		t.Error("nothing is left out of the short season")
	}
	for _, w := range []model.Wish{model.Coverage, model.ReadyBy} {
		if short[w].Value > long[w].Value || short[w].Bound > long[w].Value {
			t.Errorf("%v: %v with less work, %v with all", w, short[w], long[w])
		}
	}
	if again, _ := planned(days, 3); !slices.Equal(again, short) {
		t.Errorf("%v side by side, %v alone", again, short)
	}
}
