package solver

import (
	"context"
	"testing"

	"primaprova/model"
	"primaprova/solver/cpsat"
	"primaprova/solver/highs"
)

// solved gives the best plan of a season, by both engines.
func (c *tiny) solved(t testing.TB) *state {
	t.Helper()
	var first *state
	for _, engine := range []WholeEngine{ByHighs(highsLibrary(t), highs.Options{}), ByCPSAT(cpsatLibrary(t), cpsat.Params{})} {
		p := c.problem()
		st, proven, err := p.solveWritten(context.Background(), engine, newState(p), model.Tolerance{})
		if err != nil {
			t.Fatal(err)
		}
		if bound := proven.all(st.score()); st.score() != bound {
			t.Errorf("%v is not proven: %v", st.score(), bound)
		}
		if first != nil && first.score() != st.score() {
			t.Errorf("two engines find %v and %v", first.score(), st.score())
		}
		first = st
	}
	return first
}

// bestState is the best state of a season small enough to be solved outright.
func bestState(t testing.TB, p *problem) *state {
	t.Helper()
	st, _, err := p.solveWritten(context.Background(), ByHighs(highsLibrary(t), highs.Options{}), newState(p), model.Tolerance{})
	if err != nil {
		t.Fatal(err)
	}
	return st
}
