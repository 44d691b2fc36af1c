package solver

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"primaprova/model/invent"
	"primaprova/solver/mip"
)

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
		k := newSpread(engine(t), from)
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
		s := &search{p: p, o: &Options{Engine: engine(t), Seed: 1}, st: from}
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

// A frame whose days are taken finds others near it, in the right order.
func TestRoomForAFrame(t *testing.T) {
	p := build(invent.Season(invent.Grown(6, 2, true, 1)), nil, nil)
	s := greedy(p)
	r := rand.New(rand.NewPCG(7, 7))
	moved := 0
	for n := range 400 {
		i := n % len(p.parts)
		q := &p.parts[i]
		was, days := s.frames[i], append([][]int16{}, s.sched[q.first:q.last]...)
		if was.read < 0 {
			continue
		}
		s.liftPart(i)
		f := was
		f.read = int16(q.winLo + r.IntN(q.winHi-q.winLo+1))
		f.listen, f.phi = min(f.listen, f.read), max(f.phi, f.read)
		most := n % 8
		if g := s.room(i, f, most); g.read != none {
			if by := int(g.read) - int(f.read); max(by, -by) > most {
				t.Fatalf("wanted %v within %d days, got %v", f, most, g)
			}
			if !s.takesFrame(q, g) || q.listen > 0 && g.listen > g.read || g.rec != none && g.rec <= g.read || g.phi < g.read {
				t.Fatalf("wanted %v, got %v", f, g)
			}
			if g != f {
				moved++
			}
		}
		s.setFrame(i, was)
		for k, d := range days {
			if len(d) > 0 {
				s.place(q.first+k, d)
			}
		}
	}
	if moved == 0 {
		t.Error("no day was ever taken: the season is too easy")
	}
}

// The row through two multiples is right at both, and never above the truth at
// any multiple.
func TestStepsAreCut(t *testing.T) {
	for _, step := range []int{1, 3, 5, 15} {
		for side := range 40 {
			p := build(invent.Season(invent.Small(1)), nil, nil)
			c := newCoupling("steps", p, 0, p.days-1, newState(p).taken())
			rows := c.m.Rows()
			c.cut("step", step, side, load{terms: []mip.Term{{Var: c.p[0], Coef: 1}}})
			if (c.m.Rows() > rows) != (side%step != 0) {
				t.Fatalf("step %d, side %d: %d rows more", step, side, c.m.Rows()-rows)
			}
			if side%step == 0 {
				continue
			}
			below := side / step * step
			x := make([]float64, c.m.Vars())
			for n := range 20 {
				load := n * step
				x[c.p[0]] = float64(load)
				row := mip.Row(rows)
				cut, truth := c.m.Activity(row, x)-c.m.RowUpper(row), float64(max(0, load-side))
				if cut > truth+1e-9 || (load == below || load == below+step) && math.Abs(cut-truth) > 1e-9 {
					t.Errorf("step %d, side %d, load %d: %v in place of %v", step, side, load, cut, truth)
				}
			}
		}
	}
}
