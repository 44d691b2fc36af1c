package cpsat

import (
	"context"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"
)

// hard is a model whose first solution is found at once and whose proof takes
// hours: weighted lateness of n random jobs on one machine.
func hard(n int) *Model {
	random := rand.New(rand.NewPCG(1, 2))
	m := NewModel("hard")
	var tasks []Interval
	var late []Linear
	for range n {
		length := 1 + random.Int64N(100)
		start := m.NewInt("", Range(0, 200*int64(n)))
		by := m.NewInt("", Range(0, 200*int64(n)))
		m.AtLeast(by, Sum(start, Const(length-random.Int64N(25*int64(n)))))
		tasks = append(tasks, m.Task("", start, length))
		late = append(late, Times(1+random.Int64N(20), by))
	}
	m.NoOverlap(tasks...)
	m.Minimize(Sum(late...))
	return m
}

func TestStatuses(t *testing.T) {
	m := NewModel("")
	x := m.NewInt("x", Range(0, 9))
	r := solved(t, m, Params{})
	if _, ok := r.Objective(); r.Status != Optimal || ok {
		t.Errorf("without objective: %v, objective %v", r.Status, ok)
	}
	if _, ok := r.Bound(); ok {
		t.Error("a bound without objective")
	}

	m.Minimize(x)
	m.AtMost(x, Const(-1))
	r = solved(t, m, Params{})
	_, solution := r.Solution()
	_, objective := r.Objective()
	_, bound := r.Bound()
	if r.Status != Infeasible || solution || objective || bound {
		t.Errorf("%v, solution %v, objective %v, bound %v", r.Status, solution, objective, bound)
	}

	h := hard(40)
	r = solved(t, h, Params{Work: 0.2})
	v, ok := r.Objective()
	b, bounded := r.Bound()
	if r.Status != Feasible || !ok || !bounded || b > v || r.Stopped {
		t.Errorf("%v %v, bound %v %v: %+v", r.Status, v, b, bounded, r)
	}
	if r.Work < 0.1 || r.Work > 2 {
		t.Errorf("work %v of 0.2", r.Work)
	}

	r = solved(t, h, Params{MaxTime: time.Nanosecond})
	if _, ok := r.Solution(); r.Status != Unknown || ok {
		t.Errorf("without time: %v", r.Status)
	}
	if b, ok := r.Bound(); ok && b > v {
		t.Errorf("without time a bound of %v", b)
	}

	for status, text := range map[Status]string{Unknown: "unknown", Feasible: "feasible", Infeasible: "infeasible", Optimal: "optimal", 9: "status 9"} {
		if status.String() != text {
			t.Errorf("%v, want %s", status, text)
		}
	}
}

func TestEngineRefusal(t *testing.T) {
	m := NewModel("")
	// Each domain fits, their sum does not: the engine's own rule.
	for range 3 {
		m.NewInt("", Range(-half, half))
	}
	r, err := library(t).Solve(t.Context(), m, Params{})
	if err == nil || !strings.Contains(err.Error(), "refuses the model: The sum of all variable domains") {
		t.Errorf("%v, %v", r.Status, err)
	}
}

func TestParamsFaults(t *testing.T) {
	m := NewModel("")
	for _, p := range []Params{
		{Workers: -1}, {Workers: 10001}, {MaxTime: -1}, {Work: -1}, {Work: math.NaN()},
		{AbsoluteGap: -1}, {AbsoluteGap: math.NaN()}, {AbsoluteGap: math.Inf(1)},
		{RelativeGap: -1}, {RelativeGap: math.NaN()}, {RelativeGap: math.Inf(1)},
		{HintConflicts: -1}, {Relaxation: -1}, {Relaxation: 3},
	} {
		if _, err := library(t).Solve(t.Context(), m, p); err == nil {
			t.Errorf("%+v was taken", p)
		}
	}
}

// Every setting has to reach the engine: each is seen to do something.
func TestParamsAct(t *testing.T) {
	m := NewModel("")
	var xs []Linear
	for range 12 {
		xs = append(xs, m.NewInt("", Range(0, 100)))
	}
	m.Linear(Sum(xs...), From(100))
	m.Minimize(Sum(xs...))
	if v, _ := solved(t, m, Params{}).Objective(); v != 100 {
		t.Errorf("%v, want 100", v)
	}
	for i := range m.vars {
		m.Hint(m.Var(i), 10)
	}
	if v, _ := solved(t, m, Params{FixHint: true}).Objective(); v != 120 {
		t.Errorf("fixed to the hint: %v, want 120", v)
	}
	if v, _ := solved(t, m, Params{FirstSolution: true}).Objective(); v != 120 {
		t.Errorf("first solution: %v, want the hint's 120", v)
	}
	if v, _ := solved(t, m, Params{AbsoluteGap: 20}).Objective(); v < 100 || v > 120 {
		t.Errorf("within 20: %v", v)
	}
	h := hard(30)
	for name, p := range map[string]Params{"absolute": {AbsoluteGap: 1e9}, "relative": {RelativeGap: 1e3}} {
		p.Work = 1
		if r := solved(t, h, p); r.Status != Optimal || r.Work > 0.5 {
			t.Errorf("%s gap: %v after %v", name, r.Status, r.Work)
		}
	}
	for _, relaxation := range []Relaxation{UsualRelaxation, NoRelaxation, FullRelaxation} {
		if v, _ := solved(t, m, Params{Relaxation: relaxation}).Objective(); v != 100 {
			t.Errorf("relaxation %v: %v", relaxation, v)
		}
	}
	log := solved(t, m, Params{Log: true, Workers: 3, Seed: 77, HintConflicts: 5}).Log
	for _, want := range []string{"v9.15.6755", "random_seed: 77", "3 workers", "hint_conflict_limit: 5"} {
		if !strings.Contains(log, want) {
			t.Errorf("the log lacks %q", want)
		}
	}
	if t.Failed() {
		t.Log(log)
	}
	if log := solved(t, m, Params{}).Log; log != "" {
		t.Errorf("a log that nobody asked for: %s", log)
	}
}

func TestSameInputSamePlan(t *testing.T) {
	m := hard(20)
	for _, p := range []Params{
		{Work: 0.05, Seed: 5},
		{Work: 0.05, Seed: 5, Relaxation: FullRelaxation},
	} {
		var first Response
		for i := range 3 {
			r := solved(t, m, p)
			if i == 0 {
				first = r
			} else if !reflect.DeepEqual(r, first) {
				t.Errorf("%+v: solve %d differs", p, i+1)
			}
		}
	}
	a, b := solved(t, hard(20), Params{Work: 0.05, Seed: 1}), solved(t, hard(20), Params{Work: 0.05, Seed: 2})
	if slices.Equal(a.values, b.values) {
		t.Error("the seed changes nothing")
	}
}

// An answer that can't be one to the model is refused.
func TestAnswersAreJudged(t *testing.T) {
	m := NewModel("")
	x, b := m.NewInt("x", Range(0, 9)), m.NewBool("b")
	m.AtLeast(x, Const(5)).OnlyIf(b)
	m.Minimize(x)
	for _, values := range [][]int64{{0}, {10, 1}} {
		if err := m.judge(answer{status: Optimal, solution: values}, nil); err == nil {
			t.Errorf("%v was taken for a solution", values)
		}
	}
	if err := m.judge(answer{status: Optimal, solution: []int64{5, 1}, objective: 5}, m.objective); err != nil {
		t.Error(err)
	}
	if err := m.judge(answer{status: Optimal, solution: []int64{5, 1}, objective: 6}, m.objective); err == nil {
		t.Error("another objective was taken")
	}
	if err := m.judge(answer{status: 7}, nil); err == nil {
		t.Error("an unknown status was taken")
	}
}

func TestSolvesSideBySide(t *testing.T) {
	lib := library(t)
	shared := hard(20)
	want := solved(t, shared, Params{Work: 0.05})
	var group sync.WaitGroup
	for i := range 8 {
		group.Go(func() {
			for range 5 {
				m := NewModel("")
				x := m.NewInt("x", Range(0, 1000))
				m.AtLeast(Times(3, x), Const(int64(100*i)))
				m.Minimize(x)
				r, err := lib.Solve(context.Background(), m, Params{Workers: 1 + i%2})
				if v, _ := r.Objective(); err != nil || v != math.Ceil(float64(100*i)/3) {
					t.Errorf("%d: %v, %v", i, v, err)
				}
			}
			r, err := lib.Solve(context.Background(), shared, Params{Work: 0.05})
			if err != nil || !slices.Equal(r.values, want.values) {
				t.Errorf("%d: a shared model gave another plan: %v", i, err)
			}
		})
	}
	group.Wait()
}

func TestForeignHandlePanics(t *testing.T) {
	m := NewModel("")
	m.NewInt("x", Range(0, 1))
	s, _ := solved(t, m, Params{}).Solution()
	foreign := NewModel("").NewInt("y", Range(0, 1))
	later := m.NewInt("later", Range(0, 1))
	for name, x := range map[string]Int{"foreign": foreign, "none": {}, "later": later} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s: no panic", name)
				}
			}()
			s.Int(x)
		}()
	}
}

func TestOpenFaults(t *testing.T) {
	lib := library(t)
	if again, err := Open(lib.path); again != lib || err != nil {
		t.Errorf("opened twice: %v", err)
	}
	if _, err := Open("no-such-folder/libortools.so.9"); err == nil || !strings.Contains(err.Error(), "not there") {
		t.Errorf("absent: %v", err)
	}
	if _, err := Open("solve_test.go"); err == nil || !strings.Contains(err.Error(), "is loaded already") {
		t.Errorf("second: %v", err)
	}
	if _, err := load("solve_test.go"); err == nil || !strings.Contains(err.Error(), "cannot be loaded") {
		t.Errorf("no library: %v", err)
	}
}
