package solver

import (
	"context"
	"math/rand/v2"
	"testing"

	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver/instance"
	"primaprova/solver/run"
	"primaprova/solver/tiny"
)

// tolerated gives the best score that trying everything finds with tolerances: wish by
// wish the least cost, and from then on what may be spent of it.
func tolerated(p *instance.Instance, t model.Tolerance) instance.Score {
	var free instance.Score
	for _, w := range model.Wishes {
		b := tiny.NewBrute(p)
		b.Free = free
		b.Try(0)
		if free[w] = instance.Tolerated(t, w, b.Best[w]); w == model.Spacing {
			return b.Best
		}
	}
	panic("spacing is the last wish")
}

// TestToleranceAgainstBruteForce: with any tolerances, the written-out program and
// Solve find what trying everything finds, and prove of each wish no more than it costs.
func TestToleranceAgainstBruteForce(t *testing.T) {
	all, spent := methods(t), 0
	for seed := range 160 {
		c := tiny.Draw(tiny.DieOf(seed), tiny.Size{Days: 10, Passages: 3, Visits: 3})
		p := c.Problem()
		rng := rand.New(rand.NewPCG(uint64(seed), 1))
		var tolerance model.Tolerance
		for w := range tolerance {
			tolerance[w] = []int{0, 0, 30, 100}[rng.IntN(4)]
		}
		want, strict := tolerated(p, tolerance), tolerated(p, model.Tolerance{})
		if want != strict {
			spent++
		}
		for _, m := range all {
			if seed%m.every != 0 {
				continue
			}
			o := Options{Engine: tiny.HiGHS(t), Tolerance: tolerance, Work: 0.1, History: c.History, Standing: c.Standing}
			st, least := m.solve(t, p, o)
			if got := st.Score(); got != want {
				t.Errorf("season %d, %v: %s finds %v, the best is %v, %v in strict order", seed, tolerance, m.name, got, want, strict)
			}
			for w, v := range st.Score() {
				if least[w] > v {
					t.Errorf("season %d, %v: %s proves %v of %v", seed, tolerance, m.name, least, st.Score())
				}
			}
		}
	}
	t.Logf("something is spent in %d seasons", spent)
	if spent < 20 {
		t.Errorf("something is spent in %d seasons only", spent)
	}
}

// A season whose written-out program is solved, and one that is just too large for it,
// obey the same order: body stays within what may be spent of it, in strict order it is
// no more than that, and what is spent brings spacing down.
func TestToleranceOnBothSidesOfTheSize(t *testing.T) {
	for _, large := range []bool{false, true} {
		s := aroundSize(large)
		size := instance.New(s, nil, nil).VisitDays()
		if large != (size > run.Tuned.CompactSize) {
			t.Fatalf("%d visit-days", size)
		}
		var was model.Measures
		for n, tolerance := range []model.Tolerance{{}, {model.Body: 10}} {
			plan, err := Solve(context.Background(), s, Options{Engine: tiny.HiGHS(t), Tolerance: tolerance, Seed: 1, Work: 0.3})
			if err != nil {
				t.Fatal(err)
			}
			now, body := s.Measure(plan, nil, nil), plan.Provenance.Wishes[model.Body]
			if n == 0 {
				was = now
				continue
			}
			if body.Bound == 0 || body.Value > tolerance.Limit(model.Body, body.Bound) {
				t.Errorf("%d visit-days: body %v is above its bound %v by more than it may be", size, body.Value, body.Bound)
			}
			if now[model.Body] < was[model.Body] || now[model.Spacing] >= was[model.Spacing] {
				t.Errorf("%d visit-days: %v, in strict order %v", size, now, was)
			}
		}
	}
}

// aroundSize is a season below the size, or one just above it.
func aroundSize(large bool) *model.Season {
	z := invent.Demo(4)
	z.Weeks, z.Programmes, z.Parts, z.Passages, z.Tightness = 8, 2, 2, 1, 0.8
	if large {
		z.Parts, z.Passages = 1, 7
	}
	return invent.Season(z)
}
