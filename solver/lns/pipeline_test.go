package lns

import (
	"cmp"
	"context"
	"slices"
	"testing"

	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver/construct"
	"primaprova/solver/instance"
	"primaprova/solver/run"
	"primaprova/solver/tiny"
)

// Every window comes up once, and none while one that it shares days with runs.
func TestStripesAreApart(t *testing.T) {
	for _, weeks := range []int{10, 40, 160} {
		p := instance.New(invent.Season(invent.Grown(weeks, 0, true, 3)), nil, nil)
		pieces := passageNeighbourhoods(p, p.ByRehearsal(), run.Tuned.RepairPassages, 1)
		order, stripes := striped(pieces, run.Tuned.Stripes)
		if weeks == 160 && stripes < 3 {
			t.Errorf("%d weeks: %d stripes", weeks, stripes)
		}
		sideBySide(t, order, stripes)
		first := func(a, b neighbourhood) int { return cmp.Compare(a.list[0], b.list[0]) }
		if !slices.EqualFunc(slices.SortedFunc(slices.Values(order), first), slices.SortedFunc(slices.Values(pieces), first), func(a, b neighbourhood) bool { return slices.Equal(a.list, b.list) }) {
			t.Errorf("%d weeks: the windows are not those given", weeks)
		}
	}
}

// What a window starts from does not depend on which of those beside it is done
// first: a run on one core and a run on three end at the same plan, which is better
// than the one they began with and keeps what its days allow.
func TestRollIsTheSameOnOneCore(t *testing.T) {
	p := instance.New(invent.Season(invent.Grown(40, 0, true, 3)), nil, nil)
	from := construct.Greedy(p)
	pieces := passageNeighbourhoods(p, p.ByRehearsal(), 25, 0)
	a := instance.ConstrainedBy(model.Spacing, from.Score())
	a.Limit[model.Body], a.Weight[model.Body] = instance.Inf, instance.Trade
	s := searching(p, &run.Options{Engine: tiny.HiGHS(t)})
	rolled := func(cores int) *instance.Solution {
		st, put := from.Clone(), 0
		w := subMIP{engine: s.O.Engine, aim: a, rounds: 4, gap: 1, work: 200}
		if err := s.pipelineOn(context.Background(), cores, st, run.Passages, pieces, func() subMIP { return w }, func() { put++ }); err != nil {
			t.Fatal(err)
		}
		if put != len(pieces) {
			t.Errorf("%d of %d windows were put in", put, len(pieces))
		}
		return st
	}
	one, two := rolled(1), rolled(3)
	if one.Score() != two.Score() || !slices.EqualFunc(one.Sched, two.Sched, slices.Equal) {
		t.Errorf("one core %v, three cores %v", one.Score(), two.Score())
	}
	if !one.Score().Less(from.Score()) && instance.Traded(one.Score()) >= instance.Traded(from.Score()) {
		t.Errorf("%v is no better than %v", one.Score(), from.Score())
	}
	if plan := one.Assemble(nil, nil); len(p.Season.Audit(plan, nil)) > 0 {
		t.Error(p.Season.Audit(plan, nil))
	}
}
