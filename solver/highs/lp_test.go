package highs

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"primaprova/solver/mip"
)

// schedules is like the season's program by columns, smaller: rows to be
// reached, columns that reach eight of them. More columns come on demand.
type schedules struct {
	rng  *rand.Rand
	rows int
}

func (s *schedules) columns(n int) *Columns {
	c := &Columns{}
	for range n {
		from := s.rng.IntN(s.rows - 14)
		rows, values := make([]int32, 8), make([]float64, 8)
		for k := range rows {
			rows[k], values[k] = int32(from+2*k), 1+float64(s.rng.IntN(9))
		}
		c.Add(10+float64(s.rng.IntN(90)), 0, inf, rows, values)
	}
	return c
}

// newSchedules returns an LP of so many rows and columns, and the source of
// further columns.
func newSchedules(t *testing.T, rows, cols int) (*LP, *schedules) {
	t.Helper()
	p, err := library(t).NewLP()
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(p.Close)
	s := &schedules{rand.New(rand.NewPCG(1, 2)), rows}
	var r Rows
	for range rows {
		r.Add(5+float64(s.rng.IntN(20)), inf, nil, nil)
	}
	must(t, p.AddRows(&r))
	must(t, p.AddCols(s.columns(cols)))
	return p, s
}

// fresh makes the next run start from nothing.
func fresh(t *testing.T, p *LP) {
	t.Helper()
	must(t, ok("Highs_clearSolver", p.l.c.clearSolver(p.h)))
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// run solves p to optimality and returns objective and iterations.
func run(t *testing.T, p *LP, o Options) (objective float64, iterations int64) {
	t.Helper()
	status, err := p.Run(t.Context(), o)
	if err != nil || status != Optimal {
		t.Fatalf("%v, %v", status, err)
	}
	objective, err = p.Objective()
	must(t, err)
	iterations, err = p.Iterations()
	must(t, err)
	return objective, iterations
}

func TestLPStartsWhereItEnded(t *testing.T) {
	p, s := newSchedules(t, 200, 2000)
	first, cold := run(t, p, Options{LPSolver: "simplex"})
	if _, again := run(t, p, Options{}); again != 0 {
		t.Errorf("nothing changed, yet %d iterations", again)
	}
	must(t, p.AddCols(s.columns(60)))
	second, warm := run(t, p, Options{})
	if second > first+1e-6 || warm*3 > cold {
		t.Errorf("cold %d iterations to %v, warm %d to %v", cold, first, warm, second)
	}
	fresh(t, p)
	third, fromNothing := run(t, p, Options{Presolve: Off})
	if !near(third, second) || fromNothing <= warm {
		t.Errorf("from nothing %d iterations to %v; warm had %d to %v", fromNothing, third, warm, second)
	}
}

func TestLPInteriorPricesAgree(t *testing.T) {
	p, _ := newSchedules(t, 120, 1500)
	corner, _ := run(t, p, Options{LPSolver: "simplex"})
	inner, _ := run(t, p, Options{LPSolver: "ipx", Crossover: Off})
	if math.Abs(inner-corner) > 1e-4*math.Abs(corner) {
		t.Errorf("interior %v, corner %v", inner, corner)
	}
	price := make([]float64, p.Rows())
	must(t, p.Duals(price))
	if low := slices.Min(price); low < -1e-6 {
		t.Errorf("a price of %v on a lower side", low)
	}
}

// TestLPChanges changes an LP step by step and compares it each time with the
// same program solved from nothing.
func TestLPChanges(t *testing.T) {
	l := library(t)
	rapid.Check(t, func(rt *rapid.T) {
		m := relaxed(drawn(rt, true))
		p, err := l.NewLP()
		if err != nil {
			rt.Fatal(err)
		}
		defer p.Close()
		if err := p.PassModel(m); err != nil {
			rt.Fatal(err)
		}
		for range 4 {
			compareLP(rt, t.Context(), l, p, m)
			v, c := mip.Var(rapid.IntRange(0, m.Vars()-1).Draw(rt, "v")), float64(rapid.IntRange(-5, 5).Draw(rt, "c"))
			col := []int32{int32(v)}
			what := rapid.IntRange(0, 4).Draw(rt, "what")
			if m.Rows() == 0 && what == 2 {
				what = 0
			}
			var row mip.Row
			if m.Rows() > 0 {
				row = mip.Row(rapid.IntRange(0, m.Rows()-1).Draw(rt, "row"))
			}
			switch what {
			case 0:
				m.SetCost(v, c)
				err = p.ChangeCosts(col, []float64{c})
			case 1:
				m.SetBounds(v, c, c+2)
				err = p.ChangeBounds(col, []float64{c}, []float64{c + 2})
			case 2:
				m.SetRow(row, -inf, c)
				err = p.ChangeSides([]int32{int32(row)}, []float64{-inf}, []float64{c})
			case 3:
				m.Row("", c, c+4, mip.Term{Var: v, Coef: 1}, mip.Term{Var: 0, Coef: 2})
				r := &Rows{}
				if v == 0 {
					r.Add(c, c+4, []int32{0}, []float64{3})
				} else {
					r.Add(c, c+4, []int32{int32(v), 0}, []float64{1, 2})
				}
				err = p.AddRows(r)
			case 4:
				cols := &Columns{}
				fresh := m.Real("", -1, 3, c)
				if m.Rows() > 0 {
					m.AddTerm(row, fresh, 2)
					cols.Add(c, -1, 3, []int32{int32(row)}, []float64{2})
				} else {
					cols.Add(c, -1, 3, nil, nil)
				}
				err = p.AddCols(cols)
			}
			if err != nil {
				rt.Fatal(err)
			}
		}
		compareLP(rt, t.Context(), l, p, m)
	})
}

func compareLP(t *rapid.T, ctx context.Context, l *Library, p *LP, m *mip.Model) {
	want, err := l.Solve(ctx, m, Options{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	status, err := p.Run(ctx, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if status != want.Status {
		t.Fatalf("LP %v, model %v", status, want.Status)
	}
	objective, err := p.Objective()
	if err != nil || !near(objective, want.Objective) {
		t.Fatalf("LP %v, model %v (%v)", objective, want.Objective, err)
	}
	if status != Optimal {
		return
	}
	x, sums := make([]float64, p.Cols()), make([]float64, p.Rows())
	if err := p.Primal(x); err != nil {
		t.Fatal(err)
	}
	if worst, what := m.Violation(x); worst > 1e-6 || !near(m.Value(x), objective) {
		t.Fatalf("objective %v, the point has %v; %s", objective, m.Value(x), what)
	}
	if err := p.Activity(sums); err != nil {
		t.Fatal(err)
	}
	for r, sum := range sums {
		if !near(sum, m.Activity(mip.Row(r), x)) {
			t.Fatalf("row %d is %v, computed %v", r, sum, m.Activity(mip.Row(r), x))
		}
	}
}

func TestLPDeleting(t *testing.T) {
	p, _ := newSchedules(t, 100, 800)
	before, _ := run(t, p, Options{LPSolver: "simplex"})
	x := make([]float64, p.Cols())
	must(t, p.Primal(x))
	var idle []int32
	for col, v := range x {
		if v == 0 && col%2 == 0 {
			idle = append(idle, int32(col))
		}
	}
	slices.Reverse(idle) // in any order, and given twice
	must(t, p.DeleteCols(append(idle, idle[0])))
	if p.Cols() != 800-len(idle) {
		t.Fatalf("%d columns left of 800 after taking %d", p.Cols(), len(idle))
	}
	if after, iterations := run(t, p, Options{}); !near(after, before) || iterations != 0 {
		t.Errorf("without idle columns: %v after %d iterations, was %v", after, iterations, before)
	}
}

func TestLPLimits(t *testing.T) {
	p, _ := newSchedules(t, 200, 2000)
	want, all := run(t, p, Options{LPSolver: "simplex"})
	fresh(t, p)
	// Each run has its own limit, and the next goes on where it stopped.
	o := Options{LPSolver: "simplex", Presolve: Off, MaxLPIterations: 20}
	runs := int64(0)
	for {
		status, err := p.Run(t.Context(), o)
		must(t, err)
		runs++
		if status == Optimal {
			break
		}
		if done, _ := p.Iterations(); status != WorkUp || done != 20 || runs > 10*all {
			t.Fatalf("run %d: %v after %d iterations", runs, status, done)
		}
	}
	if got, _ := p.Objective(); !near(got, want) || runs < 3 {
		t.Errorf("%v after %d runs, want %v", got, runs, want)
	}
	fresh(t, p)
	o = Options{LPSolver: "simplex", Presolve: Off, Raw: map[string]any{"simplex_strategy": 1}, Cutoff: new(want / 2)}
	if status, err := p.Run(t.Context(), o); err != nil || status != CutoffReached {
		t.Errorf("cutoff: %v, %v", status, err)
	}
	fresh(t, p)
	if status, err := p.Run(t.Context(), Options{TimeLimit: time.Nanosecond}); err != nil || status != TimeUp {
		t.Errorf("no time: %v, %v", status, err)
	}
}

func TestLPTimeLimitIsForEachRun(t *testing.T) {
	p, _ := newSchedules(t, 200, 2000)
	spent := time.Now()
	// A machine may be busy with something else just then: so once more. Were the
	// limit one of all runs together, each time would be too late.
	for range 8 {
		for range 8 {
			fresh(t, p)
			run(t, p, Options{})
		}
		fresh(t, p)
		// Far more than a run takes, less than all of them together.
		status, err := p.Run(t.Context(), Options{TimeLimit: time.Since(spent) * 3 / 4})
		must(t, err)
		if status == Optimal {
			return
		}
	}
	t.Error("never done in time")
}

func TestContextEndsALinearProgram(t *testing.T) {
	p, _ := newSchedules(t, 1200, 40000)
	want := 0.0
	for _, solver := range []string{"simplex", "ipx"} {
		o := Options{LPSolver: solver, Presolve: Off}
		fresh(t, p)
		began := time.Now()
		want, _ = run(t, p, o)
		// On a busy machine the stop can come too late: then once more, sooner.
		stopAt, status := time.Since(began)/4, Optimal
		for range 8 {
			fresh(t, p)
			ctx, stop := context.WithCancel(t.Context())
			time.AfterFunc(stopAt, stop)
			var err error
			status, err = p.Run(ctx, o)
			stop()
			must(t, err)
			if status != Optimal {
				break
			}
			stopAt /= 2
		}
		if status != Interrupted {
			t.Errorf("%s: %v", solver, status)
		}
	}
	if got, _ := run(t, p, Options{}); !near(got, want) {
		t.Errorf("afterwards %v, want %v", got, want)
	}
}

func TestLPRefusesWhatDoesNotFit(t *testing.T) {
	p, _ := newSchedules(t, 20, 100)
	run(t, p, Options{})
	one, two := []float64{1}, []float64{1, 2}
	for name, err := range map[string]error{
		"primal":    p.Primal(two),
		"activity":  p.Activity(two),
		"duals":     p.Duals(two),
		"costs":     p.ChangeCosts([]int32{1, 2}, one),
		"no column": p.ChangeCosts([]int32{100}, one),
		"negative":  p.ChangeBounds([]int32{-1}, one, one),
		"no row":    p.ChangeSides([]int32{20}, one, one),
		"delete":    p.DeleteCols([]int32{100}),
		"starts":    p.AddCols(&Columns{Cost: one, Lower: one, Upper: one, Start: []int32{0, 2}, Index: []int32{0}, Value: one}),
		"index":     p.AddCols(&Columns{Cost: one, Lower: one, Upper: one, Start: []int32{0, 1}, Index: []int32{20}, Value: one}),
		"bounds":    p.AddCols(&Columns{Cost: two, Lower: one, Upper: one}),
		"row index": p.AddRows(&Rows{Lower: one, Upper: one, Start: []int32{0, 1}, Index: []int32{100}, Value: one}),
		// The engine's own refusals.
		"twice": p.AddCols(&Columns{Cost: one, Lower: one, Upper: two[:1], Start: []int32{0, 2}, Index: []int32{3, 3}, Value: two}),
	} {
		if err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if p.Cols() != 100 || p.Rows() != 20 {
		t.Errorf("now %d columns and %d rows", p.Cols(), p.Rows())
	}
	must(t, p.ChangeCosts([]int32{0}, one))
	if err := p.Duals(make([]float64, 20)); !errors.Is(err, ErrNoSolution) || !strings.Contains(err.Error(), "changed since") {
		t.Errorf("prices of a changed program: %v", err)
	}
	p.Close()
	p.Close()
	if _, err := p.Run(t.Context(), Options{}); err != errClosed {
		t.Errorf("closed: %v", err)
	}
}
