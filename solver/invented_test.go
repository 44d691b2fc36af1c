package solver

import (
	"context"
	"testing"

	"primaprova/io/seasonfile"
	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver/highs"
	"primaprova/solver/ortools"
)

func engine(t testing.TB) *highs.Library {
	t.Helper()
	path, err := ortools.Locate(context.Background(), ortools.HiGHS, "")
	if err != nil {
		t.Fatal(err)
	}
	lib, err := highs.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	return lib
}

func TestSmallSeasonProven(t *testing.T) {
	f, err := seasonfile.Read("../testdata/seasons/small.yaml")
	if err != nil {
		t.Fatal(err)
	}
	plan, err := Solve(context.Background(), f.Season, Options{Engine: engine(t)})
	if err != nil {
		t.Fatal(err)
	}
	if plan.Provenance.Status != model.Proven || plan.Provenance.Wishes[model.Coverage].Value != 0 {
		t.Errorf("%+v", plan.Provenance)
	}
}

func TestInventedSeason(t *testing.T) {
	z := invent.Demo(2)
	z.Weeks, z.Programmes = 14, 4
	s := invent.Season(z)
	plan, err := Solve(context.Background(), s, Options{Engine: engine(t), Work: 0.1})
	if err != nil {
		t.Fatal(err)
	}
	t.Log(plan.Provenance, len(plan.Sessions), len(plan.Unplaced))
	st := greedy(build(s, nil, nil))
	g, err := Greedy(s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	first := s.Measure(g, nil, nil)
	if want := st.score().measures(); first != want {
		t.Errorf("measured %v, solver says %v", first, want)
	}
	if first.Less(s.Measure(plan, nil, nil)) {
		t.Errorf("the plan is worse than the first one")
	}
}
