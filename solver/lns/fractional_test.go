package lns

import (
	"context"
	"math"
	"slices"
	"testing"

	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver/colgen"
	"primaprova/solver/construct"
	"primaprova/solver/instance"
	"primaprova/solver/pricing"
	"primaprova/solver/run"
	"primaprova/solver/tiny"
)

// searching betters plans of an instance in which nothing is proven.
func searching(p *instance.Instance, o *run.Options) *Search {
	return &Search{P: p, O: o, Met: func(model.Wish, instance.Score) bool { return false }}
}

// worth gives the value of the linear program in a spread plan's frames.
func worth(k *Fractional, t *testing.T, a instance.Objective) float64 {
	t.Helper()
	list := k.p.ByRehearsal()
	rest, taken := k.beside(list, k.frames)
	m, err := k.master(pricing.NewPricer(k.p, 1), list, rest, taken, a)
	if err != nil {
		t.Fatal(err)
	}
	defer m.Close()
	if err := m.Solve(context.Background(), 100); err != nil {
		t.Fatal(err)
	}
	return m.Value
}

// A program of some passages speaks of the same as the whole one: where the whole
// is spread at its best, spreading some of it again beside the rest saves nothing
// and costs nothing.
func TestSomeSpreadBesideTheRest(t *testing.T) {
	for seed := range uint64(3) {
		p := instance.New(invent.Season(invent.Grown(6, 2, true, seed)), nil, nil)
		from := construct.Greedy(p)
		a := instance.WeightedSum(instance.Trade)
		k := NewFractional(&run.Options{Engine: tiny.HiGHS(t)}, from)
		solved := func(list []int) *colgen.Master {
			rest, taken := k.beside(list, k.frames)
			m, err := k.master(pricing.NewPricer(p, 1), list, rest, taken, a)
			if err != nil {
				t.Fatal(err)
			}
			if err := m.Solve(context.Background(), 100); err != nil {
				t.Fatal(err)
			}
			return m
		}
		list := p.ByRehearsal()
		m := solved(list)
		defer m.Close()
		broken := 0
		for n, shares := range m.Schedules() {
			k.shares[list[n]] = shares
			if len(shares) > 1 {
				broken++
			}
		}
		if broken == 0 {
			t.Errorf("season %d: every passage is whole; that tells nothing", seed)
		}
		some := list[len(list)/4 : len(list)/2]
		of := solved(some)
		defer of.Close()
		all := of.Value
		for _, q := range list {
			if slices.Contains(some, q) {
				continue
			}
			left := 1.0
			for _, h := range k.shares[q] {
				all += h.Weight * a.Cost(p.ScheduleScore(&p.Passages[q], h.Days))
				left -= h.Weight
			}
			all += left * a.Cost(p.ScheduleScore(&p.Passages[q], nil))
		}
		if math.Abs(all-m.Value) > 1e-3*math.Abs(m.Value) {
			t.Errorf("season %d: the whole costs %.2f, some of it beside the rest %.2f", seed, m.Value, all)
		}
	}
}

// Settled, every part is held to one frame, which costs no less than the bound
// over all frames; frames that walk cost no more than before; and what a dive
// makes whole keeps every rule.
func TestFramesSettleAndWalk(t *testing.T) {
	for seed := range uint64(3) {
		p := instance.New(invent.Season(invent.Grown(6, 2, true, seed)), nil, nil)
		from := construct.Greedy(p)
		s := searching(p, &run.Options{Engine: tiny.HiGHS(t), Seed: 1})
		m, err := colgen.NewMaster(s.O.Engine, pricing.NewPricer(p, 1), pricing.WholeParts(p), instance.NewSolution(p))
		if err != nil {
			t.Fatal(err)
		}
		defer m.Close()
		if err := m.Minimise(instance.WeightedSum(instance.Trade)); err != nil {
			t.Fatal(err)
		}
		if err := m.Solve(context.Background(), 100); err != nil {
			t.Fatal(err)
		}
		bound := m.Bound
		k := NewFractional(s.O, from)
		if err := s.fixFrames(context.Background(), k, from, p.ByDeadline()); err != nil {
			t.Fatal(err)
		}
		for i, f := range k.frames {
			if f.Read == instance.None {
				t.Fatalf("season %d: part %d is in no frame", seed, i)
			}
		}
		settled := worth(k, t, instance.WeightedSum(instance.Trade))
		if settled < bound-1e-6*math.Abs(bound) {
			t.Errorf("season %d: settled at %v, below the bound %v", seed, settled, bound)
		}
		w := newFrameSearch(k, instance.WeightedSum(instance.Trade), int(seed))
		for range 3 {
			if _, err := w.run(context.Background()); err != nil {
				t.Fatal(err)
			}
		}
		// The loads of passages far away are rounded while a frame is judged.
		if walked := worth(k, t, instance.WeightedSum(instance.Trade)); walked > settled*1.002 {
			t.Errorf("season %d: walked from %v to %v", seed, settled, walked)
		}
		if err := k.Whole(context.Background(), p.ByRehearsal(), instance.WeightedSum(instance.Trade), 15, run.Tuned.Fast); err != nil {
			t.Fatal(err)
		}
		st := k.State()
		if breaches := p.Season.Audit(st.Assemble(nil, nil), nil); len(breaches) > 0 {
			t.Errorf("season %d: %v", seed, breaches[0])
		}
	}
}
