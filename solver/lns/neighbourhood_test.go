package lns

import (
	"context"
	"slices"
	"testing"

	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver/construct"
	"primaprova/solver/instance"
	"primaprova/solver/pricing"
	"primaprova/solver/run"
	"primaprova/solver/tiny"
)

// Every visit ahead is in a strip, whatever the pass; what runs side by side shares
// neither days nor passages.
func TestStripsHoldEveryVisit(t *testing.T) {
	p := instance.New(invent.Season(invent.Grown(40, 0, true, 3)), nil, nil)
	st := construct.Greedy(p)
	for pass := range 3 {
		pieces := dayNeighbourhoods(st, 21, pass, nil)
		for k, days := range st.Sched {
			for _, d := range days {
				if !slices.ContainsFunc(pieces, func(c neighbourhood) bool { return c.holds(d) && slices.Contains(c.list, k) }) {
					t.Fatalf("pass %d: no strip holds the visit of passage %d on day %d", pass, k, d)
				}
			}
		}
		order, stripes := striped(pieces, run.Tuned.Stripes)
		sideBySide(t, order, stripes)
	}
}

// sideBySide wants those that run side by side, if more than two do, to share neither days nor passages.
func sideBySide(t *testing.T, order []neighbourhood, stripes int) {
	t.Helper()
	for i := range order {
		for j := max(0, i-stripes+1); j < i && stripes > 2; j++ {
			a, b := &order[i], &order[j]
			if a.first <= b.last+14 && b.first <= a.last+14 {
				t.Errorf("days %d-%d and %d-%d run side by side", a.first, a.last, b.first, b.last)
			}
			if k := slices.IndexFunc(a.list, func(k int) bool { return slices.Contains(b.list, k) }); k >= 0 {
				t.Errorf("passage %d is in two that run side by side", a.list[k])
			}
		}
	}
}

// A window over a strip moves visits within it and leaves all others; what is left
// out is in a strip where it has days.
func TestStripLeavesWhatLiesOutside(t *testing.T) {
	p := instance.New(invent.Season(invent.Grown(40, 0, true, 3)), nil, nil)
	from := construct.Greedy(p)
	a := instance.WeightedSum(instance.Trade)
	s := searching(p, &run.Options{Engine: tiny.HiGHS(t)})
	w := subMIP{engine: s.O.Engine, pricer: pricing.NewPricer(p, 1), aim: a, rounds: 10, gap: 1, work: 300}
	moved := 0
	for _, c := range dayNeighbourhoods(from, 14, 0, nil)[:12] {
		plans, err := w.schedules(context.Background(), from, &c)
		if err != nil {
			t.Fatal(err)
		}
		if plans == nil {
			continue
		}
		for n, k := range c.list {
			was, is := from.Sched[k], plans[n].Days[0]
			for j, d := range was {
				switch {
				case j >= len(is):
					t.Fatalf("passage %d had %v, and has %v", k, was, is)
				case !c.holds(d) && is[j] != d, c.holds(d) && !c.holds(is[j]):
					t.Errorf("days %d-%d: passage %d had %v, and has %v", c.first, c.last, k, was, is)
				case is[j] != d:
					moved++
				}
			}
		}
		to := from.Clone()
		w.replace(to, c.list, plans)
		if w.aim.Whole(to.Score()) > w.aim.Whole(from.Score()) {
			t.Errorf("days %d-%d: %v after %v", c.first, c.last, to.Score(), from.Score())
		}
		if plan := to.Assemble(nil, nil); len(p.Season.Audit(plan, nil)) > 0 {
			t.Error(p.Season.Audit(plan, nil))
		}
	}
	if moved == 0 {
		t.Error("nothing moved")
	}
	lacking := []int{}
	for k := range p.Passages {
		if p.ScheduleScore(&p.Passages[k], from.Sched[k])[model.Coverage] > 0 {
			lacking = append(lacking, k)
		}
	}
	if len(lacking) == 0 {
		t.Fatal("greedy leaves nothing out")
	}
	for _, k := range lacking {
		if !slices.ContainsFunc(dayNeighbourhoods(from, 21, 0, lacking), func(c neighbourhood) bool { return slices.Contains(c.list, k) }) {
			t.Errorf("passage %d, of which something is left out, is in no strip", k)
		}
	}
}
