package bound

import (
	"context"
	"slices"
	"sync"

	"primaprova/model"
	"primaprova/solver/colgen"
	"primaprova/solver/instance"
	"primaprova/solver/run"
)

// proofs are bounds of body and of spacing that hold of every plan within limits
// on what comes before, and what the two cost together there; and of what comes before,
// where more is lacking than was known to. They run beside the search, by a master of
// their own.
type proofs struct {
	by    *Prover        // with a master of its own, and bounds
	Limit instance.Score // of what comes before spacing; body's is known once aimed is closed
	Least int64          // body is proven to cost; 0 where that is not known
	Aimed chan struct{}  // closed once that is found out
	done  chan struct{}  // closed once all is
	goes  chan struct{}  // closed once spacing may be bounded
	once  sync.Once      // closes it
	stop  context.CancelFunc
	x     tradeOff // for spacing
	err   error
}

// prepare begins the proofs under limits, of which body's is found out, from a
// solution. They take over the search's master.
func (s *Prover) prepare(ctx context.Context, from *instance.Solution, limit instance.Score) *proofs {
	g := &Prover{P: s.P, O: s.O, m: s.m, Proven: slices.Clone(s.Proven)}
	s.m, from = nil, from.Clone()
	v := &proofs{by: g, Limit: limit, Aimed: make(chan struct{}), done: make(chan struct{}), goes: make(chan struct{})}
	ctx, v.stop = context.WithCancel(ctx)
	if !s.O.Does(run.Bounding) { // nothing is known then
		v.Limit[model.Body] = from.Score()[model.Body]
		close(v.Aimed)
		close(v.done)
		return v
	}
	go func() {
		defer close(v.done)
		if v.err = g.reach(ctx, from, limit); v.err == nil {
			v.Least, v.err = g.branched(ctx, from, model.Body, limit)
			g.Proven = append(g.Proven, instance.Bound{Wish: model.Body, Least: v.Least, Under: limit})
		}
		if v.Limit[model.Body] = instance.Tolerated(s.O.Tolerance, model.Body, v.Least); v.Least == 0 {
			v.Limit[model.Body] = from.Score()[model.Body]
		}
		close(v.Aimed)
		short := s.O.Tuning().Short
		if !short { // there limits fall before, most often: it would be proven of other plans
			v.GoOn()
		}
		for goal := model.Coverage; goal <= model.ReadyBy && !short && v.err == nil && ctx.Err() == nil; goal++ {
			v.err = g.further(ctx, from, goal, limit)
		}
		select {
		case <-v.goes:
		case <-ctx.Done():
		}
		if v.err == nil && ctx.Err() == nil {
			v.x, v.err = g.exchange(ctx, v.Limit)
		}
	}()
	return v
}

// GoOn lets spacing be bounded.
func (v *proofs) GoOn() { v.once.Do(func() { close(v.goes) }) }

// Foresee begins the proofs while frames are still looked for, one core being
// idle then. They suppose that what comes before body will cost no more than is
// proven of it; where that comes out otherwise, they begin anew (under).
func (s *Prover) Foresee(ctx context.Context, from *instance.Solution) {
	least := s.Proven.All(from.Score())
	if s.O.Tuning().Short && !least.Allows(from.Score(), model.Body) {
		return // they won't come out so
	}
	s.ahead = s.prepare(ctx, from, s.Proven.Free(s.O.Tolerance, from.Score()).AtMost(least))
	s.ahead.GoOn()
}

// Under gives the proofs under limits on what comes before body: those that run,
// if they have these limits and come to something, else new ones in their place,
// from a solution.
func (s *Prover) Under(ctx context.Context, from *instance.Solution, limit instance.Score) *proofs {
	if v := s.ahead; v != nil {
		<-v.Aimed
		if v.Least > 0 && v.Limit.Allows(limit, model.Body) && limit.Allows(v.Limit, model.Body) {
			return v
		}
		s.Forget()
	}
	s.ahead = s.prepare(ctx, from, limit)
	return s.ahead
}

// reach gives the master plans that come under limits, where the solution it begins with
// does not: without them its programs would have no answer. A master that has proven wish
// by wish has columns for each of the limits, not for all of them at once.
func (s *Prover) reach(ctx context.Context, from *instance.Solution, limit instance.Score) error {
	for goal := model.Coverage; goal <= model.ReadyBy && !limit.Allows(from.Score(), model.Body); goal++ {
		if _, err := s.bounded(ctx, goal, from, limit, s.O.Scaled(s.O.Tuning().BoundRounds[goal])); err != nil {
			return err
		}
	}
	return nil
}

// Forget ends the proofs that run.
func (s *Prover) Forget() {
	if s.ahead != nil {
		s.ahead.stop()
		<-s.ahead.done
		s.ahead.by.Close()
		s.ahead = nil
	}
}

// Conclude waits for the proofs, and takes over what they say of a plan.
func (s *Prover) Conclude(ctx context.Context, plan *instance.Solution) error {
	v := s.ahead
	if v == nil {
		return nil
	}
	v.GoOn()
	<-v.done
	defer s.Forget()
	if v.err != nil && !colgen.Ended(ctx, v.err) {
		return v.err
	}
	s.Proven = append(s.Proven, v.by.Proven...)
	s.Proven = append(s.Proven, v.spacing(s.Limits(plan.Score()))...)
	return nil
}

// spacing gives what is proven of spacing under limits, once all proofs are done.
func (v *proofs) spacing(at instance.Score) instance.Bounds {
	if !v.Limit.Allows(at, model.Body) {
		return nil
	}
	at = at.AtMost(v.Limit)
	return instance.Bounds{{Wish: model.Spacing, Least: v.x.spacing(at), Under: at}}
}

// Near tells whether a plan is within the gap asked for of what is proven of each wish, with the
// proofs that run beside. They are waited for, so that no answer depends on which is faster; most are
// done after so many passes.
func (s *Prover) Near(plan *instance.Solution, passes int) bool {
	v := s.ahead
	if s.O.Gap == 0 || v == nil || passes < 2 {
		return false
	}
	v.GoOn()
	<-v.done
	if v.err != nil {
		return false // Conclude tells
	}
	now := plan.Score()
	proven := append(slices.Clone(s.Proven), v.by.Proven...)
	at := now.AtMost(proven.Free(s.O.Tolerance, now))
	proven = append(proven, v.spacing(at)...)
	for _, w := range model.Wishes {
		least := proven.Least(w, at)
		if t := instance.Tolerated(s.O.Tolerance, w, least); w != model.Spacing {
			least = t
		}
		if float64(now[w]-least) > s.O.Gap*float64(now[w]) {
			return false
		}
	}
	return true
}

// Further raises the bound of a wish of plans like the one given, where it costs more than is proven.
func (s *Prover) Further(ctx context.Context, plan *instance.Solution, goal model.Wish) error {
	if !s.O.Does(run.Bounding) || s.Least(goal, plan.Score()) {
		return nil
	}
	return s.further(ctx, plan, goal, plan.Score())
}

// further raises the bound of a wish whose limit is above it, under those on what comes
// before. Wish by wish that was proven under what moves had come to, and by the master
// alone.
func (s *Prover) further(ctx context.Context, from *instance.Solution, goal model.Wish, limit instance.Score) error {
	if s.Least(goal, limit) {
		return nil
	}
	least, err := s.branched(ctx, from, goal, limit)
	s.Proven = append(s.Proven, instance.Bound{Wish: goal, Least: least, Under: limit})
	return err
}

// branched proves what a wish costs at least under limits on what comes before, by
// branching on frames. Where that is stopped, what was proven by then holds.
func (s *Prover) branched(ctx context.Context, from *instance.Solution, goal model.Wish, limit instance.Score) (int64, error) {
	least, err := s.bounded(ctx, goal, from, limit, s.O.Scaled(s.O.Tuning().BoundRounds[goal]))
	if err != nil || ctx.Err() != nil || !s.O.Does(run.Branching) {
		return least, err
	}
	more, err := s.branchOn(ctx, instance.ConstrainedBy(goal, limit), s.O.Tuning().BranchWorkBefore)
	if colgen.Ended(ctx, err) {
		err = nil
	}
	return max(least, atLeast(goal, more)), err
}
