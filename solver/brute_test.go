package solver

import (
	"context"
	"math"
	"slices"
	"testing"

	"primaprova/model"
	"primaprova/solver/compact"
	"primaprova/solver/construct"
	"primaprova/solver/cpsat"
	"primaprova/solver/highs"
	"primaprova/solver/instance"
	"primaprova/solver/tiny"
)

// A method finds a season's best score. A method that is quicker than trying
// everything is held against one that is not.
type method struct {
	name  string
	every int // on every so-manieth season; 1 for all
	solve func(t *testing.T, p *instance.Instance, o Options) (best *instance.Solution, bound instance.Score)
}

// methods are what TestBruteForce compares with trying everything: the
// written-out program by each engine, from nothing, and what Solve does.
func methods(t *testing.T) []method {
	byHighs, byCPSAT := compact.ByHighs(tiny.HiGHS(t), highs.Options{}), compact.ByCPSAT(tiny.CPSAT(t), cpsat.Params{})
	whole := func(engine compact.WholeEngine) func(*testing.T, *instance.Instance, Options) (*instance.Solution, instance.Score) {
		return func(t *testing.T, p *instance.Instance, o Options) (*instance.Solution, instance.Score) {
			st, proven, err := compact.Solve(context.Background(), p, engine, instance.NewSolution(p), o.Tolerance)
			if err != nil {
				t.Fatal(err)
			}
			return st, proven.All(st.Score())
		}
	}
	search := func(t *testing.T, p *instance.Instance, o Options) (*instance.Solution, instance.Score) {
		s := newSearch(p, &o, construct.Greedy(p))
		defer s.Close()
		if err := s.run(context.Background()); err != nil {
			t.Fatal(err)
		}
		return s.st, s.Proven.All(s.st.Score())
	}
	return []method{{"HiGHS", 1, whole(byHighs)}, {"CP-SAT", 3, whole(byCPSAT)}, {"Solve", 3, search}}
}

// TestBruteForce: hundreds of tiny seasons have the same best value of every
// wish, in their order, by each method as by trying everything.
func TestBruteForce(t *testing.T) {
	all := methods(t)
	full, forced := 0, 0
	for seed := range tiny.BruteSeasons {
		c := tiny.Draw(tiny.DieOf(seed), tiny.Size{Days: 10, Passages: 3, Visits: 3})
		c.Season.Habits.WholeParts = seed%4 == 1
		p := c.Problem()
		b := tiny.NewBrute(p)
		b.Try(0)
		if b.Best[model.Coverage] == 0 {
			full++
		} else if b.Best[model.Coverage] > b.Least[0][model.Coverage] {
			forced++ // each piece alone would have found its days
		}
		for _, m := range all {
			if seed%m.every != 0 {
				continue
			}
			st, bound := m.solve(t, p, Options{Engine: tiny.HiGHS(t), Work: 0.1, History: c.History, Standing: c.Standing})
			if got := st.Score(); got != b.Best {
				t.Errorf("season %d: %s finds %v, the best is %v", seed, m.name, got, b.Best)
			} else if bound != got {
				t.Errorf("season %d: %s proves %v of %v", seed, m.name, bound, got)
			}
			plan := st.Assemble(c.History, c.Standing)
			for _, breach := range c.Season.Audit(plan, c.History) {
				t.Errorf("season %d: %s: %v", seed, m.name, breach)
			}
			if got, want := c.Season.Measure(plan, c.History, c.Standing), b.Best.Measures(); got != want {
				t.Errorf("season %d: %s: the model measures %v, the best is %v", seed, m.name, got, want)
			}
		}
	}
	t.Logf("%d seasons, %d with everything placed, %d where the days have too little room", tiny.BruteSeasons, full, forced)
	if full < tiny.BruteSeasons/10 || forced < tiny.BruteSeasons/10 {
		t.Errorf("the seasons are too easy or too hard to tell methods apart")
	}
}

// TestAuditedBruteForce tries every plan there is, possible or not, with the
// audit as the only judge: nothing the solver believes about a season enters.
func TestAuditedBruteForce(t *testing.T) {
	engine := compact.ByHighs(tiny.HiGHS(t), highs.Options{})
	tried := 0
	for seed := 0; tried < 30; seed++ {
		c := tiny.Draw(tiny.DieOf(1000+seed), tiny.Size{Days: 6, Passages: 2, Visits: 2})
		wanted := c.Season.Wanted(c.History)
		days := c.Season.Days()
		if c.Season.HasHours() || math.Pow(float64(days+1), float64(len(wanted))) > 2e4 {
			continue // hours are kept by a sum that is on the safe side
		}
		tried++
		p := c.Problem()
		best := tryAll(c, wanted)
		st, _, err := compact.Solve(context.Background(), p, engine, instance.NewSolution(p), model.Tolerance{})
		if err != nil {
			t.Fatal(err)
		}
		if got := st.Score().Measures(); got != best {
			t.Errorf("season %d: the program's best is %v, the best plan that passes the audit %v", seed, got, best)
		}
	}
}

// tryAll gives the measures of the best plan that passes the audit, with every
// wanted session on every day or left out.
func tryAll(c *tiny.Case, wanted []model.Wanted) model.Measures {
	s, days := c.Season, c.Season.Days()
	var best model.Measures
	for i := range best {
		best[i] = math.Inf(1)
	}
	past := s.Past(c.History, c.Standing) // what was done today takes its room
	at := make([]int, len(wanted))        // 0: left out; d: day d-1
	for {
		left := 0.0
		for i, d := range at {
			if d == 0 {
				left += float64(wanted[i].Value)
			}
		}
		if left <= best[model.Coverage] {
			plan := &model.Plan{Format: model.PlanFormat, From: s.From, To: s.To, Sessions: slices.Clone(past)}
			for i, d := range at {
				if d == 0 {
					plan.Unplaced = append(plan.Unplaced, wanted[i].LeftOut())
				} else {
					plan.Sessions = append(plan.Sessions, wanted[i].On(s.From+model.Date(d-1)))
				}
			}
			s.FinishFrom(plan, c.History)
			if m := s.Measure(plan, c.History, c.Standing); m.Less(best) && len(s.Audit(plan, c.History)) == 0 {
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
