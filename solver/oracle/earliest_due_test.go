package oracle

import (
	"fmt"
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
				if wrong := outsideWindows(cut, st); wrong != "" {
					t.Errorf("season %d: %s", seed, wrong)
				}
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

// outsideWindows tells which session of a plan lies on a day that it can't have, or where a
// read-through might come after the last day of a visit that it has to come before.
func outsideWindows(p *instance.Instance, st *instance.Solution) string {
	all, ok := TimeWindows(p, true)
	if !ok {
		return "a session has no day, and all are placed"
	}
	next := func(day instance.Day) (w timeWindow, wrong bool) {
		w, all = all[0], all[1:]
		return w, int(day) < w.Lo || w.Hi < int(day)
	}
	for i := range p.Parts {
		q := &p.Parts[i]
		latest := q.WinHi
		for c := q.First; c < q.Last; c++ {
			for k, day := range st.Sched[c] {
				w, wrong := next(day)
				if wrong {
					return fmt.Sprintf("visit %d of passage %d is on day %d, not in %+v", k, c, day, w)
				}
				if k == 0 && p.Passages[c].Done == 0 {
					latest = min(latest, w.Hi-1)
				}
			}
		}
		f := &st.Frames[i]
		for _, stage := range []struct {
			day   instance.Day
			long  int
			until int
		}{{f.Rec, q.Rec, p.Days}, {f.Read, q.Read, latest}, {f.Listen, q.Listen, p.Days}} {
			if stage.long == 0 {
				continue
			}
			if w, wrong := next(stage.day); wrong || w.Hi > stage.until {
				return fmt.Sprintf("a stage of part %d is on day %d, in %+v, by %d", i, stage.day, w, stage.until)
			}
		}
	}
	return ""
}
