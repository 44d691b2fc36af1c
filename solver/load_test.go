package solver

import (
	"context"
	"testing"

	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver/cpsat"
	"primaprova/solver/tiny"
)

// The engine that lays out hours is loaded once a whole plan was given to whoever keeps it.
func TestHoursAreLoadedLast(t *testing.T) {
	z := invent.Grown(3, 1, true, 3)
	z.Parts, z.Passages = 2, 4
	var kept *model.Plan
	loaded := 0
	plan, err := Solve(context.Background(), invent.Season(z), Options{Engine: tiny.HiGHS(t), Work: 0.01, Best: func(p *model.Plan) { kept = p },
		LoadDays: func() *cpsat.Library {
			if loaded++; kept == nil || len(kept.Sessions) == 0 {
				t.Error("nothing was kept")
			}
			return nil
		}})
	if err != nil || loaded != 1 {
		t.Fatalf("loaded %d times, %v", loaded, err)
	}
	if len(plan.Sessions) != len(kept.Sessions) {
		t.Errorf("%d sessions were kept of %d", len(kept.Sessions), len(plan.Sessions))
	}
}
