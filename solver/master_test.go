package solver

import (
	"context"
	"math"
	"testing"

	"primaprova/model"
	"primaprova/solver/highs"
)

// TestMasterAgainstProgram: with the wishes before held at their best, the bound
// of the master never lies above the optimum of the written-out program, is
// the value of the linear program once no column betters it, and is the
// optimum where that linear program's weights come out whole.
func TestMasterAgainstProgram(t *testing.T) {
	library := highsLibrary(t)
	seasons := fewWeeks()
	for seed := range 40 {
		c := tinySeason(dieOf(seed), tinySize{12, 4, 3})
		seasons = append(seasons, c)
	}
	programs, whole := 0, 0
	for i, c := range seasons {
		p := c.problem()
		best, _, err := p.solveWritten(context.Background(), ByHighs(library, highs.Options{}), greedy(p), model.Tolerance{})
		if err != nil {
			t.Fatal(err)
		}
		m, err := newMaster(library, newPricer(p, 1), p.wholeParts(), newState(p))
		if err != nil {
			t.Fatal(err)
		}
		optimum := [5]float64(best.score().measures())
		for goal := range model.Wishes {
			if goal := model.Wish(goal); optimum[goal] > 0 {
				m.solveFor(t, goal, best)
				slack := 1e-5 * (1 + optimum[goal])
				if m.bound > optimum[goal]+slack {
					t.Errorf("season %d: %v cannot be below %v, it is said, yet is %v", i, goal, m.bound, optimum[goal])
				}
				if math.Abs(m.value-m.bound) > slack {
					t.Errorf("season %d: %v: the linear program is worth %v, its bound %v", i, goal, m.value, m.bound)
				}
				if programs++; m.isWhole() {
					if whole++; math.Abs(m.value-optimum[goal]) > slack {
						t.Errorf("season %d: %v: whole at %v, the optimum is %v", i, goal, m.value, optimum[goal])
					}
				}
			}
		}
		m.close()
	}
	t.Logf("%d linear programs, %d of them whole", programs, whole)
	if whole == 0 || whole == programs {
		t.Error("the seasons cannot tell the two kinds apart")
	}
}

// solveFor solves the master for one wish until no column betters it.
func (m *master) solveFor(t *testing.T, goal model.Wish, from *state) {
	t.Helper()
	if err := m.set(wishUnder(goal, from.score())); err != nil {
		t.Fatal(err)
	}
	if err := m.addState(from); err != nil {
		t.Fatal(err)
	}
	for range 200 {
		if err := m.run(context.Background()); err != nil {
			t.Fatal(err)
		}
		if added, err := m.round(); err != nil {
			t.Fatal(err)
		} else if added == 0 {
			return
		}
	}
	t.Fatalf("%v: 200 rounds did not solve the linear program", goal)
}

// isWhole tells whether every column has all of a unit's weight or none.
func (m *master) isWhole() bool {
	for _, w := range m.x[m.base:] {
		if math.Abs(w-math.Round(w)) > 1e-4 {
			return false
		}
	}
	return true
}
