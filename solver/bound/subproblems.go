package bound

import (
	"context"
	"time"

	"primaprova/model"
	"primaprova/solver/colgen"
	"primaprova/solver/instance"
	"primaprova/solver/run"
)

// subproblems is a tree over the frames of each cluster of a season (division). The
// sum of their bounds is a bound of the whole, wherever each of them is stopped.
type subproblems struct {
	constant float64
	trees    []*tree
	rates    []rate
	work     int64 // of linear programs so far (master.work)
}

// rate is what a tree's last turns raised its bound by, and the work they took.
type rate struct{ gain, work float64 }

// promise is what a turn is likely to bring for its work. A tree whose bound
// stands still may move yet, the less likely the longer it stands.
func (r rate) promise() float64 { return (r.gain + 0.1) / r.work }

// after is a rate after another turn.
func (r rate) after(gain, work float64) rate {
	if gain > 0 {
		r.work /= 2
	}
	return rate{r.gain/2 + gain, r.work + work}
}

// newSubproblems cuts a master, as it was solved last, into clusters and prices their
// roots.
func newSubproblems(ctx context.Context, m *colgen.Master, of []int, by *run.Params) (*subproblems, error) {
	v := decompose(m, of)
	f := &subproblems{constant: v.constant()}
	for k := range v.here {
		c, a, err := v.cluster(k)
		if err != nil {
			return f, err
		}
		t, err := newTree(ctx, c, a, by)
		f.trees = append(f.trees, t)
		if err != nil && !colgen.Ended(ctx, err) {
			return f, err
		}
		t.stuck = err != nil
		f.rates = append(f.rates, rate{instance.Inf, 1})
		f.work += t.m.Work
	}
	return f, nil
}

// bound gives what no choice of frames in the clusters is below.
func (f *subproblems) bound() float64 {
	sum := f.constant
	for _, t := range f.trees {
		sum += t.bound()
	}
	return sum
}

// grow lets that tree take the next turn which raised its bound most for its
// work of late, until so much work is spent or nothing is left to branch on.
func (f *subproblems) grow(ctx context.Context, most int64) error {
	for f.work < most && ctx.Err() == nil {
		next := instance.None
		for i, t := range f.trees {
			if !t.closed() && (next == instance.None || f.rates[i].promise() > f.rates[next].promise()) {
				next = i
			}
		}
		if next == instance.None {
			return nil
		}
		t, r := f.trees[next], &f.rates[next]
		bound, work := t.bound(), t.m.Work
		if err := t.grow(ctx, t.nodes+t.by.BranchTurn); err != nil && !colgen.Ended(ctx, err) {
			return err
		}
		spent := t.m.Work - work
		f.work += spent
		if r.gain == instance.Inf {
			*r = rate{}
		}
		*r = r.after(t.bound()-bound, float64(spent))
	}
	return nil
}

func (f *subproblems) close() {
	for _, t := range f.trees {
		t.m.Close()
	}
}

// tradeOff says that every plan within the limits that it was proven under pays
// sum at least for its days of spacing and its minutes of body, body minutes
// weighing so many days each.
type tradeOff struct{ sum, body float64 }

// spacing gives the bound of spacing that follows at a plan's body.
func (x tradeOff) spacing(now instance.Score) int64 {
	return atLeast(model.Spacing, x.sum-x.body*float64(now[model.Body])/100)
}

// atLeast is roundUp where the bound may be that nothing is known: −Inf.
func atLeast(goal model.Wish, bound float64) int64 {
	if bound <= 0 {
		return 0
	}
	return roundUp(goal, bound)
}

// wishOf gives the last wish that an objective counts.
func wishOf(a instance.Objective) (last model.Wish) {
	for _, w := range model.Wishes {
		if a.Weight[w] > 0 {
			last = w
		}
	}
	return last
}

// branchOn proves by branching on frames, with so much work, what an aim comes to
// at least. It goes on with the master of the proofs before.
func (s *Prover) branchOn(ctx context.Context, a instance.Objective, work int) (float64, error) {
	if err := s.m.Prove(ctx, a, s.O.Scaled(s.O.Tuning().BoundRounds[model.Spacing]), s.near()/10); err != nil {
		return 0, err
	}
	f, err := newSubproblems(ctx, s.m, clustersOf(s.m, s.O.Tuning().BranchParts), s.O.Tuning())
	defer f.close()
	if err != nil {
		return 0, err
	}
	began := time.Now()
	err = f.grow(ctx, int64(s.O.Scaled(work*len(s.P.Parts))))
	nodes := 0
	for _, t := range f.trees {
		nodes += t.nodes
	}
	s.O.Note(began, run.Event{Phase: "bound", Operator: run.Branching, Wish: wishOf(a).String(), Tried: nodes, Kept: len(f.trees), Bound: max(0, f.bound()), Work: f.work})
	return f.bound(), err
}

// exchange proves what spacing costs at least, whatever body comes to. Body weighs what its
// limit makes it worth by the master's prices: at any other weight less would be proven of a
// plan that spends all it may. The least that windows trade it at is added, since from
// nothing the prices take twice as many rounds to settle.
func (s *Prover) exchange(ctx context.Context, limit instance.Score) (x tradeOff, err error) {
	a := instance.ConstrainedBy(model.Spacing, limit)
	a.Weight[model.Body] = s.O.Tuning().TradeLeast
	if err := s.m.Prove(ctx, a, s.O.Scaled(s.O.Tuning().BoundRounds[model.Spacing]), s.near()); err != nil {
		return x, err
	}
	x.body = s.m.Duals.Weight[model.Body]
	a.Weight[model.Body], a.Limit[model.Body] = x.body, instance.Inf
	if !s.O.Does(run.Branching) {
		return tradeOff{}, nil
	}
	x.sum, err = s.branchOn(ctx, a, s.O.Tuning().BranchWork)
	return x, err
}
