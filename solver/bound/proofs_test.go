package bound

import (
	"context"
	"testing"

	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver/construct"
	"primaprova/solver/instance"
	"primaprova/solver/run"
	"primaprova/solver/tiny"
)

// Proofs say of a plan no more than it costs, and nothing of one that costs more
// than they suppose before body. Where they suppose otherwise than what is asked
// for, new ones take their place.
func TestProofsHoldWithinTheirLimits(t *testing.T) {
	ctx, proven := context.Background(), 0
	for seed := range uint64(3) {
		p := instance.New(tiny.Middling(seed), nil, nil)
		s, st := &Prover{P: p, O: &run.Options{Engine: tiny.HiGHS(t), Work: 0.05}}, construct.Greedy(p)
		construct.NewAnnealer(st, 1).Run(ctx, model.Coverage, 2000)
		now := st.Score()

		less, goal := now, model.Coverage
		if now[goal] == 0 {
			goal = model.ReadyBy
		}
		less[goal]--
		v := s.Under(ctx, st, less)
		if err := s.Conclude(ctx, st); err != nil {
			t.Fatal(err)
		}
		if s.Proven.All(now) != (instance.Score{}) || s.ahead != nil {
			t.Errorf("season %d: bounds %v of a plan that costs %v, proven under %v", seed, s.Proven.All(now), now, less)
		}

		first := s.Under(ctx, st, less)
		<-first.Aimed
		if again := s.Under(ctx, st, less); first == v || (again == first) != (first.Least > 0) || s.Under(ctx, st, now) == again {
			t.Errorf("season %d: proofs are not taken up again, or are under other limits", seed)
		}
		if err := s.Conclude(ctx, st); err != nil {
			t.Fatal(err)
		}
		least := s.Proven.All(now)
		if least[model.Body] > 0 {
			proven++
		}
		if least[model.Body] > now[model.Body] || least[model.Spacing] > now[model.Spacing] {
			t.Errorf("season %d: bounds %v of a plan that costs %v", seed, least, now)
		}
	}
	if proven < 2 {
		t.Errorf("something was proven of %d plans only", proven)
	}
}

// What is proven of spacing of plans that spend all of a limit on body is no less than what the
// master alone proves under it, also where the limit is wide and a minute of body worth little.
func TestExchangeHeedsTheLimit(t *testing.T) {
	ctx, wide := context.Background(), 0
	for seed := range uint64(2) {
		p := instance.New(tiny.Middling(seed), nil, nil)
		s, st := &Prover{P: p, O: &run.Options{Engine: tiny.HiGHS(t), Work: 0.2}}, construct.Greedy(p)
		construct.NewAnnealer(st, 1).Run(ctx, model.Coverage, 2000)
		limit := st.Score()
		if err := s.Prove(ctx, model.Body, st, limit, 60); err != nil {
			t.Fatal(err)
		}
		for _, more := range []int64{2, 20} {
			limit[model.Body] = s.Proven.Least(model.Body, limit) * (100 + more) / 100
			x, err := s.exchange(ctx, limit)
			if err != nil {
				t.Fatal(err)
			}
			if x.body < instance.Trade {
				wide++
			}
			a, body := instance.ConstrainedBy(model.Spacing, limit), float64(limit[model.Body])/100
			a.Weight[model.Body] = run.Tuned.TradeLeast
			if err := s.m.Prove(ctx, a, 200, 0); err != nil {
				t.Fatal(err)
			}
			root := s.m.Bound - run.Tuned.TradeLeast*body
			if got := x.sum - x.body*body; got < root-0.01*s.m.Value {
				t.Errorf("season %d: %v days of spacing are proven at %d %% above body's bound, the master alone proves %v", seed, got, more, root)
			}
		}
		s.Close()
	}
	if wide == 0 {
		t.Error("a minute of body is worth a day under each limit: too tight to tell")
	}
}

// Of a crowded season more is proven once moves are done than while they went on: of what
// is left out by branching on frames, of what is late since less may be left out then.
func TestProofsSayMoreOfACrowdedSeason(t *testing.T) {
	ctx, raised := context.Background(), instance.Score{}
	for seed := range uint64(2) {
		z := invent.Grown(12, 1, true, seed)
		z.Passages, z.Tightness = 8, 1.2
		p := instance.New(invent.Season(z), nil, nil)
		s, st := &Prover{P: p, O: &run.Options{Engine: tiny.HiGHS(t), Work: 0.5}}, construct.Greedy(p)
		im := construct.NewAnnealer(st, 1)
		for goal := model.Coverage; goal <= model.ReadyBy; goal++ {
			if err := s.Prove(ctx, goal, st, st.Score(), 60); err != nil {
				t.Fatal(err)
			}
		}
		s.Close()
		for goal := model.Coverage; goal <= model.ReadyBy; goal++ {
			im.Run(ctx, goal, 20_000)
		}
		now := st.Score()
		before := s.Proven.All(now)
		s.Under(ctx, st, now)
		if err := s.Conclude(ctx, st); err != nil {
			t.Fatal(err)
		}
		after := s.Proven.All(now)
		for goal := model.Coverage; goal <= model.ReadyBy; goal++ {
			if after[goal] < before[goal] || after[goal] > now[goal] {
				t.Errorf("%+v, %v: %d is proven, %d before; the plan has %d", z, goal, after[goal], before[goal], now[goal])
			}
			raised[goal] += after[goal] - before[goal]
		}
	}
	if raised[model.Coverage] == 0 || raised[model.ReadyBy] == 0 {
		t.Errorf("bounds were raised by %v", raised)
	}
}
