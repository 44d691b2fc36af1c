package solver

import "testing"

// TestSoonest: where filling the days says that everything can be placed there is
// a plan that passes the audit and leaves nothing out; and it finds most of what
// can be found, by CP-SAT, the order of the stages kept or not.
func TestSoonest(t *testing.T) {
	library := cpsatLibrary(t)
	found, missed, free := 0, 0, 0
	for seed := range 400 {
		c := tinySeason(dieOf(20_000+seed), tinySize{10, 3, 3})
		p := c.problem()
		cut, back := p.cut(p.bidAll(), func(int) bool { return true })
		for _, ordered := range [2]bool{true, false} {
			st, _, ok := cut.soonest(1, ordered)
			can := false
			if w := cut.writeBid(ordered); w != nil {
				can = solvable(t, library, w.m)
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
				whole := newState(p)
				for i, of := range back.parts {
					whole.setFrame(of, st.frames[i])
				}
				for i, of := range back.passages {
					whole.place(of, st.sched[i])
				}
				plan := whole.assemble(c.history, nil)
				if b := c.season.Audit(plan, c.history); len(b) > 0 || len(plan.Unplaced) > 0 {
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
