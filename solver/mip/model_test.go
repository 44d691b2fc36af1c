package mip

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

var inf = math.Inf(1)

func TestFaultsAreKeptUntilAskedFor(t *testing.T) {
	nan := math.NaN()
	for name, c := range map[string]struct {
		build func(m *Model, v Var, r Row)
		want  string
	}{
		"bounds crossed":    {func(m *Model, _ Var, _ Row) { m.Real("load", 3, 2, 0) }, "variable load: no value lies between 3 and 2"},
		"bound not number":  {func(m *Model, _ Var, _ Row) { m.Integer("load", nan, 2, 0) }, "variable load: no value lies between NaN and 2"},
		"only infinity":     {func(m *Model, _ Var, _ Row) { m.Real("load", inf, inf, 0) }, "variable load: no value lies between +Inf and +Inf"},
		"cost infinite":     {func(m *Model, _ Var, _ Row) { m.Bool("", -inf) }, "variable x1: cost -Inf is not a finite number"},
		"cost set":          {func(m *Model, v Var, _ Row) { m.SetCost(v, nan) }, "variable first: cost NaN is not a finite number"},
		"bounds set":        {func(m *Model, v Var, _ Row) { m.SetBounds(v, 1, 0) }, "variable first: no value lies between 1 and 0"},
		"sides crossed":     {func(m *Model, _ Var, _ Row) { m.Row("cap", 2, 1) }, "row cap: no value lies between 2 and 1"},
		"sides set":         {func(m *Model, _ Var, r Row) { m.SetRow(r, nan, 1) }, "row only: no value lies between NaN and 1"},
		"foreign variable":  {func(m *Model, _ Var, _ Row) { m.Row("", 0, 1, Term{7, 1}) }, "row r1: variable 7 is not in the model, which has 1"},
		"negative variable": {func(m *Model, _ Var, r Row) { m.AddTerm(r, -1, 1) }, "row only: variable -1 is not in the model, which has 1"},
		"coefficient":       {func(m *Model, v Var, r Row) { m.AddTerm(r, v, nan) }, "row only: coefficient NaN of first is not a finite number"},
		"foreign row":       {func(m *Model, v Var, _ Row) { m.AddTerm(4, v, 1) }, "row 4 is not in the model, which has 1"},
		"foreign set":       {func(m *Model, _ Var, _ Row) { m.SetCost(9, 1) }, "variable 9 is not in the model, which has 1"},
		"offset":            {func(m *Model, _ Var, _ Row) { m.SetOffset(inf) }, "the objective's offset is +Inf, not a number to add"},
	} {
		t.Run(name, func(t *testing.T) {
			m := New("faults")
			v := m.Bool("first", 1)
			r := m.Row("only", 0, 1, Term{v, 1})
			if m.Err() != nil {
				t.Fatalf("sound so far, yet: %v", m.Err())
			}
			c.build(m, v, r)
			m.SetCost(99, 0) // a later fault does not displace the first
			if m.Err() == nil || m.Err().Error() != "mip: "+c.want {
				t.Errorf("got  %v\nwant mip: %s", m.Err(), c.want)
			}
			if err := m.WriteMPS(&bytes.Buffer{}); err == nil {
				t.Error("a model with a fault was written")
			}
		})
	}
}

func TestRepeatedVariablesAreSummed(t *testing.T) {
	m := New("")
	a, b := m.Bool("a", 0), m.Bool("b", 0)
	r := m.Row("", 0, 1, Term{b, 1}, Term{a, 2}, Term{b, 3})
	if got, want := m.Terms(r), []Term{{b, 4}, {a, 2}}; !slices.Equal(got, want) {
		t.Errorf("Row: got %v, want %v", got, want)
	}
	m.AddTerm(r, a, -2)
	if got, want := m.Terms(r), []Term{{b, 4}, {a, 0}}; !slices.Equal(got, want) {
		t.Errorf("AddTerm: got %v, want %v", got, want)
	}
	if start, _, _ := m.Columns(); !slices.Equal(start, []int32{0, 0, 1}) {
		t.Errorf("a sum of zero is to be left out: %v", start)
	}
}

func TestViolationNamesTheWorst(t *testing.T) {
	m := New("")
	n := m.Integer("visits", 0, 4, 2)
	y := m.Real("minutes", -inf, 10, 1)
	m.Row("cap", 1, 6, Term{n, 2}, Term{y, 1})
	m.SetOffset(5)
	for _, c := range []struct {
		x     []float64
		worst float64
		what  string
	}{
		{[]float64{1, 2}, 0, ""},
		{[]float64{1.25, 0}, 0.25, "variable visits is 1.25, not whole"},
		{[]float64{1, 12}, 8, "row cap is 14, outside 1 to 6"},
		{[]float64{-3, 10}, 3, "variable visits is -3, outside 0 to 4"},
		{[]float64{0, -9}, 10, "row cap is -9, outside 1 to 6"},
		{[]float64{math.NaN(), 0}, inf, "variable visits is NaN"},
		{[]float64{1}, inf, "the point has 1 values, the model 2 variables"},
	} {
		if worst, what := m.Violation(c.x); worst != c.worst || what != c.what {
			t.Errorf("%v: got %v %q, want %v %q", c.x, worst, what, c.worst, c.what)
		}
	}
	if got := m.Value([]float64{3, 2}); got != 13 {
		t.Errorf("Value: got %v, want 13", got)
	}
}

// TestColumnsTurnTheRows compares the matrix by columns with a plain table.
func TestColumnsTurnTheRows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		vars, rows := rapid.IntRange(1, 8).Draw(t, "vars"), rapid.IntRange(0, 8).Draw(t, "rows")
		m := New("")
		for range vars {
			m.Real("", 0, 1, 0)
		}
		table := make([][]float64, rows)
		for r := range table {
			m.Row("", 0, 1)
			table[r] = make([]float64, vars)
		}
		for range rapid.IntRange(0, 30).Draw(t, "terms") {
			if rows == 0 {
				break
			}
			r, v := rapid.IntRange(0, rows-1).Draw(t, "r"), rapid.IntRange(0, vars-1).Draw(t, "v")
			c := float64(rapid.IntRange(-3, 3).Draw(t, "c"))
			m.AddTerm(Row(r), Var(v), c)
			table[r][v] += c
		}
		start, index, value := m.Columns()
		for v := range vars {
			if !slices.IsSorted(index[start[v]:start[v+1]]) {
				t.Fatalf("rows of column %d do not rise: %v", v, index)
			}
			for at := start[v]; at < start[v+1]; at++ {
				if value[at] == 0 {
					t.Fatalf("a zero in column %d", v)
				}
				table[index[at]][v] -= value[at]
			}
		}
		for r := range table {
			for v, rest := range table[r] {
				if rest != 0 {
					t.Fatalf("row %d, variable %d differ by %v", r, v, rest)
				}
			}
		}
	})
}

// awkward has every kind of variable, row and name there is.
func awkward() *Model {
	m := New("an awkward model")
	a := m.Bool("late part", 2.5)
	b := m.Integer("b", 0, inf, -1)
	c := m.Integer("b", -inf, -2, 0)
	d := m.Real("", -inf, inf, 0)
	e := m.Real("$e", 0.1, 1e9, 1.0/3)
	f := m.Real("fixed", 4, 4, 0)
	m.Real("idle", 0, inf, 0)
	m.Row("cost", 1, 1, Term{a, 1}, Term{d, 1})
	m.Row("at least", -3.5, inf, Term{b, 1}, Term{c, -1}, Term{e, 2})
	m.Row("", -inf, 7, Term{f, 1}, Term{e, 1})
	m.Row("between", -1, 2, Term{a, 1}, Term{b, -1})
	m.Row("between", 0, 5, Term{d, 1})
	m.Row("free", -inf, inf, Term{a, 1}, Term{b, 1})
	m.SetOffset(100)
	return m
}

func TestWriteMPS(t *testing.T) {
	const want = `NAME an_awkward_model
ROWS
 N cost
 E cost#0
 G at_least
 L r2
 G between
 G between#4
 N free
COLUMNS
 M0 'MARKER' 'INTORG'
 late_part cost 2.5
 late_part cost#0 1
 late_part between 1
 late_part free 1
 b cost -1
 b at_least 1
 b between -1
 b free 1
 b#2 at_least -1
 M1 'MARKER' 'INTEND'
 x3 cost#0 1
 x3 between#4 1
 _e cost 0.3333333333333333
 _e at_least 2
 _e r2 1
 fixed r2 1
 idle cost 0
RHS
 RHS cost -100
 RHS cost#0 1
 RHS at_least -3.5
 RHS r2 7
 RHS between -1
RANGES
 RANGE between 3
 RANGE between#4 5
BOUNDS
 UP BOUND late_part 1
 PL BOUND b
 MI BOUND b#2
 UP BOUND b#2 -2
 FR BOUND x3
 LO BOUND _e 0.1
 UP BOUND _e 1e+09
 FX BOUND fixed 4
ENDATA
`
	var got, again bytes.Buffer
	if err := awkward().WriteMPS(&got); err != nil {
		t.Fatal(err)
	}
	if got.String() != want {
		t.Errorf("got:\n%s", got.String())
	}
	if err := awkward().WriteMPS(&again); err != nil || !bytes.Equal(got.Bytes(), again.Bytes()) {
		t.Errorf("the same model gave other bytes (%v)", err)
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, bytes.ErrTooLarge }

func TestWriteMPSTellsOfAFullDisk(t *testing.T) {
	if err := awkward().WriteMPS(full{}); err == nil || !strings.Contains(err.Error(), "too large") {
		t.Errorf("got %v", err)
	}
}

// BenchmarkBuild builds 100,000 variables with a million terms and turns them
// into columns.
func BenchmarkBuild(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		m := New("")
		terms := make([]Term, 0, 100)
		for range 100_000 {
			m.Bool("", 1)
		}
		for r := range 10_000 {
			terms = terms[:0]
			for k := range 100 {
				terms = append(terms, Term{Var((r*37 + k*911) % 100_000), 1})
			}
			m.Row("", 0, 1, terms...)
		}
		m.Columns()
	}
}
