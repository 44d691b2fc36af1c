package solver

import (
	"context"
	"math"

	"primaprova/model"
)

// prover proves what wishes cost at least, by a master of its own.
type prover struct {
	p      *problem
	o      *Options
	m      *master // of all parts; nil where there is none yet
	proven bounds
	ahead  *proofs // of body and spacing, while they run; may be nil
}

// limits gives what the wishes may come to where they stand so: what they cost, and
// what may be spent of them.
func (s *prover) limits(now score) score { return now.atMost(s.proven.free(s.o.Tolerance, now)) }

// least tells whether a plan that costs so much is proven to cost the least of a wish.
func (s *prover) least(goal model.Wish, now score) bool {
	return now[goal] <= s.proven.least(goal, now)
}

// prove bounds one wish from a state, those before it held at limits, as far as so
// many rounds go.
func (s *prover) prove(ctx context.Context, goal model.Wish, from *state, limit score, rounds int) error {
	least, err := s.bounded(ctx, goal, from, limit, rounds)
	s.proven = append(s.proven, bound{goal, least, limit})
	return err
}

// bounded gives a bound of one wish under limits on those before it; 0 where none
// is found in so many rounds. The state's parts are among what it begins with.
func (s *prover) bounded(ctx context.Context, goal model.Wish, from *state, limit score, rounds int) (int64, error) {
	if s.o.Standing != nil {
		rounds = (rounds + 1) / 2
	}
	if s.m == nil {
		m, err := newMaster(s.o.Engine, newPricer(s.p, 1), s.p.wholeParts(), newState(s.p))
		if err != nil {
			return 0, err
		}
		s.m = m
	}
	if err := s.m.addState(from); err != nil {
		return 0, err
	}
	err := s.m.prove(ctx, wishUnder(goal, limit), rounds, s.near())
	if ended(ctx, err) {
		err = nil
	}
	return max(0, roundUp(goal, s.m.bound)), err
}

// near is the share of the master's value at which its bound is near enough:
// over a standing plan the player waits for what moves, not for the last of
// the bound.
func (s *prover) near() float64 {
	if s.o.Standing != nil {
		return 0.02
	}
	return 0.002
}

// roundUp turns a bound in the units of a wish into the least whole score that
// is not below it.
func roundUp(goal model.Wish, bound float64) int64 {
	if goal == model.Body {
		bound *= 100
	}
	return int64(math.Ceil(bound - 1e-6*max(1, bound)))
}

// close gives the engine's memory back. The next proof begins with a new master.
func (s *prover) close() {
	if s.m != nil {
		s.m.close()
		s.m = nil
	}
}

// proofRounds is how many rounds the master gets at each wish, at Options.Work 1.
var proofRounds = [5]int{60, 60, 60, 80, 80}
