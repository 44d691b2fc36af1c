package solver

import (
	"context"
	"sync"

	"primaprova/model"
	"primaprova/solver/highs"
)

// search works a season through, wish by wish. For each wish two things run
// side by side: moves better the plan, and the master's prices prove a bound.
// Neither looks at the other until both are done, and of a proof that was stopped
// nothing is kept, so that the result does not depend on which is faster. In the end
// dives and windows take down the last wish, where moves alone leave most.
type search struct {
	*prover
	*neighbourhoods
	p       *problem
	o       *Options
	st      *state
	found   *state // the best so far by the order of the wishes, while their weights choose what is worked at; nil: st
	told    func(step string, done float64)
	spreads bool // a spread plan follows, which goes further than moves
	apart   bool // leaves the written-out program out, so that tests can hold one against the other
}

// movesOf is how many moves a passage gets at each wish, at Options.Work 1.
var movesOf = [5]int{model.Coverage: 50, model.ReadyBy: 50, model.Closeness: 200, model.Body: 300, model.Spacing: 20}

// newSearch begins with a state.
func newSearch(p *problem, o *Options, st *state) *search {
	s := &search{p: p, o: o, st: st, told: func(string, float64) {}}
	s.prover = &prover{p: p, o: o}
	s.neighbourhoods = &neighbourhoods{p: p, o: o, met: s.least}
	return s
}

// attempts is how often coverage is worked at again while it stands above its
// bound. Each begins hot, so that what held the last one up need not hold up the
// next. Where a spread plan follows, or parts are filled in, what is lacking is
// left to that.
func (s *search) attempts(goal model.Wish) int {
	if !s.spreads && s.o.Standing == nil && goal == model.Coverage {
		return 2
	}
	return 0
}

// run works through the wishes. An ended context ends it early, with the best
// state so far in s.st.
func (s *search) run(ctx context.Context) error {
	small := !s.apart && s.p.visitDays() <= wholeSize
	s.spreads = !small && s.o.Standing == nil
	var ahead *spread
	var aheadErr error
	var wg sync.WaitGroup
	defer wg.Wait()
	spreading, stop := context.WithCancel(ctx)
	defer stop()
	if s.spreads {
		from := s.st.clone()
		wg.Go(func() { ahead, aheadErr = s.spreadOut(spreading, from) })
	}
	if err := s.wishByWish(ctx); err != nil || ctx.Err() != nil {
		return err
	}
	if small {
		return s.writtenOut(ctx)
	}
	if s.o.Standing != nil || s.least(model.Spacing, s.st.score()) {
		return nil
	}
	s.told("frames", 4.0/6)
	s.foresee(ctx, s.st)
	defer s.forget()
	wg.Wait()
	if aheadErr != nil && !ended(ctx, aheadErr) {
		return aheadErr
	}
	if ctx.Err() != nil {
		return nil
	}
	if ahead == nil {
		ahead = newSpread(s.o.Engine, s.st)
	}
	return s.deepen(ctx, ahead)
}

// wishByWish betters and bounds one wish after the other.
func (s *search) wishByWish(ctx context.Context) error {
	im := newImprover(s.st, uint64(s.o.Seed))
	passages := len(s.p.passages)
	if s.o.Standing != nil {
		im.free = s.p.unplanned(s.st)
		passages = min(passages, 2*len(im.free))
	}
	for _, goal := range model.Wishes {
		if ctx.Err() != nil {
			return nil
		}
		if s.st.score()[goal] == 0 {
			continue
		}
		limits := s.limits(s.st.score())
		s.told(goal.String(), float64(goal)/6)
		moves := max(s.o.scaled(movesOf[goal]*passages), 2000)
		if s.spreads && goal > model.Coverage { // a dive takes the place of what these find
			moves /= 4
		}
		var wg sync.WaitGroup
		var err error
		proving, stop := context.WithCancel(ctx)
		from := s.st.clone()
		if goal <= model.ReadyBy || !s.spreads { // the others are proven under what the spread plan comes to
			wg.Go(func() { err = s.prove(proving, goal, from, limits, s.o.scaled(proofRounds[goal])) })
		}
		im.towards(ctx, goal, limits, moves)
		met := s.st.score()[goal] == 0
		if met {
			stop() // nothing is below 0: no proof is needed
		}
		wg.Wait()
		stop()
		if met {
			s.close() // how far the master came depends on when it was stopped
		}
		if err != nil {
			return err
		}
		for range s.attempts(goal) {
			if s.least(goal, s.st.score()) {
				break
			}
			im.towards(ctx, goal, limits, moves)
		}
		switch {
		case s.o.Standing == nil:
		case goal == model.Coverage:
			err = s.fillIn(ctx, s.st, goal)
		case goal == model.ReadyBy:
			err = s.repair(ctx, s.st, s.p.byRehearsal(), goal, brief)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// wholeSize is the most visit-days of a season whose written-out program is
// solved at the end, and wholeWork the iterations each wish gets for that.
const (
	wholeSize = 1500
	wholeWork = 150_000
)

// writtenOut solves the written-out program from the state as it stands, which
// proves the best plan of a small season outright.
func (s *search) writtenOut(ctx context.Context) error {
	if ctx.Err() != nil {
		return nil
	}
	s.told("whole", 5.0/6)
	best, proven, err := s.p.solveWritten(ctx, ByHighs(s.o.Engine, highs.Options{MaxLPIterations: wholeWork}), s.st, s.o.Tolerance)
	if err != nil {
		if ctx.Err() != nil {
			return nil
		}
		return err
	}
	s.st, s.proven = best, append(s.proven, proven...)
	return nil
}
