package cpsat

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestFaults(t *testing.T) {
	other := NewModel("")
	foreign, foreignLit := other.NewInt("far", Range(0, 1)), other.NewBool("away")
	foreignTask := other.Task("elsewhere", foreign, 1)
	for _, c := range []struct {
		name  string
		build func(m *Model, x Int, b Bool)
		want  string
	}{
		{"empty domain", func(m *Model, x Int, b Bool) { m.NewInt("z", Range(2, 1)) }, "variable z: its domain is empty"},
		{"open side", func(m *Model, x Int, b Bool) { m.NewInt("", From(0)) }, "variable v2: 0 to 9223372036854775807"},
		{"name not UTF-8", func(m *Model, x Int, b Bool) { m.NewBool("\xff") }, "not UTF-8"},
		{"constraint name not UTF-8", func(m *Model, x Int, b Bool) { m.Or(b).Named("a\x80") }, "not UTF-8"},
		{"interval name not UTF-8", func(m *Model, x Int, b Bool) { m.Task("\xc3", x, 1) }, "not UTF-8"},
		{"foreign in sum", func(m *Model, x Int, b Bool) { m.Equal(x, foreign) }, "variables of two models"},
		{"foreign alone", func(m *Model, x Int, b Bool) { m.Linear(foreign, Range(0, 1)) }, "another model"},
		{"foreign literal", func(m *Model, x Int, b Bool) { m.Or(b, foreignLit.Not()) }, "variable away belongs to another model"},
		{"foreign enforcement", func(m *Model, x Int, b Bool) { m.Or(b).OnlyIf(foreignLit) }, "another model"},
		{"foreign interval", func(m *Model, x Int, b Bool) { m.NoOverlap(foreignTask) }, "interval elsewhere belongs to another model"},
		{"foreign hint", func(m *Model, x Int, b Bool) { m.Hint(foreign, 1) }, "another model"},
		{"no variable", func(m *Model, x Int, b Bool) { m.Linear(Int{}, Range(0, 1)) }, "of no model"},
		{"no literal", func(m *Model, x Int, b Bool) { m.Or(Bool{}) }, "of no model"},
		{"no interval", func(m *Model, x Int, b Bool) { m.NoOverlap(Interval{}) }, "of no model"},
		{"nil sum", func(m *Model, x Int, b Bool) { m.Linear(nil, Range(0, 1)) }, "nil"},
		{"nil in a sum", func(m *Model, x Int, b Bool) { m.Equal(x, nil) }, "nil"},
		{"twice in at most one", func(m *Model, x Int, b Bool) { m.AtMostOne(b, b) }, "twice"},
		{"twice in exactly one", func(m *Model, x Int, b Bool) { m.ExactlyOne(b, b) }, "twice"},
		{"interval twice", func(m *Model, x Int, b Bool) { i := m.Task("i", x, 1); m.NoOverlap(i, i) }, "twice"},
		{"negative size", func(m *Model, x Int, b Bool) { m.Task("i", x, -1) }, "interval i: its size may be -1"},
		{"two variables in a start", func(m *Model, x Int, b Bool) { m.Task("i", Sum(x, b), 1) }, "interval i: start: 2 variables"},
		{"waiting interval", func(m *Model, x Int, b Bool) { m.Task("i", x, 1); Constraint{m, 0}.OnlyIf(b) }, "made optional when it is added"},
		{"variable that is not there", func(m *Model, x Int, b Bool) { m.Var(-1) }, "variable -1 is not in the model"},
		{"coefficient overflow", func(m *Model, x Int, b Bool) {
			m.Linear(Times(math.MaxInt64, x).AddTerm(1, x), Range(0, 1))
		}, "coefficient overflows"},
		{"product overflow", func(m *Model, x Int, b Bool) { m.Linear(Times(2, Times(math.MaxInt64, x)), Range(0, 1)) }, "coefficient overflows"},
		{"negated overflow", func(m *Model, x Int, b Bool) { m.Linear(Times(math.MinInt64, b.Not()), Range(0, 1)) }, "overflows"},
		{"constant overflow", func(m *Model, x Int, b Bool) { m.Linear(Sum(Const(math.MaxInt64), Const(1)), Range(0, 1)) }, "constant overflows"},
		{"sum overflow", func(m *Model, x Int, b Bool) { m.Linear(Times(half/9+1, x), Range(0, 1)) }, "may leave -2^62 to 2^62, at x"},
		{"objective overflow", func(m *Model, x Int, b Bool) { m.Minimize(Times(half/9+1, x)) }, "objective: its sum"},
		{"objective constant", func(m *Model, x Int, b Bool) { m.Minimize(Sum(x, Const(1<<53+1))) }, "exactly"},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := NewModel("")
			x, b := m.NewInt("x", Range(0, 9)), m.NewBool("b")
			c.build(m, x, b)
			if m.Err() == nil || !strings.Contains(m.Err().Error(), c.want) {
				t.Fatalf("%v, want something with %q", m.Err(), c.want)
			}
			first := m.Err()
			m.NewInt("later", Range(1, 0))
			if m.Err() != first {
				t.Error("a later fault replaced the first")
			}
			if _, err := library(t).Solve(t.Context(), m, Params{}); err != first {
				t.Errorf("Solve says %v", err)
			}
		})
	}
}

// What the package lets pass, the engine must not refuse.
func TestEdgesAreValid(t *testing.T) {
	m := NewModel("")
	m.NewInt("wide", Range(-half/4, half/4))
	far := m.NewInt("far", Range(half, half))
	x, b := m.NewInt("x", Union(Range(math.MaxInt32, math.MaxInt32), Range(-7, -7))), m.NewBool("")
	m.Linear(Times(half, b), UpTo(0))
	m.Linear(b, From(math.MinInt64))
	m.Linear(Sum(b, Const(math.MaxInt64)), UpTo(math.MaxInt64))
	m.Linear(x, Union(UpTo(-7), From(math.MaxInt64)))
	m.Equal(far, Const(half))
	m.And()
	m.AtMostOne()
	m.NoOverlap()
	m.Linear(Sum(), Range(0, 0))
	m.Hint(x, 5) // outside its domain: only a hint
	m.Minimize(Const(3))
	r := solved(t, m, Params{})
	if v, ok := r.Objective(); r.Status != Optimal || v != 3 || !ok {
		t.Errorf("%v, %v", r.Status, v)
	}

	empty := solved(t, NewModel("nothing at all"), Params{})
	if s, ok := empty.Solution(); empty.Status != Optimal || !ok || len(s.values) != 0 {
		t.Errorf("%v", empty.Status)
	}
	for name, build := range map[string]func(*Model){
		"or of nothing":      func(m *Model) { m.Or() },
		"one of nothing":     func(m *Model) { m.ExactlyOne() },
		"nothing = 1":        func(m *Model) { m.Linear(Sum(), Range(1, 1)) },
		"in the empty set":   func(m *Model) { m.Linear(Sum(), Domain{}) },
		"above every number": func(m *Model) { m.Linear(m.NewBool(""), From(math.MaxInt64)) },
		"past the edge":      func(m *Model) { m.Linear(Sum(Const(-9), m.NewBool("")), From(math.MaxInt64-3)) },
	} {
		m := NewModel("")
		build(m)
		if r := solved(t, m, Params{}); r.Status != Infeasible {
			t.Errorf("%s: %v", name, r.Status)
		}
	}
}

// TestBytesAreOrderFree writes the same model with everything that has no
// order given in another order.
func TestBytesAreOrderFree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const n = 6
		coefs := rapid.SliceOfN(rapid.Int64Range(-3, 3), 2*n, 2*n).Draw(t, "coefs")
		build := func(order []int) []byte {
			m := NewModel("")
			var xs []Int
			var bs []Bool
			var is []Interval
			for range n {
				xs = append(xs, m.NewInt("", Range(0, 9)))
				bs = append(bs, m.NewBool(""))
			}
			for i := range n {
				is = append(is, m.Task("", xs[i], 1))
			}
			sum, domain := Sum(), Domain{}
			var literals []Bool
			var tasks []Interval
			for _, i := range order {
				sum.AddTerm(coefs[i], xs[i/2]).AddTerm(coefs[i], bs[i/2].Not())
				domain = Union(Range(coefs[i], coefs[i]), domain)
				if i%2 == 0 {
					literals = append(literals, bs[i/2].Not())
					tasks = append(tasks, is[i/2])
					m.Hint(xs[i/2], int64(i))
				}
			}
			m.Linear(sum, domain).OnlyIf(literals...)
			m.Or(literals...)
			m.ExactlyOne(literals...)
			m.NoOverlap(tasks...)
			m.Minimize(sum)
			b, err := m.encode()
			if err != nil {
				t.Fatal(err)
			}
			return b
		}
		order := make([]int, 2*n)
		for i := range order {
			order[i] = i
		}
		if a, b := build(order), build(rapid.Permutation(order).Draw(t, "order")); !bytes.Equal(a, b) {
			t.Fatalf("\n%x\n%x", a, b)
		}
	})
}

func TestDomain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var parts []Domain
		for range rapid.IntRange(0, 5).Draw(t, "parts") {
			lo := rapid.Int64Range(-20, 20).Draw(t, "lo")
			parts = append(parts, Range(lo, lo+rapid.Int64Range(-1, 6).Draw(t, "width")))
		}
		d := Union(parts...)
		by := rapid.Int64Range(-5, 5).Draw(t, "by")
		shifted := d.shifted(by)
		any := false
		for v := int64(-40); v <= 40; v++ {
			want := false
			for _, p := range parts {
				want = want || p.Contains(v)
			}
			any = any || want
			if d.Contains(v) != want || shifted.Contains(v-by) != want {
				t.Fatalf("%v contains %d: %v, want %v", d, v, d.Contains(v), want)
			}
		}
		if d.Empty() == any {
			t.Fatalf("%v empty: %v", d, d.Empty())
		}
		flat := d.flat()
		for i := 1; i < len(flat); i++ {
			if i%2 == 0 && flat[i] <= flat[i-1]+1 || flat[i] < flat[i-1] {
				t.Fatalf("%v is not sorted, disjoint and apart", flat)
			}
		}
	})
	open := Union(From(5), UpTo(2)).shifted(math.MinInt64 + 1)
	if open.min() != math.MinInt64 || open.max() != math.MaxInt64 {
		t.Errorf("open sides moved: %v", open)
	}
}

func TestDoubledSum(t *testing.T) {
	m := NewModel("")
	x := m.NewInt("x", Range(0, 9))
	e := Sum(x, Const(2))
	e.Add(e)
	terms, _ := e.canon()
	if len(terms) != 1 || terms[0].coef != 2 || e.constant != 4 {
		t.Errorf("%v + %v", terms, e.constant)
	}
}
