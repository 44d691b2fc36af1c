package bound

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"

	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver/colgen"
	"primaprova/solver/compact"
	"primaprova/solver/highs"
	"primaprova/solver/instance"
	"primaprova/solver/pricing"
	"primaprova/solver/run"
	"primaprova/solver/tiny"
)

// lightly weighs body and spacing as planning does, and the other wishes so little
// that a bound's tolerance doesn't hide behind them.
func lightly() instance.Objective {
	a := instance.WeightedSum(0.7)
	a.Weight[model.Coverage], a.Weight[model.ReadyBy], a.Weight[model.Closeness] = 60, 10, 2
	return a
}

// solvedMaster gives a master over the whole parts of a tiny season, solved to its end
// for body and spacing together.
func solvedMaster(t *testing.T, p *instance.Instance) *colgen.Master {
	t.Helper()
	m, err := colgen.NewMaster(tiny.HiGHS(t), pricing.NewPricer(p, 1), pricing.WholeParts(p), instance.NewSolution(p))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(m.Close)
	if err := errors.Join(m.Minimise(lightly()), m.Solve(context.Background(), 200)); err != nil {
		t.Fatal(err)
	}
	return m
}

// grown gives a tree that was grown until nothing is left to branch on.
func grown(t *testing.T, m *colgen.Master, a instance.Objective) *tree {
	t.Helper()
	x, err := newTree(context.Background(), m, a, &run.Tuned)
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
func leastHeld(t *testing.T, m *colgen.Master, a instance.Objective) float64 {
	t.Helper()
	least := instance.Inf
	var hold func(i int)
	hold = func(i int) {
		if i == len(m.Blocks) {
			if err := m.Prove(context.Background(), a, 200, 0); err != nil {
				t.Fatal(err)
			}
			least = min(least, m.Value)
			return
		}
		b := m.P.Parts[m.Blocks[i].Part].AllFrames()
		for r := b.Read[0]; r <= b.Read[1]; r++ {
			for phi := b.Phi[0]; phi <= b.Phi[1]; phi++ {
				m.Blocks[i].Box = &instance.Box{Read: [2]instance.Day{r, r}, Phi: [2]instance.Day{phi, phi}}
				hold(i + 1)
			}
		}
	}
	hold(0)
	return least
}

// choices counts what leastHeld goes through.
func choices(p *instance.Instance) int {
	n := 1
	for i := range p.Parts {
		b := p.Parts[i].AllFrames()
		n *= int(b.Read[1]-b.Read[0]+1) * int(b.Phi[1]-b.Phi[0]+1)
	}
	return n
}

// A tree with nothing left to branch on has the value of the best choice of whole
// frames, of all that there are.
func TestTreeAgainstEveryFrame(t *testing.T) {
	trees, branched, raised := 0, 0, 0
	for seed := 0; trees < 200; seed++ {
		p := tiny.Draw(tiny.DieOf(seed), tiny.Size{Days: 9, Passages: 4, Visits: 3}).Problem()
		if n := choices(p); n < 2 || n > 500 {
			continue
		}
		trees++
		m := solvedMaster(t, p)
		root := m.Value
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
		var p *instance.Instance
		if seed < invented {
			p = instance.New(invent.Season(invent.Size{Weeks: 5, Programmes: 2, Parts: 2, Passages: 3, Lead: 21, Tightness: 0.8, Irregular: true, Seed: uint64(seed)}), nil, nil)
		} else {
			p = tiny.Draw(tiny.DieOf(seed), tiny.Size{Days: 9, Passages: 4, Visits: 3}).Problem()
		}
		of, n := p.ByProgramme()
		if n < 2 {
			continue
		}
		if slices.Max(p.Fixed) > 0 {
			played++
		}
		m := solvedMaster(t, p)
		root := m.Value
		f, err := newSubproblems(context.Background(), m, of, &run.Tuned)
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
	for seed := range 24 {
		c := tiny.Draw(tiny.DieOf(seed), tiny.Size{Days: 10, Passages: 3, Visits: 3})
		p := c.Problem()
		best := outright(t, p)
		exchange := func() tradeOff {
			s := &Prover{P: p, O: &run.Options{Engine: tiny.HiGHS(t), Seed: 1}}
			defer s.Close()
			if err := s.Prove(context.Background(), model.Spacing, best, best.Score(), 100); err != nil {
				t.Fatal(err)
			}
			x, err := s.exchange(context.Background(), best.Score())
			if err != nil && !colgen.Ended(context.Background(), err) {
				t.Fatal(err)
			}
			return x
		}
		x := exchange()
		if got := x.spacing(best.Score()); got > best.Score()[model.Spacing] {
			t.Errorf("season %d: %d days of spacing are proven, the best plan has %d", seed, got, best.Score()[model.Spacing])
		} else if got > 0 {
			proven++
		}
		if seed%4 > 0 {
			continue
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
		c := tiny.Draw(tiny.DieOf(seed), tiny.Size{Days: 10, Passages: 3, Visits: 3})
		p := c.Problem()
		best := outright(t, p)
		s := &Prover{P: p, O: &run.Options{Engine: tiny.HiGHS(t), Seed: 1}}
		for _, goal := range goals {
			if err := s.further(context.Background(), best, goal, best.Score()); err != nil {
				t.Fatal(err)
			}
			least := s.Proven.Least(goal, best.Score())
			if least > best.Score()[goal] {
				t.Errorf("season %d, %v: %d is proven, the best plan has %d", seed, goal, least, best.Score()[goal])
			}
			if least > 0 {
				proven[goal]++
			}
		}
		s.Close()
	}
	for _, goal := range goals {
		if proven[goal] < 5 {
			t.Errorf("%v is proven of %d seasons only", goal, proven[goal])
		}
	}
}

// outright is the best plan of a season small enough to be solved outright.
func outright(t testing.TB, p *instance.Instance) *instance.Solution {
	t.Helper()
	st, _, err := compact.Solve(context.Background(), p, compact.ByHighs(tiny.HiGHS(t), highs.Options{}), instance.NewSolution(p), model.Tolerance{})
	if err != nil {
		t.Fatal(err)
	}
	return st
}
