package solver

import (
	"context"
	"testing"

	"primaprova/io/seasonfile"
	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver/construct"
	"primaprova/solver/instance"
	"primaprova/solver/tiny"
)

func TestSmallSeasonProven(t *testing.T) {
	f, err := seasonfile.Read("../testdata/seasons/small.yaml")
	if err != nil {
		t.Fatal(err)
	}
	plan, err := Solve(context.Background(), f.Season, Options{Engine: tiny.HiGHS(t)})
	if err != nil {
		t.Fatal(err)
	}
	if plan.Provenance.Status != model.Proven || plan.Provenance.Wishes[model.Coverage].Value != 0 {
		t.Errorf("%+v", plan.Provenance)
	}
}

func TestInventedSeason(t *testing.T) {
	z := invent.Demo(2)
	z.Weeks, z.Programmes = 10, 3
	s := invent.Season(z)
	plan, err := Solve(context.Background(), s, Options{Engine: tiny.HiGHS(t), Work: 0.05})
	if err != nil {
		t.Fatal(err)
	}
	t.Log(plan.Provenance, len(plan.Sessions), len(plan.Unplaced))
	st := construct.Greedy(instance.New(s, nil, nil))
	g, err := Greedy(s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	first := s.Measure(g, nil, nil)
	if want := st.Score().Measures(); first != want {
		t.Errorf("measured %v, solver says %v", first, want)
	}
	if first.Less(s.Measure(plan, nil, nil)) {
		t.Errorf("the plan is worse than the first one")
	}
}
