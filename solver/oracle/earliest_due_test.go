package oracle

import (
	"testing"

	"primaprova/solver/compact"
	"primaprova/solver/instance"
	"primaprova/solver/tiny"
)

// TestSoonest: where filling the days says that everything can be placed there is
// a plan that passes the audit and leaves nothing out; and it finds most of what
// can be found, by CP-SAT, the order of the stages kept or not.
func TestSoonest(t *testing.T) {
	library := tiny.CPSAT(t)
	found, missed, free := 0, 0, 0
	for seed := range 400 {
		c := tiny.Draw(tiny.DieOf(20_000+seed), tiny.Size{Days: 10, Passages: 3, Visits: 3})
		p := c.Problem()
		cut, back := Restrict(p, DemandAll(p), func(int) bool { return true })
		for _, ordered := range [2]bool{true, false} {
			st, _, ok := EarliestDue(cut, 1, ordered)
			can := false
			if w := compact.WriteDemand(cut, ordered); w != nil {
				can = tiny.Solvable(t, library, w.M)
			}
			switch {
			case ok && !can:
				t.Errorf("season %d, order kept %v: placed, and cannot be", seed, ordered)
			case !ok && can:
				missed++
			case ok && !ordered:
				free++
			case ok:
				found++
				whole := instance.NewSolution(p)
				for i, of := range back.Parts {
					whole.SetFrame(of, st.Frames[i])
				}
				for i, of := range back.Passages {
					whole.Place(of, st.Sched[i])
				}
				plan := whole.Assemble(c.History, nil)
				if b := c.Season.Audit(plan, c.History); len(b) > 0 || len(plan.Unplaced) > 0 {
					t.Errorf("season %d: %v, %d left out", seed, b, len(plan.Unplaced))
				}
			}
		}
	}
	t.Logf("%d found with order, %d without, %d missed", found, free, missed)
	if found < 50 || free < 50 || missed*5 > found+free {
		t.Error("too few are found")
	}
}
