package solver

import (
	"context"
	"math"
	"sync"

	"primaprova/model"
)

// search works a season through, wish by wish. For each wish two things run
// side by side: moves better the plan, and the master's prices prove a bound.
// Neither looks at the other until both are done, so that the result does not
// depend on which is faster.
type search struct {
	p     *problem
	o     *Options
	st    *state
	bound score // proven, in the units of score; 0 where nothing better is known
	m     *master
	told  func(step string, done float64)
}

// effort is how many moves a passage gets at each wish, and how many rounds the
// master, at Options.Work 1.
var effort = [5]struct{ moves, rounds int }{
	model.Coverage:  {150, 40},
	model.ReadyBy:   {200, 40},
	model.Closeness: {300, 40},
	model.Body:      {1000, 60},
	model.Spacing:   {1000, 60},
}

// run works through the wishes. An ended context ends it early, with the best
// state so far in s.st.
func (s *search) run(ctx context.Context) error {
	work := s.o.Work
	if work == 0 {
		work = 1
	}
	im := newImprover(s.st, uint64(s.o.Seed))
	for _, goal := range model.Wishes {
		if goal == model.Closeness && s.o.Standing == nil {
			continue
		}
		if ctx.Err() != nil {
			return nil
		}
		s.told(goal.String(), float64(goal)/5)
		from := s.st.clone() // what the moves begin with, for the proof beside them
		moves := int(work * float64(effort[goal].moves*len(s.p.passages)))
		var wg sync.WaitGroup
		var err error
		proving, stop := context.WithCancel(ctx)
		if from.score()[goal] > 0 {
			wg.Go(func() { err = s.prove(proving, goal, from, int(work*float64(effort[goal].rounds))) })
		}
		im.run(ctx, goal, moves)
		if s.st.score()[goal] == 0 {
			stop() // nothing is below 0: no proof is needed
		}
		wg.Wait()
		stop()
		if err != nil {
			return err
		}
	}
	return nil
}

// prove raises the bound of one wish, the wishes before it held at what they
// are in a state, as far as so many rounds go.
func (s *search) prove(ctx context.Context, goal model.Wish, from *state, rounds int) error {
	if s.m == nil {
		m, err := newMaster(s.o.Engine, newPricer(s.p, 1), s.p.wholeParts(), newState(s.p))
		if err != nil {
			return err
		}
		s.m = m
	}
	if err := s.m.set(wishAim(goal, [5]float64(from.score().measures()))); err != nil {
		return err
	}
	if err := s.m.addState(from); err != nil { // a point that keeps the limits
		return err
	}
	for range rounds {
		if err := s.m.run(ctx); err != nil {
			if ctx.Err() != nil {
				return nil
			}
			return err
		}
		added, err := s.m.round()
		if err != nil {
			return err
		}
		s.bound[goal] = max(s.bound[goal], roundUp(goal, s.m.bound))
		if added == 0 || s.m.value-s.m.bound <= 0.002*s.m.value {
			return nil
		}
	}
	return nil
}

// roundUp turns a bound in the units of a wish into the least whole score that
// is not below it.
func roundUp(goal model.Wish, bound float64) int64 {
	if goal == model.Body {
		bound *= 100
	}
	return int64(math.Ceil(bound - 1e-6*max(1, bound)))
}

// close gives the engine's memory back.
func (s *search) close() {
	if s.m != nil {
		s.m.close()
	}
}
