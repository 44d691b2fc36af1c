package solver

import (
	"context"
	"math"
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

func TestTryMaster(t *testing.T) {
	f, err := seasonfile.Read("../testdata/seasons/demo/season.yaml")
	if err != nil {
		t.Fatal(err)
	}
	p := build(f.Season, nil, nil)
	st := greedy(p)
	newImprover(st, 1).run(context.Background(), model.Coverage, 20000)
	t.Log(st.score())
	at := time.Now()
	m, err := newMaster(engine(t), newPricer(p, 2), p.wholeParts(), newState(p))
	if err != nil {
		t.Fatal(err)
	}
	defer m.close()
	limits := [5]float64(st.score().measures())
	for _, g := range []model.Wish{model.Coverage, model.ReadyBy, model.Body, model.Spacing} {
		if err := m.set(wishAim(g, limits)); err != nil {
			t.Fatal(err)
		}
		for r := range 14 {
			lpAt := time.Now()
			if err := m.run(context.Background()); err != nil {
				t.Fatal(err)
			}
			lpTook := time.Since(lpAt)
			it, _ := m.lp.Iterations()
			prAt := time.Now()
			n, err := m.round()
			if err != nil {
				t.Fatal(err)
			}
			if r%4 == 0 {
				t.Logf("%v round %d value %.3f bound %.3f added %d cols %d rows %d iter %d, lp %v price %v total %v", g, r, m.value, m.bound, n, m.lp.Cols(), m.lp.Rows(), it, lpTook.Round(time.Millisecond), time.Since(prAt).Round(time.Millisecond), time.Since(at).Round(time.Millisecond))
			}
			limits[g] = m.value
			if n == 0 || m.value-m.bound < 0.01*m.value+1e-6 {
				break
			}
		}
		if g != model.Body {
			limits[g] = math.Ceil(limits[g] - 1e-6)
		} else {
			limits[g] += 1
		}
	}

	t.Log("weight", m.t.weight)
	at = time.Now()
	r := newState(p)
	for i, f := range m.frames() {
		if r.takesFrame(&p.parts[i], f) {
			r.setFrame(i, f)
		} else {
			t.Log("frame does not fit", i, f)
		}
	}
	var units []unit
	for k, q := range p.passages {
		units = append(units, unit{part: q.part, first: k, last: k + 1, frame: r.frames[q.part]})
	}
	fine, err := newMaster(engine(t), newPricer(p, 2), units, r)
	if err != nil {
		t.Fatal(err)
	}
	if err := fine.set(aim{want: [5]float64{1000, 100, 10, 20, 1}, limits: [5]float64{inf, inf, inf, inf, inf}}); err != nil {
		t.Fatal(err)
	}
	if err := fine.seed(m); err != nil {
		t.Fatal(err)
	}
	for range 6 {
		if err := fine.solve(context.Background(), 4); err != nil {
			t.Fatal(err)
		}
		t.Log("fine", fine.value, fine.bound, fine.lp.Cols(), time.Since(at))
	}
	t.Log("fine", fine.value, fine.bound, time.Since(at))
	if err := fine.dive(context.Background(), r, 0.1, 2); err != nil {
		t.Fatal(err)
	}
	t.Log("dive", r.score(), time.Since(at))
	im := newImprover(r, 1)
	for range 8 {
		at = time.Now()
		im.run(context.Background(), model.Coverage, 20000)
		t.Log(r.score(), time.Since(at))
	}
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
