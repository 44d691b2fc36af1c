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

// Where HiGHS is given next to no work a crowded season's plan is bettered by CP-SAT; its proofs are
// not taken, and whatever work is spared the bounds stay below what full work comes to.
func TestSecondEngine(t *testing.T) {
	z := invent.Grown(3, 0, true, 2)
	z.Passages, z.Tightness = 4, 1.2
	season, brief := invent.Season(z), run.Tuned
	brief.CompactWork, brief.CompactLeast, brief.CompactAlone = 1, 1, 1
	planned := func(o solver.Options) (score, bound float64, asked int) {
		o.Engine, o.Tolerance = tiny.HiGHS(t), model.DefaultTolerance
		o.Trace = func(e solver.Event) {
			if e.Phase == "compact" && e.Tried == 1 && e.Iterations == 0 && e.Wish == "coverage" {
				asked++
			}
		}
		plan, err := solver.Solve(t.Context(), season, o)
		if err != nil {
			t.Fatal(err)
		}
		i := slices.IndexFunc(plan.Provenance.Wishes, func(w model.WishValue) bool { return w.Name == "coverage" })
		return plan.Provenance.Wishes[i].Value, plan.Provenance.Wishes[i].Bound, asked
	}
	alone, low, none := planned(solver.Options{Params: &brief})
	both, lower, asked := planned(solver.Options{Params: &brief, Days: tiny.CPSAT(t)})
	full, proven, _ := planned(solver.Options{})
	if none != 0 || asked != 1 {
		t.Errorf("CP-SAT was asked %d times, and where there is none %d times", asked, none)
	}
	if both >= alone || lower != low {
		t.Errorf("coverage %v (at least %v), without CP-SAT %v (%v)", both, lower, alone, low)
	}
	if full != proven || both < full {
		t.Errorf("coverage %v with all of the work, at least %v; %v with little", full, proven, both)
	}
}
