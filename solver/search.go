package solver

import (
	"context"
	"sync"
	"time"

	"primaprova/model"
	"primaprova/solver/bound"
	"primaprova/solver/colgen"
	"primaprova/solver/compact"
	"primaprova/solver/construct"
	"primaprova/solver/instance"
	"primaprova/solver/lns"
	"primaprova/solver/run"
)

// search works a season through, wish by wish. For each wish two things run
// side by side: moves better the plan, and the master's prices prove a bound.
// Neither looks at the other until both are done, and of a proof that was stopped
// nothing is kept, so that the result does not depend on which is faster. In the end
// dives and windows take down the last wish, where moves alone leave most.
type search struct {
	*bound.Prover
	*lns.Search
	p       *instance.Instance
	o       *Options
	st      *instance.Solution
	found   *instance.Solution // the best so far by the order of the wishes, while their weights choose what is worked at; nil: st
	told    func(step string, done float64)
	engines *compact.Engines // of a short season, with the work that is left; nil: none was asked yet
	spreads bool             // a spread plan follows, which goes further than moves
	apart   bool             // leaves the written-out program out, so that tests can hold one against the other
}

// newSearch begins with a solution.
func newSearch(p *instance.Instance, o *Options, st *instance.Solution) *search {
	s := &search{p: p, o: o, st: st, told: func(string, float64) {}}
	s.Prover = &bound.Prover{P: p, O: o}
	s.Search = &lns.Search{P: p, O: o, Met: s.Least}
	return s
}

// attempts is how often coverage is worked at again while it stands above its
// bound. Each begins hot, so that what held the last one up need not hold up the
// next. Where a spread plan follows, or parts are filled in, what is lacking is
// left to that.
func (s *search) attempts(goal model.Wish) int {
	if !s.spreads && !s.o.Replans() && goal == model.Coverage {
		return s.o.Tuning().AnnealAgain
	}
	return 0
}

// run works through the wishes. An ended context ends it early, with the best
// solution so far in s.st.
func (s *search) run(ctx context.Context) error {
	small := !s.apart && s.o.Does(run.Compact) && s.p.VisitDays() <= s.o.Tuning().CompactSize
	s.spreads = !small && !s.o.Replans()
	var ahead *lns.Fractional
	var aheadErr error
	var wg sync.WaitGroup
	defer wg.Wait()
	spreading, stop := context.WithCancel(ctx)
	defer stop()
	if s.spreads {
		from := s.st.Clone()
		wg.Go(func() { ahead, aheadErr = s.FindFrames(spreading, from) })
	}
	if err := s.wishByWish(ctx); err != nil || ctx.Err() != nil {
		return err
	}
	if small {
		return s.writtenOut(ctx)
	}
	if s.o.Replans() || s.Least(model.Spacing, s.st.Score()) {
		return nil
	}
	s.told("frames", 4.0/6)
	s.Foresee(ctx, s.st)
	defer s.Forget()
	wg.Wait()
	if aheadErr != nil && !colgen.Ended(ctx, aheadErr) {
		return aheadErr
	}
	if ctx.Err() != nil {
		return nil
	}
	if ahead == nil {
		ahead = lns.NewFractional(s.o, s.st)
	}
	return s.deepen(ctx, ahead)
}

// wishByWish betters and bounds one wish after the other.
func (s *search) wishByWish(ctx context.Context) error {
	im := construct.NewAnnealer(s.st, uint64(s.o.Seed))
	passages := len(s.p.Passages)
	if s.o.Replans() {
		im.Free = s.p.Unplanned(s.st)
		passages = min(passages, 2*len(im.Free))
	}
	for _, goal := range model.Wishes {
		if ctx.Err() != nil {
			return nil
		}
		if s.st.Score()[goal] == 0 {
			continue
		}
		limits := s.Limits(s.st.Score())
		s.told(goal.String(), float64(goal)/6)
		moves := max(s.o.Scaled(s.o.Tuning().Moves[goal]*passages), s.o.Tuning().LeastMoves)
		if s.spreads && goal > model.Coverage { // a dive takes the place of what these find
			moves /= s.o.Tuning().AnnealLess
		}
		var wg sync.WaitGroup
		var err error
		proving, stop := context.WithCancel(ctx)
		from := s.st.Clone()
		if goal <= model.ReadyBy || !s.spreads { // the others are proven under what the spread plan comes to
			wg.Go(func() { err = s.Prove(proving, goal, from, limits, s.o.Scaled(s.o.Tuning().BoundRounds[goal])) })
		}
		s.anneal(ctx, im, goal, limits, moves)
		met := s.st.Score()[goal] == 0
		if met {
			stop() // nothing is below 0: no proof is needed
		}
		wg.Wait()
		stop()
		if met {
			s.Close() // how far the master came depends on when it was stopped
		}
		if err != nil {
			return err
		}
		for range s.attempts(goal) {
			if s.Least(goal, s.st.Score()) {
				break
			}
			s.anneal(ctx, im, goal, limits, moves)
		}
		switch {
		case !s.o.Replans():
		case goal == model.Coverage:
			err = s.FillIn(ctx, s.st, goal)
		case goal == model.ReadyBy:
			err = s.Repair(ctx, s.st, s.p.ByRehearsal(), goal, s.o.Tuning().Brief)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// anneal betters the plan in a wish by moves.
func (s *search) anneal(ctx context.Context, im *construct.Annealer, goal model.Wish, limits instance.Score, moves int) {
	if !s.o.Does(run.Anneal) {
		return
	}
	began, was := time.Now(), s.st.Score().Measures()[goal]
	im.Towards(ctx, goal, limits, moves)
	e := run.Event{Phase: "wishes", Operator: run.Anneal, Wish: goal.String(), Tried: moves, Score: s.st.Score().Figures(), Saved: was - s.st.Score().Measures()[goal]}
	s.o.NoteSaved(began, e)
}
