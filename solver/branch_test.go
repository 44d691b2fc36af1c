package solver

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"

	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver/highs"
)

// lightly weighs body and spacing as planning does, and the other wishes so little
// that a bound's tolerance doesn't hide behind them.
func lightly() aim {
	a := weighed(0.7)
	a.want[model.Coverage], a.want[model.ReadyBy], a.want[model.Closeness] = 60, 10, 2
	return a
}

// solvedMaster gives a master over the whole parts of a tiny season, solved to its end
// for body and spacing together.
func solvedMaster(t *testing.T, p *problem) *master {
	t.Helper()
	m, err := newMaster(highsLibrary(t), newPricer(p, 1), p.wholeParts(), newState(p))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(m.close)
	if err := errors.Join(m.set(lightly()), m.solve(context.Background(), 200)); err != nil {
		t.Fatal(err)
	}
	return m
}

// grown gives a tree that was grown until nothing is left to branch on.
func grown(t *testing.T, m *master, a aim) *tree {
	t.Helper()
	x, err := newTree(context.Background(), m, a)
	if err == nil {
		err = x.grow(context.Background(), 10_000)
	}
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// leastHeld solves a master with its parts held to each choice of a read-through
// and an end of the first round in turn, and gives the least value.
func leastHeld(t *testing.T, m *master, a aim) float64 {
	t.Helper()
	least := inf
	var hold func(i int)
	hold = func(i int) {
		if i == len(m.units) {
			if err := m.prove(context.Background(), a, 200, 0); err != nil {
				t.Fatal(err)
			}
			least = min(least, m.value)
			return
		}
		b := m.p.parts[m.units[i].part].allFrames()
		for r := b.read[0]; r <= b.read[1]; r++ {
			for phi := b.phi[0]; phi <= b.phi[1]; phi++ {
				m.units[i].box = &box{[2]int16{r, r}, [2]int16{phi, phi}}
				hold(i + 1)
			}
		}
	}
	hold(0)
	return least
}

// choices counts what leastHeld goes through.
func (p *problem) choices() int {
	n := 1
	for i := range p.parts {
		b := p.parts[i].allFrames()
		n *= int(b.read[1]-b.read[0]+1) * int(b.phi[1]-b.phi[0]+1)
	}
	return n
}

// A tree with nothing left to branch on has the value of the best choice of whole
// frames, of all that there are.
func TestTreeAgainstEveryFrame(t *testing.T) {
	trees, branched, raised := 0, 0, 0
	for seed := 0; trees < 200; seed++ {
		p := tinySeason(dieOf(seed), tinySize{9, 4, 3}).problem()
		if n := p.choices(); n < 2 || n > 500 {
			continue
		}
		trees++
		m := solvedMaster(t, p)
		root := m.value
		x := grown(t, m, lightly())
		least := leastHeld(t, m, lightly())
		if got := x.bound(); got > least+1e-6 || got < least-nearEnough-1e-6 {
			t.Errorf("season %d: the tree proves %v, the best frames come to %v", seed, got, least)
		}
		if x.nodes > 1 {
			branched++
		}
		if x.bound() > root+2*nearEnough {
			raised++
		}
	}
	t.Logf("of %d trees %d branched, %d were raised", trees, branched, raised)
	if branched < 5 || raised < 5 {
		t.Errorf("of %d trees %d branched, %d were raised: too few to tell", trees, branched, raised)
	}
}

// Trees over clusters begin together where the master ends, and prove no more
// than one tree over the whole season. What was played before today is charged
// to none of them.
func TestClustersAgainstOneTree(t *testing.T) {
	const invented, drawn = 12, 100
	raised, played := 0, 0
	for seed := range invented + drawn {
		var p *problem
		if seed < invented {
			p = build(invent.Season(invent.Size{Weeks: 5, Programmes: 2, Parts: 2, Passages: 3, Lead: 21, Tightness: 0.8, Irregular: true, Seed: uint64(seed)}), nil, nil)
		} else {
			p = tinySeason(dieOf(seed), tinySize{9, 4, 3}).problem()
		}
		of, n := p.byProgramme()
		if n < 2 {
			continue
		}
		if slices.Max(p.fixed) > 0 {
			played++
		}
		m := solvedMaster(t, p)
		root := m.value
		f, err := newForest(context.Background(), m, of)
		if err != nil {
			t.Fatal(err)
		}
		defer f.close()
		begun := f.bound()
		if begun < root-nearEnough*float64(n)-1e-6 || begun > root+1e-6 {
			t.Errorf("season %d: clusters begin at %v, the master ends at %v", seed, begun, root)
		}
		stopped, stop := context.WithCancel(context.Background())
		stop()
		if err := f.grow(stopped, math.MaxInt64); err != nil || f.bound() != begun {
			t.Errorf("season %d: clusters that are stopped prove %v, %v before: %v", seed, f.bound(), begun, err)
		}
		if err := f.grow(context.Background(), math.MaxInt64); err != nil {
			t.Fatal(err)
		}
		x := grown(t, m, lightly())
		if f.bound() > x.bound()+nearEnough+1e-6 {
			t.Errorf("season %d: clusters prove %v, one tree %v", seed, f.bound(), x.bound())
		}
		if f.bound() > begun+0.5 {
			raised++
		}
	}
	t.Logf("%d are raised, %d have played before", raised, played)
	if raised < 5 || played < 5 {
		t.Errorf("only %d are raised, only %d have played before", raised, played)
	}
}

// What branching proves of spacing is not above the best plan's, at whatever it
// costs in the wishes before, and comes out the same again.
func TestExchangeAgainstTheBest(t *testing.T) {
	proven := 0
	for seed := range 60 {
		c := tinySeason(dieOf(seed), tinySize{10, 3, 3})
		p := c.problem()
		best := outright(t, p)
		exchange := func() exchange {
			s := &prover{p: p, o: &Options{Engine: highsLibrary(t), Seed: 1}}
			defer s.close()
			if err := s.prove(context.Background(), model.Spacing, best, best.score(), 100); err != nil {
				t.Fatal(err)
			}
			x, err := s.exchange(context.Background(), best.score())
			if err != nil && !ended(context.Background(), err) {
				t.Fatal(err)
			}
			return x
		}
		x := exchange()
		if got := x.spacing(best.score()); got > best.score()[model.Spacing] {
			t.Errorf("season %d: %d days of spacing are proven, the best plan has %d", seed, got, best.score()[model.Spacing])
		} else if got > 0 {
			proven++
		}
		if again := exchange(); again != x {
			t.Errorf("season %d: %v is proven, then %v", seed, x, again)
		}
	}
	if proven == 0 {
		t.Error("nothing is proven of any season")
	}
}

// What is proven further of what is left out, late or heavy is not above the best plan's.
func TestFurtherAgainstTheBest(t *testing.T) {
	proven := map[model.Wish]int{}
	goals := []model.Wish{model.Coverage, model.ReadyBy, model.Body}
	for seed := range 60 {
		c := tinySeason(dieOf(seed), tinySize{10, 3, 3})
		p := c.problem()
		best := outright(t, p)
		s := &prover{p: p, o: &Options{Engine: highsLibrary(t), Seed: 1}}
		for _, goal := range goals {
			if err := s.further(context.Background(), best, goal, best.score()); err != nil {
				t.Fatal(err)
			}
			least := s.proven.least(goal, best.score())
			if least > best.score()[goal] {
				t.Errorf("season %d, %v: %d is proven, the best plan has %d", seed, goal, least, best.score()[goal])
			}
			if least > 0 {
				proven[goal]++
			}
		}
		s.close()
	}
	for _, goal := range goals {
		if proven[goal] < 5 {
			t.Errorf("%v is proven of %d seasons only", goal, proven[goal])
		}
	}
}

// outright is the best plan of a season small enough to be solved outright.
func outright(t testing.TB, p *problem) *state {
	t.Helper()
	st, _, err := p.solveWritten(context.Background(), ByHighs(highsLibrary(t), highs.Options{}), newState(p), model.Tolerance{})
	if err != nil {
		t.Fatal(err)
	}
	return st
}
