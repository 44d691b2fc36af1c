package highs

import (
	"context"
	"math"
	"testing"
)

func TestProgressAndSolutions(t *testing.T) {
	m := knapsacks(40, 4)
	var news []Progress
	var points [][]float64
	var worths []float64
	r := solve(t, m, Options{
		MaxLPIterations: 1000,
		Progress:        func(p Progress) { news = append(news, p) },
		Solution: func(x []float64, objective float64) {
			points, worths = append(points, x), append(worths, objective)
		},
	})
	if len(news) == 0 || len(points) == 0 {
		t.Fatalf("told %d times, given %d points", len(news), len(points))
	}
	for i, x := range points {
		if worst, what := m.Violation(x); worst > 1e-6 || !near(m.Value(x), worths[i]) {
			t.Errorf("point %d: objective %v, told %v; %s", i, m.Value(x), worths[i], what)
		}
		if i > 0 && worths[i] >= worths[i-1] {
			t.Errorf("%v does not improve on %v", worths[i], worths[i-1])
		}
	}
	if last := worths[len(worths)-1]; !near(last, r.Objective) {
		t.Errorf("the last point told of has %v, the result %v", last, r.Objective)
	}
	for i, p := range news {
		if i > 0 && (p.Seconds < news[i-1].Seconds || p.LPIterations < news[i-1].LPIterations || p.Nodes < news[i-1].Nodes) {
			t.Errorf("went back from %+v to %+v", news[i-1], p)
		}
		if p.Bound > r.Objective+1e-6 || p.Incumbent < r.Objective-1e-6 || p.Bound > p.Incumbent+1e-6 {
			t.Errorf("%+v, but the result is %v", p, r.Objective)
		}
	}
}

func TestContextEndsAWholeNumberProgram(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	m := knapsacks(80, 5)
	stopped := false
	r, err := library(t).Solve(ctx, m, Options{Progress: func(p Progress) {
		if p.Nodes > 0 && !stopped {
			stopped = true
			stop()
		}
	}}, nil)
	if err != nil || r.Status != Interrupted || r.X == nil {
		t.Fatalf("%v, point %v, %v", r.Status, r.X != nil, err)
	}
	if worst, what := m.Violation(r.X); worst > 1e-6 || !near(m.Value(r.X), r.Objective) || math.IsInf(r.Bound, 0) {
		t.Errorf("incumbent %v, bound %v: %s", r.Objective, r.Bound, what)
	}
}

// TestGivingUp takes the place of Solve when the engine does not look up: the
// run goes on, its incumbent is taken, and nothing is heard of it any more.
func TestGivingUp(t *testing.T) {
	l, m := library(t), knapsacks(40, 4)
	h, err := l.newHandle()
	if err == nil {
		err = l.pass(h, m, true)
	}
	if err != nil {
		t.Fatal(err)
	}
	defer l.c.destroy(h)
	third, ended := make(chan struct{}), make(chan struct{})
	calls := 0
	o := Options{MaxLPIterations: 1500, Solution: func([]float64, float64) {
		if calls++; calls == 3 {
			close(third)
		}
	}}
	w := l.newWatch(m.Vars(), &o)
	go func() {
		defer close(ended)
		if _, err := l.solveHandle(t.Context(), h, &o, w); err != nil {
			t.Error(err)
		}
	}()
	<-third
	r := w.giveUp()
	heard := calls
	<-ended
	if r.Status != Interrupted || r.X == nil || !near(m.Value(r.X), r.Objective) || r.Bound > r.Objective {
		t.Errorf("given up with %+v", r)
	}
	if calls != heard {
		t.Errorf("told of %d more points after giving up", calls-heard)
	}
}

func TestContextDoneBefore(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	stop()
	r, err := library(t).Solve(ctx, knapsacks(80, 5), Options{}, nil)
	if err != nil || r.Status != Interrupted || r.X != nil || !math.IsInf(r.Objective, 1) || !math.IsInf(r.Bound, -1) {
		t.Errorf("%+v, %v", r, err)
	}
}

// TestPanicsComeBack checks that a panic of the caller's own function reaches
// the caller, although the engine stands between.
func TestPanicsComeBack(t *testing.T) {
	func() {
		defer func() {
			if got := recover(); got != "enough" {
				t.Errorf("recovered %v", got)
			}
		}()
		solve(t, knapsacks(40, 4), Options{Solution: func([]float64, float64) { panic("enough") }})
		t.Error("no panic")
	}()
	if r := solve(t, workshop(), Options{}); r.Status != Optimal {
		t.Errorf("the next solve: %v", r.Status)
	}
}

func TestPatience(t *testing.T) {
	var better, last int64
	o := Options{MaxLPIterations: 20_000, Patience: 200, Progress: func(p Progress) { last = p.LPIterations }}
	o.Solution = func([]float64, float64) { better = last }
	waited := solve(t, knapsacks(80, 5), o)
	if waited.LPIterations >= o.MaxLPIterations || waited.LPIterations < max(o.Patience, 4*better) {
		t.Errorf("stopped after %d iterations, the last better point after %d", waited.LPIterations, better)
	}
}
