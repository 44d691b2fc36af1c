package solver

import (
	"context"
	"testing"
	"time"

	"primaprova/io/seasonfile"
	"primaprova/model"
)

func TestLP(t *testing.T) {
	f, err := seasonfile.Read("../testdata/seasons/demo/season.yaml")
	if err != nil {
		t.Fatal(err)
	}
	p := build(f.Season, nil, nil)
	g := greedy(p)
	im := newImprover(g, 1)
	im.run(context.Background(), model.Coverage, 90000)
	im.run(context.Background(), model.ReadyBy, 90000)
	im.run(context.Background(), model.Body, 100000)
	im.run(context.Background(), model.Spacing, 100000)
	t.Log(g.score())
	m, err := newMaster(engine(t), newPricer(p, 2), p.wholeParts(), newState(p))
	if err != nil {
		t.Fatal(err)
	}
	if err := m.addState(g); err != nil {
		t.Fatal(err)
	}
	for _, goal := range []model.Wish{model.Body, model.Spacing} {
		at := time.Now()
		if err := m.set(wishAim(goal, [5]float64(g.score().measures()))); err != nil {
			t.Fatal(err)
		}
		for r := range 60 {
			if err := m.run(context.Background()); err != nil {
				t.Fatal(err)
			}
			n, err := m.round()
			if err != nil {
				t.Fatal(err)
			}
			if r%4 == 0 {
				t.Log(goal, r, m.value, m.bound, n, len(m.cols), time.Since(at).Round(time.Millisecond))
			}
			if n == 0 || m.value-m.bound < 0.002*m.value {
				break
			}
		}
		t.Log(goal, m.value, m.bound, len(m.cols), time.Since(at).Round(time.Millisecond))
	}
}

func fineOf(t *testing.T, p *problem, g *state) *master {
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
	return fine
}

func TestFine(t *testing.T) {
	f, err := seasonfile.Read("../testdata/seasons/demo/season.yaml")
	if err != nil {
		t.Fatal(err)
	}
	p := build(f.Season, nil, nil)
	g := greedy(p)
	im := newImprover(g, 1)
	im.run(context.Background(), model.Coverage, 90000)
	im.run(context.Background(), model.ReadyBy, 90000)
	im.run(context.Background(), model.Body, 100000)
	im.run(context.Background(), model.Spacing, 100000)
	t.Log(g.score())
	fine := fineOf(t, p, g)
	for _, goal := range []model.Wish{model.Body, model.Spacing} {
		at := time.Now()
		if err := fine.set(wishAim(goal, [5]float64(g.score().measures()))); err != nil {
			t.Fatal(err)
		}
		if err := fine.solve(context.Background(), 30); err != nil {
			t.Fatal(err)
		}
		t.Log("fine", goal, fine.value, fine.bound, fine.lp.Cols(), time.Since(at))
	}
}

func TestDive(t *testing.T) {
	f, err := seasonfile.Read("../testdata/seasons/demo/season.yaml")
	if err != nil {
		t.Fatal(err)
	}
	p := build(f.Season, nil, nil)
	g := greedy(p)
	im := newImprover(g, 1)
	im.run(context.Background(), model.Coverage, 90000)
	im.run(context.Background(), model.ReadyBy, 90000)
	t.Log(g.score())
	m, err := newMaster(engine(t), newPricer(p, 2), p.wholeParts(), newState(p))
	if err != nil {
		t.Fatal(err)
	}
	m.addState(g)
	lim := [5]float64(g.score().measures())
	at := time.Now()
	if err := m.set(wishAim(model.Body, lim)); err != nil {
		t.Fatal(err)
	}
	if err := m.solve(context.Background(), 40); err != nil {
		t.Fatal(err)
	}
	t.Log("body", m.value, m.bound, time.Since(at))
	lim[model.Body] = m.bound * 1.01
	if err := m.set(wishAim(model.Spacing, lim)); err != nil {
		t.Fatal(err)
	}
	if err := m.solve(context.Background(), 40); err != nil {
		t.Fatal(err)
	}
	mu := m.t.weight[model.Body]
	t.Log("spacing", m.value, m.bound, mu, time.Since(at))
	soft := aim{want: [5]float64{10000, 1000, 10, mu, 1}, limits: [5]float64{inf, inf, inf, inf, inf}}
	if err := m.set(soft); err != nil {
		t.Fatal(err)
	}
	r, err := m.settle(context.Background(), 3)
	if err != nil {
		t.Fatal(err)
	}
	t.Log("settled", m.value, mu*lim[model.Body], time.Since(at))
	fine := fineOf(t, p, r)
	if err := fine.set(soft); err != nil {
		t.Fatal(err)
	}
	if err := fine.seed(m); err != nil {
		t.Fatal(err)
	}
	if err := fine.solve(context.Background(), 30); err != nil {
		t.Fatal(err)
	}
	t.Log("fine", fine.value, fine.bound, fine.lp.Cols(), time.Since(at))
	if err := fine.dive(context.Background(), r, 0.15, 2); err != nil {
		t.Fatal(err)
	}
	t.Log("dive", r.score(), time.Since(at))
}
