package solver

import (
	"context"
	"slices"

	"primaprova/model"
)

// proofs are bounds of body and of spacing that hold of every plan within limits
// on what comes before, and what the two cost together there; and of what comes before,
// where more is lacking than was known to. They run beside the search, by a master of
// their own.
type proofs struct {
	by    *prover       // with a master of its own, and bounds
	limit score         // of what comes before spacing; body's is known once aimed is closed
	least int64         // body is proven to cost; 0 where that is not known
	aimed chan struct{} // closed once that is found out
	done  chan struct{} // closed once all is
	stop  context.CancelFunc
	x     exchange // for spacing
	err   error
}

// prepare begins the proofs under limits, of which body's is found out, from a
// state. They take over the search's master.
func (s *prover) prepare(ctx context.Context, from *state, limit score) *proofs {
	g := &prover{p: s.p, o: s.o, m: s.m, proven: slices.Clone(s.proven)}
	s.m, from = nil, from.clone()
	v := &proofs{by: g, limit: limit, aimed: make(chan struct{}), done: make(chan struct{})}
	ctx, v.stop = context.WithCancel(ctx)
	go func() {
		defer close(v.done)
		if g.m == nil {
			v.err = g.reach(ctx, from, limit)
		}
		if v.err == nil {
			v.least, v.err = g.branched(ctx, from, model.Body, limit)
			g.proven = append(g.proven, bound{model.Body, v.least, limit})
		}
		if v.limit[model.Body] = spared(s.o.Tolerance, model.Body, v.least); v.least == 0 {
			v.limit[model.Body] = from.score()[model.Body]
		}
		close(v.aimed)
		for goal := model.Coverage; goal <= model.ReadyBy && v.err == nil && ctx.Err() == nil; goal++ {
			v.err = g.further(ctx, from, goal, limit)
		}
		if v.err == nil && ctx.Err() == nil {
			v.x, v.err = g.exchange(ctx, v.limit)
		}
	}()
	return v
}

// foresee begins the proofs while frames are still looked for, one core being
// idle then. They suppose that what comes before body will cost no more than is
// proven of it; where that comes out otherwise, they begin anew (under).
func (s *prover) foresee(ctx context.Context, from *state) {
	least := s.proven.all(from.score())
	s.ahead = s.prepare(ctx, from, s.proven.free(s.o.Tolerance, from.score()).atMost(least))
}

// under gives the proofs under limits on what comes before body: those that run,
// if they have these limits and come to something, else new ones in their place,
// from a state.
func (s *prover) under(ctx context.Context, from *state, limit score) *proofs {
	if v := s.ahead; v != nil {
		<-v.aimed
		if v.least > 0 && v.limit.allows(limit, model.Body) && limit.allows(v.limit, model.Body) {
			return v
		}
		s.forget()
	}
	s.ahead = s.prepare(ctx, from, limit)
	return s.ahead
}

// reach gives a new master the plans that come under limits, where the state it
// begins with does not: without them its programs would have no answer.
func (s *prover) reach(ctx context.Context, from *state, limit score) error {
	for goal := model.Coverage; goal <= model.ReadyBy && !limit.allows(from.score(), model.Body); goal++ {
		if _, err := s.bounded(ctx, goal, from, limit, s.o.scaled(proofRounds[goal])); err != nil {
			return err
		}
	}
	return nil
}

// forget ends the proofs that run.
func (s *prover) forget() {
	if s.ahead != nil {
		s.ahead.stop()
		<-s.ahead.done
		s.ahead.by.close()
		s.ahead = nil
	}
}

// conclude waits for the proofs, and takes over what they say of a plan.
func (s *prover) conclude(ctx context.Context, plan *state) error {
	v := s.ahead
	if v == nil {
		return nil
	}
	<-v.done
	defer s.forget()
	if v.err != nil && !ended(ctx, v.err) {
		return v.err
	}
	s.proven = append(s.proven, v.by.proven...)
	at := s.limits(plan.score())
	if v.limit.allows(at, model.Body) {
		at = at.atMost(v.limit)
		s.proven = append(s.proven, bound{model.Spacing, v.x.spacing(at), at})
	}
	return nil
}

// further raises the bound of a wish whose limit is above it, under those on what comes
// before. Wish by wish that was proven under what moves had come to, and by the master
// alone.
func (s *prover) further(ctx context.Context, from *state, goal model.Wish, limit score) error {
	if s.least(goal, limit) {
		return nil
	}
	least, err := s.branched(ctx, from, goal, limit)
	s.proven = append(s.proven, bound{goal, least, limit})
	return err
}

// branched proves what a wish costs at least under limits on what comes before, by
// branching on frames. Where that is stopped, what was proven by then holds.
func (s *prover) branched(ctx context.Context, from *state, goal model.Wish, limit score) (int64, error) {
	least, err := s.bounded(ctx, goal, from, limit, s.o.scaled(proofRounds[goal]))
	if err != nil || ctx.Err() != nil {
		return least, err
	}
	more, err := s.branchOn(ctx, wishUnder(goal, limit), leastWork)
	if ended(ctx, err) {
		err = nil
	}
	return max(least, atLeast(goal, more)), err
}
