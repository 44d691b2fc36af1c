package solver_test

import (
	"context"
	"testing"

	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver"
	"primaprova/solver/compact"
	"primaprova/solver/construct"
	"primaprova/solver/highs"
	"primaprova/solver/instance"
	"primaprova/solver/mip"
	"primaprova/solver/run"
	"primaprova/solver/tiny"
)

// Where columns leave more out than has to be, or have it late, the written-out program of the
// wishes up to body comes to the least, proves it, and keeps what the wishes before it came to.
func TestUpToBody(t *testing.T) {
	season := invent.Season(invent.Size{Weeks: 3, Programmes: 2, Parts: 2, Passages: 6, Lead: 18, Tightness: 1.6, Seed: 27})
	p := run.Tuned
	p.CompactSize, p.CompactBrief = 0, 0 // as if it were larger, and no short one
	planned := func(reach int) (seen []solver.Event, wishes []model.WishValue) {
		p.CompactReach = reach
		plan, err := solver.Solve(t.Context(), season, solver.Options{Engine: tiny.HiGHS(t), Work: 0.3, Params: &p, Trace: func(e solver.Event) {
			if e.Phase == "compact" {
				seen = append(seen, e)
			}
		}})
		if err != nil {
			t.Fatal(err)
		}
		return seen, plan.Provenance.Wishes
	}
	none, alone := planned(0)
	seen, wishes := planned(run.Tuned.CompactReach)
	if len(none) > 0 || len(seen) == 0 {
		t.Fatalf("the program was solved %d times out of its reach, %d times within", len(none), len(seen))
	}
	if c := wishes[model.Coverage]; c.Value != c.Bound || c.Value >= alone[model.Coverage].Value {
		t.Errorf("coverage %v, without the program %v", c, alone[model.Coverage])
	}
	for i := range seen[1:] {
		if seen[i+1].Score[model.Coverage] > seen[i].Score[model.Coverage] {
			t.Errorf("coverage rose: %v", seen)
		}
	}
}

// One wish solved alone leaves those before it as they were, and never gives a worse solution.
func TestSolveWish(t *testing.T) {
	p := overfull()
	st, engine := construct.Greedy(p), compact.ByHighs(tiny.HiGHS(t), highs.Options{})
	best, _, err := compact.Solve(t.Context(), p, engine, st, model.Tolerance{})
	if err != nil {
		t.Fatal(err)
	}
	for j := range model.Body + 1 {
		held := st.Score()
		found, proven, err := compact.SolveWish(t.Context(), p, engine, st, j, held)
		if err != nil {
			t.Fatal(err)
		}
		now := found.Score()
		if want := best.Score()[j]; now[j] != want || proven.Least != want || proven.Under != held || !held.Allows(now, j) {
			t.Errorf("%v: %v from %v, at least %v under %v, where %v is best", j, now, held, proven.Least, proven.Under, best.Score())
		}
		if again, _, err := compact.SolveWish(t.Context(), p, engine, found, j, now); err != nil || again != found {
			t.Errorf("%v: %v from the best, %v", j, again.Score(), err)
		}
		st = found
	}
	if st.Score() == (instance.Score{}) {
		t.Error("nothing costs anything: the season tells nothing")
	}
}

// Strips of days bring a wish to its least where what coverage came to leaves much of it, each a smaller program
// that begins with the solution so far, and hold the wishes before it.
func TestStrips(t *testing.T) {
	season := invent.Season(invent.Size{Weeks: 4, Programmes: 2, Parts: 2, Passages: 4, Lead: 18, Tightness: 1.1, Seed: 2})
	p := instance.New(season, nil, nil)
	whole := compact.ByHighs(tiny.HiGHS(t), highs.Options{})
	st := construct.Greedy(p)
	from, _, err := compact.SolveWish(t.Context(), p, whole, st, model.Coverage, st.Score())
	if err != nil {
		t.Fatal(err)
	}
	held := from.Score()
	_, least, err := compact.SolveWish(t.Context(), p, whole, from, model.ReadyBy, held)
	if err != nil {
		t.Fatal(err)
	}
	free := func(m *mip.Model) (n int) {
		for v := range mip.Var(m.Vars()) {
			if m.IsInteger(v) && m.Lower(v) < m.Upper(v) {
				n++
			}
		}
		return n
	}
	all := free(compact.Write(p).M)
	asked := 0
	engine := func(ctx context.Context, j model.Wish, m *mip.Model, start []float64) ([]float64, float64, error) {
		asked++
		if by, what := m.Violation(start); by > compact.PointTolerance {
			t.Errorf("strip %d begins with no point of its program: %s", asked, what)
		}
		if n := free(m); n == all {
			t.Errorf("strip %d holds nothing", asked)
		}
		return whole(ctx, j, m, start)
	}
	found, tried, err := compact.Strips{Engine: engine, Days: 14}.Better(t.Context(), p, from, model.ReadyBy, held)
	if err != nil {
		t.Fatal(err)
	}
	now := found.Score()
	if now[model.ReadyBy] != least.Least || held[model.ReadyBy] <= least.Least || !held.Allows(now, model.ReadyBy) || tried != asked {
		t.Errorf("from %v to %v in %d strips, %d asked for, at least %v", held, now, tried, asked, least)
	}
}
