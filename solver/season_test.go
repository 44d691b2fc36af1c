package solver

import (
	"context"
	"errors"
	"reflect"
	"runtime"
	"testing"
	"time"

	"primaprova/io/seasonfile"
	"primaprova/model"
	"primaprova/model/invent"
)

// middling is a season of some weeks that is tight enough to need every step.
func middling(seed uint64) *model.Season {
	z := invent.Demo(seed)
	z.Weeks, z.Programmes, z.Parts, z.Passages, z.Tightness = 12, 3, 3, 8, 0.45
	return invent.Season(z)
}

// met is a season whose first plan leaves out what moves then find room for, which
// ends the proof beside them.
func met() *model.Season {
	z := invent.Grown(12, 6, true, 1)
	z.Passages = 8
	return invent.Season(z)
}

// The same season gives the same plan, however many goroutines can really run.
func TestSameSeasonSamePlan(t *testing.T) {
	for _, s := range []*model.Season{middling(3), met()} {
		var first *model.Plan
		for _, procs := range []int{2, 1, 2} {
			before := runtime.GOMAXPROCS(procs)
			plan, err := Solve(context.Background(), s, Options{Engine: engine(t), Work: 0.05})
			runtime.GOMAXPROCS(before)
			if err != nil {
				t.Fatal(err)
			}
			plan.Provenance.Seconds = 0
			if first == nil {
				first = plan
			} else if !reflect.DeepEqual(first, plan) {
				t.Errorf("another plan with %d processors: %+v, was %+v", procs, plan.Provenance, first.Provenance)
			}
		}
	}
}

// However early it is stopped, Solve gives an audited plan that says so.
func TestStoppedEarly(t *testing.T) {
	s := middling(4)
	for _, after := range []time.Duration{time.Millisecond, 50 * time.Millisecond, 400 * time.Millisecond, 1500 * time.Millisecond} {
		ctx, cancel := context.WithTimeout(context.Background(), after)
		at := time.Now()
		plan, err := Solve(ctx, s, Options{Engine: engine(t), Work: 50})
		cancel()
		if err != nil {
			t.Fatalf("after %v: %v", after, err)
		}
		if plan.Provenance.Status != model.CutShort {
			t.Errorf("after %v the plan is %s", after, plan.Provenance.Status)
		}
		if took := time.Since(at); took > after+30*time.Second {
			t.Errorf("stopped after %v, ended after %v", after, took)
		}
	}
	ended, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Solve(ended, s, Options{Engine: engine(t)}); !errors.Is(err, ErrStopped) {
		t.Errorf("stopped beforehand: %v", err)
	}
}

// The demo season with a thirtieth of the ordinary work: audited, and better
// than the first plan.
func TestDemoSeason(t *testing.T) {
	f, err := seasonfile.Read("../testdata/seasons/demo/season.yaml")
	if err != nil {
		t.Fatal(err)
	}
	g, err := Greedy(f.Season, Options{})
	if err != nil {
		t.Fatal(err)
	}
	plan, err := Solve(context.Background(), f.Season, Options{Engine: engine(t), Work: 0.03})
	if err != nil {
		t.Fatal(err)
	}
	first, now := f.Season.Measure(g, nil, nil), f.Season.Measure(plan, nil, nil)
	if !now.Less(first) {
		t.Errorf("%v after the work, %v before it", now, first)
	}
	for _, w := range plan.Provenance.Wishes {
		if w.Bound > w.Value {
			t.Errorf("%+v: the bound lies above the value", w)
		}
	}
}

// Solving again over a standing plan of a season in which nothing changed
// leaves every session where it stands.
func TestNothingChanged(t *testing.T) {
	s := middling(5)
	o := Options{Engine: engine(t), Work: 0.05}
	standing, err := Solve(context.Background(), s, o)
	if err != nil {
		t.Fatal(err)
	}
	if len(standing.Unplaced) > 0 {
		t.Fatalf("%d sessions are left out: choose an easier season", len(standing.Unplaced))
	}
	o.Standing = standing
	again, err := Solve(context.Background(), s, o)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(standing.Sessions, again.Sessions) {
		t.Errorf("closeness %v", s.Measure(again, nil, standing)[model.Closeness])
	}
}
