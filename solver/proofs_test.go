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
	ctx := context.Background()
	for seed := range uint64(3) {
		p := build(middling(seed), nil, nil)
		s := &search{p: p, o: &Options{Engine: engine(t), Work: 0.05}, st: greedy(p)}
		newImprover(s.st, 1).run(ctx, model.Coverage, 2000)
		now := s.st.score()

		less := now
		less[model.Coverage]--
		v := s.under(ctx, less)
		if err := s.conclude(ctx); err != nil {
			t.Fatal(err)
		}
		if s.bound != (score{}) || s.proofs != nil {
			t.Errorf("season %d: bounds %v of a plan that costs %v, proven under %v", seed, s.bound, now, less)
		}

		if first := s.under(ctx, less); first == v || s.under(ctx, less) != first || s.under(ctx, now) == first {
			t.Errorf("season %d: proofs are not taken up again, or are under other limits", seed)
		}
		if err := s.conclude(ctx); err != nil {
			t.Fatal(err)
		}
		if s.bound[model.Body] == 0 || s.bound[model.Body] > now[model.Body] || s.bound[model.Spacing] > now[model.Spacing] {
			t.Errorf("season %d: bounds %v of a plan that costs %v", seed, s.bound, now)
		}
	}
}
