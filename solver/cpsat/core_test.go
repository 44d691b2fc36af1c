package cpsat

import (
	"context"
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// minimal is the deletion filter that Core's documentation describes.
func minimal(t testing.TB, m *Model, core []Bool) []Bool {
	t.Helper()
	for i := 0; i < len(core); {
		rest := slices.Delete(slices.Clone(core), i, i+1)
		m.Assume(rest...)
		smaller, r, err := library(t).Core(context.Background(), m, Params{})
		if err != nil {
			t.Fatal(err)
		}
		if r.Status != Infeasible {
			i++ // needed
			continue
		}
		// What stands before i was needed, so it is still in the smaller core, first.
		core = smaller
	}
	return core
}

func TestCore(t *testing.T) {
	lib := library(t)
	m := NewModel("")
	x, y := m.NewInt("x", Range(0, 10)), m.NewInt("y", Range(0, 10))
	var on []Bool
	for i, c := range []Constraint{
		m.AtLeast(x, Const(2)),
		m.AtLeast(Sum(x, y), Const(12)), // with the next two: a contradiction
		m.AtMost(x, Const(5)),
		m.AtMost(y, Const(6)),
		m.AtLeast(y, Const(1)),
	} {
		b := m.NewBool(fmt.Sprint("row ", i))
		c.OnlyIf(b)
		on = append(on, b)
	}
	m.Minimize(Sum(x, y))
	m.Assume(on...)
	core, r, err := lib.Core(t.Context(), m, Params{Workers: 2})
	if err != nil || r.Status != Infeasible {
		t.Fatal(r.Status, err)
	}
	if got, want := fmt.Sprint(minimal(t, m, core)), "[row 1 row 2 row 3]"; got != want {
		t.Errorf("core %v, want %v", got, want)
	}

	m.Assume(on[0], on[1], on[3], on[4])
	core, r, err = lib.Core(t.Context(), m, Params{})
	if err != nil || r.Status != Optimal || core != nil {
		t.Errorf("without row 2: %v, %v, %v", core, r.Status, err)
	}
	if _, ok := r.Objective(); ok {
		t.Error("an objective, though it was left out")
	}

	// A model that cannot be met whatever is assumed.
	m.Or()
	m.Assume(on...)
	core, r, err = lib.Core(t.Context(), m, Params{})
	if err != nil || r.Status != Infeasible || len(minimal(t, m, core)) != 0 {
		t.Errorf("%v, %v, %v", core, r.Status, err)
	}
}

// TestCores holds cores of random models against trying all sets of
// assumptions.
func TestCores(t *testing.T) {
	lib := library(t)
	cores := 0
	rapid.Check(t, func(rt *rapid.T) {
		w := newWorld(rt)
		type part struct {
			on   Bool
			rule func(p []int64) bool
		}
		var parts []part
		for i := range 4 {
			c, rule := kinds[rapid.SampledFrom([]string{"linear", "or", "equal", "at most one"}).Draw(rt, "kind")](w)
			on := w.m.NewBool(fmt.Sprint("on", i))
			c.OnlyIf(on)
			parts = append(parts, part{on, rule})
		}
		var assumed []Bool
		for _, p := range parts {
			assumed = append(assumed, p.on)
		}
		w.m.Assume(assumed...)
		core, r, err := lib.Core(rt.Context(), w.m, Params{})
		if err != nil {
			rt.Fatal(err)
		}
		meets := func(kept []Bool) bool {
			w.rules = nil
			for _, p := range parts {
				if slices.Contains(kept, p.on) {
					w.rules = append(w.rules, p.rule)
				}
			}
			_, ok := w.best(sumOf{Const(0), func([]int64) int64 { return 0 }}, 1)
			return ok
		}
		if meets(assumed) != (r.Status == Optimal) {
			rt.Fatalf("%v, but %v", r.Status, meets(assumed))
		}
		if r.Status != Infeasible {
			return
		}
		cores++
		if meets(core) {
			rt.Fatalf("core %v can be met", core)
		}
		core = minimal(t, w.m, core)
		if meets(core) {
			rt.Fatalf("minimal core %v can be met", core)
		}
		for i := range core {
			if !meets(slices.Delete(slices.Clone(core), i, i+1)) {
				rt.Fatalf("minimal core %v does not need %v", core, core[i])
			}
		}
	})
	if cores < 5 {
		t.Errorf("only %d of the models had a core: the draw is poor", cores)
	}
}
