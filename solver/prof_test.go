package solver

import (
	"context"
	"testing"
	"time"

	"primaprova/io/seasonfile"
	"primaprova/model"
)

func TestProf(t *testing.T) {
	f, err := seasonfile.Read("../testdata/seasons/demo/season.yaml")
	if err != nil {
		t.Fatal(err)
	}
	p := build(f.Season, nil, nil)
	g := greedy(p)
	m := newImprover(g, 1)
	at := time.Now()
	for _, st := range []struct {
		g model.Wish
		n int
	}{{model.Coverage, 20000}, {model.ReadyBy, 10000}, {model.Body, 200000}, {model.Spacing, 200000}} {
		m.run(context.Background(), st.g, st.n)
		t.Log(st.g, g.score(), time.Since(at))
	}
}

func TestTune(t *testing.T) {
	f, err := seasonfile.Read("../testdata/seasons/demo/season.yaml")
	if err != nil {
		t.Fatal(err)
	}
	p := build(f.Season, nil, nil)
	g := greedy(p)
	m := newImprover(g, 1)
	m.run(context.Background(), model.Coverage, 20000)
	m.run(context.Background(), model.ReadyBy, 15000)
	t.Log(g.score())
	for _, st := range []stage{
		{model.Body, charge{weights{coverage: 1e6, ready: 1e4, closeness: 1e2, spacing: 0.1}, 1}, 6, 0.3, 2, 20},
		{model.Body, charge{weights{coverage: 1e6, ready: 1e4, closeness: 1e2, spacing: 0.1}, 1}, 6, 0.3, 2, 40},
		{model.Body, charge{weights{coverage: 1e6, ready: 1e4, closeness: 1e2, spacing: 0.1}, 1}, 15, 0.3, 1, 40},
		{model.Body, charge{weights{coverage: 1e6, ready: 1e4, closeness: 1e2, spacing: 0.02}, 1}, 10, 0.3, 0, 40},
	} {
		st0 := stageOf[model.Body]
		stageOf[model.Body] = st
		k := newImprover(g.clone(), 2)
		at := time.Now()
		k.run(context.Background(), model.Body, 200000)
		t.Log(st, k.s.score(), time.Since(at))
		stageOf[model.Body] = st0
	}
}

func TestFine(t *testing.T) {
	f, err := seasonfile.Read("../testdata/seasons/demo/season.yaml")
	if err != nil {
		t.Fatal(err)
	}
	p := build(f.Season, nil, nil)
	g := greedy(p)
	m := newImprover(g, 1)
	at := time.Now()
	m.run(context.Background(), model.Coverage, 20000)
	m.run(context.Background(), model.ReadyBy, 15000)
	t.Log(g.score(), time.Since(at))
	m.run(context.Background(), model.Body, 60000)
	t.Log(g.score(), time.Since(at))
	r := newState(p)
	var units []unit
	for i, f := range g.frames {
		r.setFrame(i, f)
	}
	for k, q := range p.passages {
		units = append(units, unit{part: q.part, first: k, last: k + 1, frame: g.frames[q.part]})
	}
	fine, err := newMaster(engine(t), newPricer(p, 2), units, r)
	if err != nil {
		t.Fatal(err)
	}
	fine.addState(g)
	at = time.Now()
	if err := fine.set(wishAim(model.Body, [5]float64(g.score().measures()))); err != nil {
		t.Fatal(err)
	}
	for range 5 {
		if err := fine.solve(context.Background(), 3); err != nil {
			t.Fatal(err)
		}
		t.Log("fine", fine.value, fine.bound, fine.lp.Cols(), time.Since(at))
	}
}
