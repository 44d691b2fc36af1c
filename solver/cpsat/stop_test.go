package cpsat

import (
	"context"
	"testing"
	"time"
)

func TestStop(t *testing.T) {
	m := hard(60)
	var r Response
	for wait := 200 * time.Millisecond; !r.Status.HasSolution(); wait *= 2 { // on a busy machine it has nothing yet
		ctx, cancel := context.WithTimeout(t.Context(), wait)
		var err error
		r, err = library(t).Solve(ctx, m, Params{Workers: 2, MaxTime: 10 * time.Minute})
		cancel()
		if err != nil || !r.Stopped || wait > time.Minute {
			t.Fatalf("%v after %v, stopped %v, %v", r.Status, wait, r.Stopped, err)
		}
	}
	if r.Status != Feasible {
		t.Fatalf("%v", r.Status)
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
