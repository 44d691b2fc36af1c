package lns

import (
	"context"
	"runtime"
	"slices"
	"sync/atomic"
	"testing"

	"primaprova/model/invent"
	"primaprova/solver/colgen"
	"primaprova/solver/construct"
	"primaprova/solver/instance"
	"primaprova/solver/run"
	"primaprova/solver/tiny"
)

// What a step begins from does not depend on which of two is done first: a walk comes to
// the same on one core, on two, and on two that have other work.
func TestWalkIsTheSameOnBusyCores(t *testing.T) {
	p := instance.New(invent.Season(invent.Grown(24, 0, true, 3)), nil, nil)
	from := NewFractional(&run.Options{Engine: tiny.HiGHS(t)}, construct.Greedy(p))
	walked := func(cores, busy int) *frameSearch {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
		var stop atomic.Bool
		defer stop.Store(true)
		for range busy {
			go func() {
				for !stop.Load() {
				}
			}()
		}
		w := newFrameSearch(from.clone(), instance.WeightedSum(instance.Trade), 1)
		w.most = int64(3 * run.Tuned.FrameWork)
		moved, err := w.run(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		if !moved || slices.Equal(w.frames, from.frames) {
			t.Errorf("%d cores: nothing moved", cores)
		}
		return w
	}
	first := walked(2, 0)
	apart := 0
	for i := range p.Parts {
		for j := range i {
			if !first.near(i, j) {
				apart++
			}
		}
	}
	if apart == 0 || first.steps < 8 {
		t.Fatalf("%d pairs are apart, %d steps: no two were under way", apart, first.steps)
	}
	alike := func(a, b []colgen.WeighedSchedule) bool {
		return slices.EqualFunc(a, b, func(x, y colgen.WeighedSchedule) bool { return x.Weight == y.Weight && slices.Equal(x.Days, y.Days) })
	}
	for _, w := range []*frameSearch{walked(1, 0), walked(2, 3)} {
		if !slices.Equal(w.frames, first.frames) || w.work != first.work || !slices.EqualFunc(w.shares, first.shares, alike) {
			t.Errorf("the same walk came elsewhere: work %d and %d", w.work, first.work)
		}
	}
}

// A walk that has no work limit takes every part once, whatever is under way.
func TestWalkTakesEveryPartOnce(t *testing.T) {
	p := instance.New(invent.Season(invent.Grown(10, 0, true, 3)), nil, nil)
	w := newFrameSearch(NewFractional(&run.Options{Engine: tiny.HiGHS(t)}, construct.Greedy(p)), instance.WeightedSum(instance.Trade), 1)
	if _, err := w.run(context.Background()); err != nil {
		t.Fatal(err)
	}
	tried := slices.Sorted(slices.Values(w.tried))
	for n, step := range tried {
		if step != n+1 {
			t.Fatalf("%d parts were tried at %v", len(tried), tried)
		}
	}
}
