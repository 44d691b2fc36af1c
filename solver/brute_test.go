package solver

import (
	"context"
	"math"
	"testing"

	"primaprova/model"
	"primaprova/solver/cpsat"
	"primaprova/solver/highs"
)

// A method finds a season's best score. A method that is quicker than trying
// everything is held against one that is not.
type method struct {
	name  string
	every int // on every so-manieth season; 1 for all
	solve func(t *testing.T, p *problem, o Options) (best *state, bound score)
}

// methods are what TestBruteForce compares with trying everything: the
// written-out program by each engine, from nothing, and what Solve does.
func methods(t *testing.T) []method {
	byHighs, byCPSAT := ByHighs(highsLibrary(t), highs.Options{}), ByCPSAT(cpsatLibrary(t), cpsat.Params{})
	whole := func(engine WholeEngine) func(*testing.T, *problem, Options) (*state, score) {
		return func(t *testing.T, p *problem, o Options) (*state, score) {
			st, proven, err := p.solveWritten(context.Background(), engine, newState(p), o.Tolerance)
			if err != nil {
				t.Fatal(err)
			}
			return st, proven.all(st.score())
		}
	}
	search := func(t *testing.T, p *problem, o Options) (*state, score) {
		s := newSearch(p, &o, greedy(p))
		defer s.close()
		if err := s.run(context.Background()); err != nil {
			t.Fatal(err)
		}
		return s.st, s.proven.all(s.st.score())
	}
	return []method{{"HiGHS", 1, whole(byHighs)}, {"CP-SAT", 3, whole(byCPSAT)}, {"Solve", 3, search}}
}

// TestBruteForce: hundreds of tiny seasons have the same best value of every
// wish, in their order, by each method as by trying everything.
func TestBruteForce(t *testing.T) {
	all := methods(t)
	full, forced := 0, 0
	for seed := range bruteSeasons {
		c := tinySeason(dieOf(seed), tinySize{10, 3, 3})
		p := c.problem()
		b := newBrute(p)
		b.try(0)
		if b.best[model.Coverage] == 0 {
			full++
		} else if b.best[model.Coverage] > b.least[0][model.Coverage] {
			forced++ // each piece alone would have found its days
		}
		for _, m := range all {
			if seed%m.every != 0 {
				continue
			}
			st, bound := m.solve(t, p, Options{Engine: highsLibrary(t), Work: 0.1, History: c.history, Standing: c.standing})
			if got := st.score(); got != b.best {
				t.Errorf("season %d: %s finds %v, the best is %v", seed, m.name, got, b.best)
			} else if bound != got {
				t.Errorf("season %d: %s proves %v of %v", seed, m.name, bound, got)
			}
			plan := st.assemble(c.history, c.standing)
			for _, breach := range c.season.Audit(plan, c.history) {
				t.Errorf("season %d: %s: %v", seed, m.name, breach)
			}
			if got, want := c.season.Measure(plan, c.history, c.standing), b.best.measures(); got != want {
				t.Errorf("season %d: %s: the model measures %v, the best is %v", seed, m.name, got, want)
			}
		}
	}
	t.Logf("%d seasons, %d with everything placed, %d where the days have too little room", bruteSeasons, full, forced)
	if full < bruteSeasons/10 || forced < bruteSeasons/10 {
		t.Errorf("the seasons are too easy or too hard to tell methods apart")
	}
}

// TestAuditedBruteForce tries every plan there is, possible or not, with the
// audit as the only judge: nothing the solver believes about a season enters.
func TestAuditedBruteForce(t *testing.T) {
	engine := ByHighs(highsLibrary(t), highs.Options{})
	tried := 0
	for seed := 0; tried < 30; seed++ {
		c := tinySeason(dieOf(1000+seed), tinySize{6, 2, 2})
		wanted := c.season.Wanted(c.history)
		days := c.season.Days()
		if c.season.HasHours() || math.Pow(float64(days+1), float64(len(wanted))) > 2e4 {
			continue // hours are kept by a sum that is on the safe side
		}
		tried++
		p := c.problem()
		best := c.tryAll(wanted)
		st, _, err := p.solveWritten(context.Background(), engine, newState(p), model.Tolerance{})
		if err != nil {
			t.Fatal(err)
		}
		if got := st.score().measures(); got != best {
			t.Errorf("season %d: the program's best is %v, the best plan that passes the audit %v", seed, got, best)
		}
	}
}

// tryAll gives the measures of the best plan that passes the audit, with every
// wanted session on every day or left out.
func (c *tiny) tryAll(wanted []model.Wanted) model.Measures {
	s, days := c.season, c.season.Days()
	var best model.Measures
	for i := range best {
		best[i] = math.Inf(1)
	}
	at := make([]int, len(wanted)) // 0: left out; d: day d-1
	for {
		left := 0.0
		for i, d := range at {
			if d == 0 {
				left += float64(wanted[i].Value)
			}
		}
		if left <= best[model.Coverage] {
			plan := &model.Plan{Format: model.PlanFormat, From: s.From, To: s.To}
			for i, d := range at {
				if d == 0 {
					plan.Unplaced = append(plan.Unplaced, wanted[i].LeftOut())
				} else {
					plan.Sessions = append(plan.Sessions, wanted[i].On(s.From+model.Date(d-1)))
				}
			}
			s.FinishFrom(plan, c.history)
			if m := s.Measure(plan, c.history, c.standing); m.Less(best) && len(s.Audit(plan, c.history)) == 0 {
				best = m
			}
		}
		i := 0
		for ; i < len(at); i++ {
			if at[i]++; at[i] <= days {
				break
			}
			at[i] = 0
		}
		if i == len(at) {
			return best
		}
	}
}
