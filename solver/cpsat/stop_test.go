package cpsat

import (
	"context"
	"testing"
	"time"
)

func TestStop(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	time.AfterFunc(200*time.Millisecond, cancel)
	m := hard(60)
	r, err := library(t).Solve(ctx, m, Params{Workers: 2, MaxTime: time.Minute})
	if err != nil || r.Status != Feasible || !r.Stopped {
		t.Fatalf("%v, stopped %v, %v", r.Status, r.Stopped, err)
	}
	// What it had is a solution still: fixed as a hint, it is one.
	s, _ := r.Solution()
	for i, v := range s.values {
		m.Hint(m.Var(i), v)
	}
	fixed := solved(t, m, Params{FixHint: true})
	a, _ := r.Objective()
	b, _ := fixed.Objective()
	if fixed.Status != Optimal || a != b {
		t.Errorf("%v: %v, then %v", fixed.Status, a, b)
	}
}

func TestStopBefore(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	r, err := library(t).Solve(ctx, hard(60), Params{MaxTime: time.Minute})
	if err != nil || r.Status.HasSolution() || !r.Stopped {
		t.Errorf("%v, stopped %v, %v", r.Status, r.Stopped, err)
	}
	// A model solved before anyone looks is solved, whatever the context says.
	small := NewModel("")
	small.Or()
	if r, err := library(t).Solve(ctx, small, Params{}); err != nil || r.Stopped && r.Status == Infeasible {
		t.Errorf("%v, stopped %v, %v", r.Status, r.Stopped, err)
	}
}

// TestStopAnywhere stops at moments from before the search to after its end:
// touching a handle that is gone would crash.
func TestStopAnywhere(t *testing.T) {
	lib := library(t)
	m := hard(8)
	for i := range 100 {
		ctx, cancel := context.WithTimeout(t.Context(), time.Duration(i*i)*time.Microsecond)
		_, err := lib.Solve(ctx, m, Params{MaxTime: time.Minute})
		if err != nil {
			t.Error(err)
		}
		cancel()
	}
	e := lib.open()
	e.stop()
	e.destroy()
	e.stop()
	e.destroy()
}
