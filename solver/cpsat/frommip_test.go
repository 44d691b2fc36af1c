package cpsat

import (
	"math"
	"strings"
	"testing"

	"primaprova/solver/mip"

	"pgregory.net/rapid"
)

var inf = math.Inf(1)

func TestFromMIP(t *testing.T) {
	p := mip.New("small")
	x := p.Integer("x", 0, 10, 0.25)
	y := p.Integer("y", -3.5, 10, -0.1)
	b := p.Bool("b", 1./3)
	p.SetOffset(2.5)
	p.Row("thirds", -inf, 0.7, mip.Term{Var: x, Coef: 1. / 3}, mip.Term{Var: y, Coef: 0.1})
	p.Row("b needs x", 0, inf, mip.Term{Var: x, Coef: 1}, mip.Term{Var: b, Coef: -2})
	p.Row("free", -inf, inf, mip.Term{Var: x, Coef: 1})
	p.Row("some b", 0.5, inf, mip.Term{Var: b, Coef: 1})
	m, err := FromMIP(p)
	if err != nil {
		t.Fatal(err)
	}
	if len(m.vars) != 3 || len(m.constraints) != 4 || m.constraints[1].name != "b needs x" {
		t.Errorf("%d variables, %d constraints, the second %s", len(m.vars), len(m.constraints), m.constraints[1].name)
	}
	r := solved(t, m, Params{})
	s, ok := r.Solution()
	if !ok {
		t.Fatal(r.Status)
	}
	// b = 1, so x = 2, so y ≤ (0.7 - 2/3)·10, which is 1/3, so y = 0.
	if got := s.Point(); got[x] != 2 || got[y] != 0 || got[b] != 1 {
		t.Errorf("%v", got)
	}
	if by, what := p.Violation(s.Point()); by > 0 {
		t.Error(what)
	}
	v, _ := r.Objective()
	bound, _ := r.Bound()
	if want := 2.5 + 0.5 + 1./3; math.Abs(v-want) > 1e-12 || math.Abs(bound-want) > 1e-12 {
		t.Errorf("objective %v, bound %v, want %v", v, bound, want)
	}
}

func TestFromMIPFaults(t *testing.T) {
	for _, c := range []struct {
		name  string
		build func(p *mip.Model)
		want  string
	}{
		{"continuous", func(p *mip.Model) { p.Real("load", 0, 1, 0) }, "variable load is continuous"},
		{"no upper side", func(p *mip.Model) { p.Integer("n", 0, inf, 0) }, "variable n lies in 0 to +Inf"},
		{"no lower side", func(p *mip.Model) { p.Integer("n", -inf, 0, 0) }, "variable n lies in -Inf to 0"},
		{"irrational", func(p *mip.Model) {
			p.Row("root", 0, 1, mip.Term{Var: p.Bool("", 0), Coef: math.Sqrt2})
		}, "row root: no multiplier"},
		{"denominators too unlike", func(p *mip.Model) {
			p.Row("primes", 0, 1, mip.Term{Var: p.Bool("", 0), Coef: 1. / 1009}, mip.Term{Var: p.Bool("", 0), Coef: 1. / 1013})
		}, "row primes: no multiplier"},
		{"cost", func(p *mip.Model) { p.Bool("", math.Pi) }, "objective: no multiplier"},
		{"too large", func(p *mip.Model) {
			p.Row("mass", 0, 1, mip.Term{Var: p.Integer("", 0, 1e12, 0), Coef: 1e9})
		}, "row mass: "},
		{"faulty itself", func(p *mip.Model) { p.Integer("n", 2, 1, 0) }, "no value lies between"},
	} {
		p := mip.New(c.name)
		c.build(p)
		if _, err := FromMIP(p); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want something with %q", c.name, err, c.want)
		}
	}
}

func TestFromMIPOptions(t *testing.T) {
	p := mip.New("overflow")
	x := p.Integer("x", 3, 8, 0)
	over := p.Real("over", 0, 1000, 1)
	p.Row("cap", -inf, 5, mip.Term{Var: x, Coef: 2}, mip.Term{Var: over, Coef: -1})
	m, err := FromMIP(p, WholeReals())
	if err != nil {
		t.Fatal(err)
	}
	if v, ok := solved(t, m, Params{}).Objective(); !ok || v != 1 {
		t.Errorf("%v, want 1", v)
	}

	// No whole number between 0.2 and 0.8: infeasible, not faulty, and the rows
	// keep their numbers.
	p.Integer("gap", 0.2, 0.8, 0)
	m, err = FromMIP(p, WholeReals())
	if err != nil || m.constraints[0].name != "cap" {
		t.Fatal(err)
	}
	if r := solved(t, m, Params{}); r.Status != Infeasible {
		t.Error(r.Status)
	}
}

func TestFraction(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num := rapid.Int64Range(-1e9, 1e9).Draw(t, "num")
		den := rapid.Int64Range(1, largestScale).Draw(t, "den")
		x := float64(num) / float64(den)
		n, d, ok := fraction(x)
		if !ok || float64(n)/float64(d) != x || d > den || d < 1 {
			t.Fatalf("%d/%d gave %d/%d, %v", num, den, n, d, ok)
		}
	})
	for _, x := range []float64{math.Pi, math.Sqrt2, 1e-9, 1e300, 1. / 1000003, math.SmallestNonzeroFloat64} {
		if n, d, ok := fraction(x); ok {
			t.Errorf("%v is %d/%d", x, n, d)
		}
	}
}

func TestSide(t *testing.T) {
	for _, c := range []struct {
		x     float64
		scale int64
		lower bool
		want  int64
	}{
		{0.3, 10, true, 3}, {0.3, 10, false, 3}, // not 3 and a rounding error
		{2.5, 1, true, 3}, {2.5, 1, false, 2}, {-2.5, 1, true, -2}, {-2.5, 1, false, -3},
		{1. / 3, 7, true, 3}, {1. / 3, 7, false, 2},
		{inf, 3, false, math.MaxInt64}, {-inf, 3, true, math.MinInt64},
		{1e300, 3, true, math.MaxInt64}, {-1e300, 3, false, math.MinInt64},
		{math.Pi, 1, true, 4}, {1e-9, 1, true, 1}, {1e-9, 1, false, 0},
	} {
		if got := side(c.x, c.scale, c.lower); got != c.want {
			t.Errorf("side(%v, %d, %v) = %d, want %d", c.x, c.scale, c.lower, got, c.want)
		}
	}
}

// TestFromMIPAgainstAllPoints holds random small programs against going
// through all points with the program's own checks.
func TestFromMIPAgainstAllPoints(t *testing.T) {
	lib := library(t)
	rapid.Check(t, func(t *rapid.T) {
		p := mip.New("random")
		coef := rapid.SampledFrom([]float64{-2, -1, -0.5, -0.1, 0, 1. / 3, 0.25, 1, 3})
		var vars []mip.Var
		for range 4 {
			lo := rapid.Float64Range(-2, 1).Draw(t, "lo")
			vars = append(vars, p.Integer("", lo, lo+3, coef.Draw(t, "cost")))
		}
		for range rapid.IntRange(0, 3).Draw(t, "rows") {
			lo := rapid.SampledFrom([]float64{-inf, -1.5, 0, 0.3}).Draw(t, "lower side")
			hi := rapid.SampledFrom([]float64{inf, 0.7, 1, 2}).Draw(t, "upper side")
			r := p.Row("", lo, hi)
			for _, v := range vars {
				p.AddTerm(r, v, coef.Draw(t, "coef"))
			}
		}
		best, point := inf, make([]float64, len(vars))
		var walk func(i int)
		walk = func(i int) {
			if i < len(point) {
				for point[i] = math.Ceil(p.Lower(vars[i])); point[i] <= p.Upper(vars[i]); point[i]++ {
					walk(i + 1)
				}
				return
			}
			if by, _ := p.Violation(point); by < 1e-9 {
				best = min(best, p.Value(point))
			}
		}
		walk(0)
		m, err := FromMIP(p)
		if err != nil {
			t.Fatal(err)
		}
		r, err := lib.Solve(t.Context(), m, Params{})
		if err != nil {
			t.Fatal(err)
		}
		if math.IsInf(best, 1) {
			if r.Status != Infeasible {
				t.Fatalf("%v, but no point keeps the rows", r.Status)
			}
			return
		}
		s, _ := r.Solution()
		if r.Status != Optimal || math.Abs(p.Value(s.Point())-best) > 1e-9 {
			t.Fatalf("%v %v, best %v", r.Status, s.Point(), best)
		}
		if by, what := p.Violation(s.Point()); by > 1e-9 {
			t.Fatal(what)
		}
		if v, ok := r.Objective(); ok && math.Abs(v-best) > 1e-9 {
			t.Fatalf("objective %v, best %v", v, best)
		}
	})
}
