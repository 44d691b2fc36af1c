// Package bound proves what wishes cost at least: by the master's duals, and by branch and bound over
// frames in subproblems of a Lagrangian decomposition. It betters no plan.
package bound

import (
	"context"
	"math"
	"time"

	"primaprova/model"
	"primaprova/solver/colgen"
	"primaprova/solver/instance"
	"primaprova/solver/pricing"
	"primaprova/solver/run"
)

// Prover proves what wishes cost at least, by a master of its own.
type Prover struct {
	P      *instance.Instance
	O      *run.Options
	m      *colgen.Master // of all parts; nil where there is none yet
	Proven instance.Bounds
	ahead  *proofs // of body and spacing, while they run; may be nil
}

// Limits gives what the wishes may come to where they stand so: what they cost, and
// what may be spent of them.
func (s *Prover) Limits(now instance.Score) instance.Score {
	return now.AtMost(s.Proven.Free(s.O.Tolerance, now))
}

// Least tells whether a plan that costs so much is proven to cost the least of a wish.
func (s *Prover) Least(goal model.Wish, now instance.Score) bool {
	return now[goal] <= s.Proven.Least(goal, now)
}

// Prove bounds one wish from a solution, those before it held at limits, as far as so
// many rounds go.
func (s *Prover) Prove(ctx context.Context, goal model.Wish, from *instance.Solution, limit instance.Score, rounds int) error {
	if !s.O.Does(run.Bounding) {
		return nil
	}
	least, err := s.bounded(ctx, goal, from, limit, rounds)
	s.Proven = append(s.Proven, instance.Bound{Wish: goal, Least: least, Under: limit})
	return err
}

// bounded gives a bound of one wish under limits on those before it; 0 where none
// is found in so many rounds. The solution's parts are among what it begins with.
func (s *Prover) bounded(ctx context.Context, goal model.Wish, from *instance.Solution, limit instance.Score, rounds int) (int64, error) {
	if s.O.Replans() {
		rounds = (rounds + 1) / 2
	}
	if s.m == nil {
		m, err := colgen.NewMaster(s.O.Engine, pricing.NewPricer(s.P, 1), pricing.WholeParts(s.P), instance.NewSolution(s.P))
		if err != nil {
			return 0, err
		}
		s.m = m
	}
	if err := s.m.AddState(from); err != nil {
		return 0, err
	}
	began, work := time.Now(), s.m.Work
	err := s.m.Prove(ctx, instance.ConstrainedBy(goal, limit), rounds, s.near())
	s.O.Note(began, run.Event{Phase: "bound", Operator: run.Bounding, Wish: goal.String(), Tried: 1, Bound: max(0, s.m.Bound), Work: s.m.Work - work})
	if colgen.Ended(ctx, err) {
		err = nil
	}
	return max(0, roundUp(goal, s.m.Bound)), err
}

// near is the share of the master's value at which its bound is near enough:
// over a standing plan the player waits for what moves, not for the last of
// the bound.
func (s *Prover) near() float64 {
	if s.O.Replans() {
		return s.O.Tuning().NearStanding
	}
	return s.O.Tuning().Near
}

// roundUp turns a bound in the units of a wish into the least whole score that
// is not below it.
func roundUp(goal model.Wish, bound float64) int64 {
	if goal == model.Body {
		bound *= 100
	}
	return int64(math.Ceil(bound - 1e-6*max(1, bound)))
}

// Close gives the engine's memory back. The next proof begins with a new master.
func (s *Prover) Close() {
	if s.m != nil {
		s.m.Close()
		s.m = nil
	}
}
