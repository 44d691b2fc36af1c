package solver

import (
	"context"
	"testing"

	"primaprova/model"
	"primaprova/solver/compact"
	"primaprova/solver/cpsat"
	"primaprova/solver/highs"
	"primaprova/solver/instance"
	"primaprova/solver/tiny"
)

// solved gives the best plan of a season, by both engines.
func solved(c *tiny.Case, t testing.TB) *instance.Solution {
	t.Helper()
	var first *instance.Solution
	for _, engine := range []compact.WholeEngine{compact.ByHighs(tiny.HiGHS(t), highs.Options{}), compact.ByCPSAT(tiny.CPSAT(t), cpsat.Params{})} {
		p := c.Problem()
		st, proven, err := compact.Solve(context.Background(), p, engine, instance.NewSolution(p), model.Tolerance{})
		if err != nil {
			t.Fatal(err)
		}
		if bound := proven.All(st.Score()); st.Score() != bound {
			t.Errorf("%v is not proven: %v", st.Score(), bound)
		}
		if first != nil && first.Score() != st.Score() {
			t.Errorf("two engines find %v and %v", first.Score(), st.Score())
		}
		first = st
	}
	return first
}

// bestState is the best solution of a season small enough to be solved outright.
func bestState(t testing.TB, p *instance.Instance) *instance.Solution {
	t.Helper()
	st, _, err := compact.Solve(context.Background(), p, compact.ByHighs(tiny.HiGHS(t), highs.Options{}), instance.NewSolution(p), model.Tolerance{})
	if err != nil {
		t.Fatal(err)
	}
	return st
}
