package solver

import (
	"context"

	"testing"
	"time"

	"primaprova/io/seasonfile"
	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver/highs"
	"primaprova/solver/ortools"
)

func TestTry(t *testing.T) {
	s := invent.Season(invent.Demo(1))
	at := time.Now()
	p := build(s, nil, nil)
	t.Log("parts", len(p.parts), "passages", len(p.passages), "cap", s.Limits.Playing.Every, time.Since(at))
	at = time.Now()
	g := greedy(p)
	t.Log(g.score(), time.Since(at))
	m := newImprover(g, 1)
	for range 8 {
		at = time.Now()
		m.run(context.Background(), model.Coverage, 20000)
		t.Log(g.score(), time.Since(at))
	}
}

func TestSolveKeepsRules(t *testing.T) {
	s := invent.Season(invent.Demo(2))
	plan, err := Solve(context.Background(), s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Log(plan.Provenance, len(plan.Sessions), len(plan.Unplaced))
	p := build(s, nil, nil)
	st := greedy(p)
	g, err := Greedy(s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if got, want := s.Measure(g, nil, nil), st.score().measures(); got != want {
		t.Errorf("measured %v, solver says %v", got, want)
	}
}

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

func TestTrySmall(t *testing.T) {
	f, err := seasonfile.Read("../testdata/seasons/small.yaml")
	if err != nil {
		t.Fatal(err)
	}
	p := build(f.Season, nil, nil)
	g := greedy(p)
	t.Log(g.score())
	m := newImprover(g, 1)
	m.run(context.Background(), model.Coverage, 20000)
	t.Log(g.score())
	st, b, err := p.solveWritten(context.Background(), ByHighs(engine(t), highs.Options{}), greedy(p))
	if err != nil {
		t.Fatal(err)
	}
	t.Log(st.score(), b, st.frames, st.sched, st.planned)
	t.Log(g.frames, g.sched, g.planned)
}
