package solver

import (
	"context"
	"slices"
	"testing"

	"primaprova/model"
	"primaprova/model/invent"
)

// Every visit ahead is in a strip, whatever the pass; what runs side by side shares
// neither days nor passages.
func TestStripsHoldEveryVisit(t *testing.T) {
	p := build(invent.Season(invent.Grown(40, 0, true, 3)), nil, nil)
	st := greedy(p)
	for pass := range 3 {
		pieces := st.strips(21, pass, nil)
		for k, days := range st.sched {
			for _, d := range days {
				if !slices.ContainsFunc(pieces, func(c piece) bool { return c.holds(d) && slices.Contains(c.list, k) }) {
					t.Fatalf("pass %d: no strip holds the visit of passage %d on day %d", pass, k, d)
				}
			}
		}
		order, stripes := striped(pieces)
		for i := range order {
			for j := max(0, i-stripes+1); j < i && stripes > 2; j++ {
				a, b := &order[i], &order[j]
				if a.first <= b.last+14 && b.first <= a.last+14 {
					t.Errorf("pass %d: days %d-%d and %d-%d run side by side", pass, a.first, a.last, b.first, b.last)
				}
				if k := slices.IndexFunc(a.list, func(k int) bool { return slices.Contains(b.list, k) }); k >= 0 {
					t.Errorf("pass %d: passage %d is in two that run side by side", pass, a.list[k])
				}
			}
		}
	}
}

// A window over a strip moves visits within it and leaves all others; what is left
// out is in a strip where it has days.
func TestStripLeavesWhatLiesOutside(t *testing.T) {
	p := build(invent.Season(invent.Grown(40, 0, true, 3)), nil, nil)
	from := greedy(p)
	a := weighed(trade)
	s := searching(p, &Options{Engine: highsLibrary(t)})
	w := window{engine: s.o.Engine, pricer: newPricer(p, 1), aim: a, rounds: 10, gap: 1, work: 300}
	moved := 0
	for _, c := range from.strips(14, 0, nil)[:12] {
		plans, err := w.schedules(context.Background(), from, &c)
		if err != nil {
			t.Fatal(err)
		}
		if plans == nil {
			continue
		}
		for n, k := range c.list {
			was, is := from.sched[k], plans[n].days[0]
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
		to := from.clone()
		w.replace(to, c.list, plans)
		if w.worth(to.score()) > w.worth(from.score()) {
			t.Errorf("days %d-%d: %v after %v", c.first, c.last, to.score(), from.score())
		}
		if plan := to.assemble(nil, nil); len(p.season.Audit(plan, nil)) > 0 {
			t.Error(p.season.Audit(plan, nil))
		}
	}
	if moved == 0 {
		t.Error("nothing moved")
	}
	lacking := []int{}
	for k := range p.passages {
		if p.scheduleScore(&p.passages[k], from.sched[k])[model.Coverage] > 0 {
			lacking = append(lacking, k)
		}
	}
	if len(lacking) == 0 {
		t.Fatal("greedy leaves nothing out")
	}
	for _, k := range lacking {
		if !slices.ContainsFunc(from.strips(21, 0, lacking), func(c piece) bool { return slices.Contains(c.list, k) }) {
			t.Errorf("passage %d, of which something is left out, is in no strip", k)
		}
	}
}
