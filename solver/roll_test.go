package solver

import (
	"cmp"
	"context"
	"slices"
	"testing"

	"primaprova/model"
	"primaprova/model/invent"
)

// Every window comes up once, and none while one that it shares days with runs.
func TestStripesAreApart(t *testing.T) {
	for _, weeks := range []int{10, 40, 160} {
		p := build(invent.Season(invent.Grown(weeks, 0, true, 3)), nil, nil)
		pieces := p.cuts(p.byRehearsal(), windowSize, 1)
		order, stripes := striped(pieces)
		if weeks == 160 && stripes < 3 {
			t.Errorf("%d weeks: %d stripes", weeks, stripes)
		}
		if stripes > 2 && !allApart(order, stripes) {
			t.Errorf("%d weeks: %d stripes are not apart", weeks, stripes)
		}
		first := func(a, b piece) int { return cmp.Compare(a.list[0], b.list[0]) }
		if !slices.EqualFunc(slices.SortedFunc(slices.Values(order), first), slices.SortedFunc(slices.Values(pieces), first), func(a, b piece) bool { return slices.Equal(a.list, b.list) }) {
			t.Errorf("%d weeks: the windows are not those given", weeks)
		}
	}
}

// What a window starts from does not depend on which of those beside it is done
// first: a run on one core and a run on two end at the same plan, which is better
// than the one they began with and keeps what its days allow.
func TestRollIsTheSameOnOneCore(t *testing.T) {
	p := build(invent.Season(invent.Grown(40, 0, true, 3)), nil, nil)
	from := greedy(p)
	pieces := p.cuts(p.byRehearsal(), 25, 0)
	a := wishUnder(model.Spacing, from.score())
	a.limits[model.Body], a.want[model.Body] = inf, trade
	s := searching(p, &Options{Engine: highsLibrary(t)})
	rolled := func(cores int) *state {
		st, put := from.clone(), 0
		w := window{engine: s.o.Engine, aim: a, rounds: 4, gap: 1, work: 200}
		if err := s.rollOn(context.Background(), cores, st, pieces, func() window { return w }, func() { put++ }); err != nil {
			t.Fatal(err)
		}
		if put != len(pieces) {
			t.Errorf("%d of %d windows were put in", put, len(pieces))
		}
		return st
	}
	one, two := rolled(1), rolled(2)
	if one.score() != two.score() || !slices.EqualFunc(one.sched, two.sched, slices.Equal) {
		t.Errorf("one core %v, two cores %v", one.score(), two.score())
	}
	if !one.score().less(from.score()) && one.score().traded() >= from.score().traded() {
		t.Errorf("%v is no better than %v", one.score(), from.score())
	}
	if plan := one.assemble(nil, nil); len(p.season.Audit(plan, nil)) > 0 {
		t.Error(p.season.Audit(plan, nil))
	}
}
