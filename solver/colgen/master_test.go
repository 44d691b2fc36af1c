package colgen

import (
	"context"
	"math"
	"testing"

	"primaprova/model"
	"primaprova/solver/compact"
	"primaprova/solver/construct"
	"primaprova/solver/highs"
	"primaprova/solver/instance"
	"primaprova/solver/pricing"
	"primaprova/solver/tiny"
)

// TestMasterAgainstProgram: with the wishes before held at their best, the bound
// of the master never lies above the optimum of the written-out program, is
// the value of the linear program once no column betters it, and is the
// optimum where that linear program's weights come out whole.
func TestMasterAgainstProgram(t *testing.T) {
	library := tiny.HiGHS(t)
	seasons := tiny.FewWeeks()
	for seed := range 40 {
		c := tiny.Draw(tiny.DieOf(seed), tiny.Size{Days: 12, Passages: 4, Visits: 3})
		seasons = append(seasons, c)
	}
	programs, whole := 0, 0
	for i, c := range seasons {
		p := c.Problem()
		best, _, err := compact.Solve(context.Background(), p, compact.ByHighs(library, highs.Options{}), construct.Greedy(p), model.Tolerance{})
		if err != nil {
			t.Fatal(err)
		}
		m, err := NewMaster(library, pricing.NewPricer(p, 1), pricing.WholeParts(p), instance.NewSolution(p))
		if err != nil {
			t.Fatal(err)
		}
		optimum := [5]float64(best.Score().Measures())
		for goal := range model.Wishes {
			if goal := model.Wish(goal); optimum[goal] > 0 {
				solveFor(m, t, goal, best)
				slack := 1e-5 * (1 + optimum[goal])
				if m.Bound > optimum[goal]+slack {
					t.Errorf("season %d: %v cannot be below %v, it is said, yet is %v", i, goal, m.Bound, optimum[goal])
				}
				if math.Abs(m.Value-m.Bound) > slack {
					t.Errorf("season %d: %v: the linear program is worth %v, its bound %v", i, goal, m.Value, m.Bound)
				}
				if programs++; isWhole(m) {
					if whole++; math.Abs(m.Value-optimum[goal]) > slack {
						t.Errorf("season %d: %v: whole at %v, the optimum is %v", i, goal, m.Value, optimum[goal])
					}
				}
			}
		}
		m.Close()
	}
	t.Logf("%d linear programs, %d of them whole", programs, whole)
	if whole == 0 || whole == programs {
		t.Error("the seasons cannot tell the two kinds apart")
	}
}

// solveFor solves the master for one wish until no column betters it.
func solveFor(m *Master, t *testing.T, goal model.Wish, from *instance.Solution) {
	t.Helper()
	if err := m.Minimise(instance.ConstrainedBy(goal, from.Score())); err != nil {
		t.Fatal(err)
	}
	if err := m.AddState(from); err != nil {
		t.Fatal(err)
	}
	for range 200 {
		if err := m.Run(context.Background()); err != nil {
			t.Fatal(err)
		}
		if added, err := m.PriceOut(); err != nil {
			t.Fatal(err)
		} else if added == 0 {
			return
		}
	}
	t.Fatalf("%v: 200 rounds did not solve the linear program", goal)
}

// isWhole tells whether every column has all of a unit's weight or none.
func isWhole(m *Master) bool {
	for _, w := range m.Weights[m.Base:] {
		if math.Abs(w-math.Round(w)) > 1e-4 {
			return false
		}
	}
	return true
}
