package solver

import (
	"context"
	"testing"

	"primaprova/model"
)

// Proofs say of a plan no more than it costs, and nothing of one that costs more
// than they suppose before body. Where they suppose otherwise than what is asked
// for, new ones take their place.
func TestProofsHoldWithinTheirLimits(t *testing.T) {
	ctx, proven := context.Background(), 0
	for seed := range uint64(3) {
		p := build(middling(seed), nil, nil)
		s := &search{p: p, o: &Options{Engine: engine(t), Work: 0.05}, st: greedy(p)}
		newImprover(s.st, 1).run(ctx, model.Coverage, 2000)
		now := s.st.score()

		less, goal := now, model.Coverage
		if now[goal] == 0 {
			goal = model.ReadyBy
		}
		less[goal]--
		v := s.under(ctx, s.st, less)
		if err := s.conclude(ctx); err != nil {
			t.Fatal(err)
		}
		if s.bound != (score{}) || s.proofs != nil {
			t.Errorf("season %d: bounds %v of a plan that costs %v, proven under %v", seed, s.bound, now, less)
		}

		first := s.under(ctx, s.st, less)
		<-first.aimed
		if again := s.under(ctx, s.st, less); first == v || (again == first) != (first.least > 0) || s.under(ctx, s.st, now) == again {
			t.Errorf("season %d: proofs are not taken up again, or are under other limits", seed)
		}
		if err := s.conclude(ctx); err != nil {
			t.Fatal(err)
		}
		if s.bound[model.Body] > 0 {
			proven++
		}
		if s.bound[model.Body] > now[model.Body] || s.bound[model.Spacing] > now[model.Spacing] {
			t.Errorf("season %d: bounds %v of a plan that costs %v", seed, s.bound, now)
		}
	}
	if proven < 2 {
		t.Errorf("something was proven of %d plans only", proven)
	}
}
