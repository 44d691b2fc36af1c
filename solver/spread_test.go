package solver

import (
	"context"
	"math"
	"slices"
	"testing"

	"primaprova/model"
	"primaprova/model/invent"
)

// searching betters plans of a problem in which nothing is proven.
func searching(p *problem, o *Options) *neighbourhoods {
	return &neighbourhoods{p: p, o: o, met: func(model.Wish, score) bool { return false }}
}

// worth gives the value of the linear program in a spread plan's frames.
func (k *spread) worth(t *testing.T, a aim) float64 {
	t.Helper()
	list := k.p.byRehearsal()
	rest, taken := k.beside(list, k.frames)
	m, err := k.master(newPricer(k.p, 1), list, rest, taken, a)
	if err != nil {
		t.Fatal(err)
	}
	defer m.close()
	if err := m.solve(context.Background(), 100); err != nil {
		t.Fatal(err)
	}
	return m.value
}

// A program of some passages speaks of the same as the whole one: where the whole
// is spread at its best, spreading some of it again beside the rest saves nothing
// and costs nothing.
func TestSomeSpreadBesideTheRest(t *testing.T) {
	for seed := range uint64(3) {
		p := build(invent.Season(invent.Grown(6, 2, true, seed)), nil, nil)
		from := greedy(p)
		a := weighed(trade)
		k := newSpread(highsLibrary(t), from)
		solved := func(list []int) *master {
			rest, taken := k.beside(list, k.frames)
			m, err := k.master(newPricer(p, 1), list, rest, taken, a)
			if err != nil {
				t.Fatal(err)
			}
			if err := m.solve(context.Background(), 100); err != nil {
				t.Fatal(err)
			}
			return m
		}
		list := p.byRehearsal()
		m := solved(list)
		defer m.close()
		broken := 0
		for n, shares := range m.shared() {
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
		defer of.close()
		all := of.value
		for _, q := range list {
			if slices.Contains(some, q) {
				continue
			}
			left := 1.0
			for _, h := range k.shares[q] {
				all += h.weight * a.cost(p.scheduleScore(&p.passages[q], h.days))
				left -= h.weight
			}
			all += left * a.cost(p.scheduleScore(&p.passages[q], nil))
		}
		if math.Abs(all-m.value) > 1e-3*math.Abs(m.value) {
			t.Errorf("season %d: the whole costs %.2f, some of it beside the rest %.2f", seed, m.value, all)
		}
	}
}

// Settled, every part is held to one frame, which costs no less than the bound
// over all frames; frames that walk cost no more than before; and what a dive
// makes whole keeps every rule.
func TestFramesSettleAndWalk(t *testing.T) {
	for seed := range uint64(3) {
		p := build(invent.Season(invent.Grown(6, 2, true, seed)), nil, nil)
		from := greedy(p)
		s := searching(p, &Options{Engine: highsLibrary(t), Seed: 1})
		m, err := newMaster(s.o.Engine, newPricer(p, 1), p.wholeParts(), newState(p))
		if err != nil {
			t.Fatal(err)
		}
		defer m.close()
		if err := m.set(weighed(trade)); err != nil {
			t.Fatal(err)
		}
		if err := m.solve(context.Background(), 100); err != nil {
			t.Fatal(err)
		}
		bound := m.bound
		k := newSpread(s.o.Engine, from)
		if err := s.settle(context.Background(), k, from, p.byDeadline()); err != nil {
			t.Fatal(err)
		}
		for i, f := range k.frames {
			if f.read == none {
				t.Fatalf("season %d: part %d is in no frame", seed, i)
			}
		}
		settled := k.worth(t, weighed(trade))
		if settled < bound-1e-6*math.Abs(bound) {
			t.Errorf("season %d: settled at %v, below the bound %v", seed, settled, bound)
		}
		w := newWalk(k, weighed(trade), int(seed))
		for range 3 {
			if _, err := w.run(context.Background()); err != nil {
				t.Fatal(err)
			}
		}
		// The loads of passages far away are rounded while a frame is judged.
		if walked := k.worth(t, weighed(trade)); walked > settled*1.002 {
			t.Errorf("season %d: walked from %v to %v", seed, settled, walked)
		}
		if err := k.whole(context.Background(), p.byRehearsal(), weighed(trade), 15, fast); err != nil {
			t.Fatal(err)
		}
		st := k.state()
		if breaches := p.season.Audit(st.assemble(nil, nil), nil); len(breaches) > 0 {
			t.Errorf("season %d: %v", seed, breaches[0])
		}
	}
}
