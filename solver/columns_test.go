package solver

import (
	"context"
	"math"
	"testing"

	"primaprova/model"
	"primaprova/solver/highs"
)

// TestColumnsAgainstBruteForce: on tiny seasons moves and columns alone, without
// the written-out program at the end, break no rule and are never better than
// the best, and their bounds never lie above what the best plan shows to be
// possible.
func TestColumnsAgainstBruteForce(t *testing.T) {
	library := highsLibrary(t)
	best, proven, wishes := 0, 0, 0
	for seed := range bruteSeasons {
		c := tinySeason(dieOf(seed), tinySize{10, 3, 3})
		p := c.problem()
		b := newBrute(p)
		b.try(0)
		w := &search{p: p, o: &Options{Engine: library, History: c.history, Standing: c.standing}, st: greedy(p), told: func(string, float64) {}, apart: true}
		if err := w.run(context.Background()); err != nil {
			t.Fatalf("season %d: %v", seed, err)
		}
		w.close()
		got := w.st.score()
		if got.less(b.best) {
			t.Errorf("season %d: %v is better than the best, %v", seed, got, b.best)
		}
		if got == b.best {
			best++
		}
		least := w.proven.all(got)
		for j := range model.Wishes {
			// A bound is for plans as good in every wish before; the best plan
			// is one of them as long as the two agree there.
			if least[j] > b.best[j] {
				t.Errorf("season %d: %v cannot be below %d, it is said, yet is %d (%v)", seed, model.Wish(j), least[j], b.best[j], got)
			}
			if got[j] != b.best[j] {
				break
			}
			wishes++
			if least[j] == got[j] {
				proven++
			}
		}
		for _, breach := range c.season.Audit(w.st.assemble(c.history, c.standing), c.history) {
			t.Errorf("season %d: %v", seed, breach)
		}
	}
	t.Logf("%d of %d seasons solved to the best; %d of their %d wishes proven", best, bruteSeasons, proven, wishes)
	if best < bruteSeasons*8/10 || proven < wishes*8/10 {
		t.Error("that is fewer than it was")
	}
}

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
