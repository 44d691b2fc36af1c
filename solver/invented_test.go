package solver

import (
	"context"
	"testing"
	"time"

	"primaprova/model/invent"
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
		m.run(context.Background(), 20000)
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
