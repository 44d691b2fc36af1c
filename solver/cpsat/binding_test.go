package cpsat

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"
)

// world is a random model with the same constraints written a second time, as
// predicates on a point: the engine's answer is held against all points. A
// constraint under a wrong field number would be ignored by the engine, and
// found here.
type world struct {
	t     *rapid.T
	m     *Model
	vars  []Int
	bools []Bool // the last few of vars
	rules []func(p []int64) bool
}

func newWorld(t *rapid.T) *world {
	w := &world{t: t, m: NewModel("world")}
	for i := range 3 {
		var d Domain
		if rapid.Bool().Draw(t, "holes") {
			d = among(rapid.SliceOfN(rapid.Int64Range(-2, 5), 1, 4).Draw(t, "values"))
		} else {
			lo := rapid.Int64Range(-2, 3).Draw(t, "lo")
			d = Range(lo, lo+rapid.Int64Range(0, 4).Draw(t, "width"))
		}
		w.vars = append(w.vars, w.m.NewInt(fmt.Sprint("x", i), d))
	}
	for i := range 3 {
		b := w.m.NewBool(fmt.Sprint("b", i))
		w.bools = append(w.bools, b)
		w.vars = append(w.vars, b.Int())
	}
	return w
}

// among is the set of the given numbers.
func among(values []int64) (d Domain) {
	for _, v := range values {
		d = Union(d, Range(v, v))
	}
	return d
}

// sumOf is a sum and how to compute it without the package's help.
type sumOf struct {
	e  Linear
	at func(p []int64) int64
}

func (w *world) literal() (Bool, func(p []int64) bool) {
	i := rapid.IntRange(0, len(w.bools)-1).Draw(w.t, "literal")
	at := len(w.vars) - len(w.bools) + i
	if rapid.Bool().Draw(w.t, "negated") {
		return w.bools[i].Not(), func(p []int64) bool { return p[at] == 0 }
	}
	return w.bools[i], func(p []int64) bool { return p[at] == 1 }
}

// literals draws some literals, no variable twice.
func (w *world) literals() ([]Bool, []func(p []int64) bool) {
	var bs []Bool
	var fs []func(p []int64) bool
	used := map[Int]bool{}
	for range rapid.SampledFrom([]int{6, 6, 2, 0}).Draw(w.t, "literals") {
		if b, f := w.literal(); !used[b.Int()] {
			used[b.Int()] = true
			bs, fs = append(bs, b), append(fs, f)
		}
	}
	return bs, fs
}

func (w *world) sum() sumOf {
	constant := rapid.Int64Range(-3, 3).Draw(w.t, "constant")
	e := Sum(Const(constant))
	ats := []func(p []int64) int64{func([]int64) int64 { return constant }}
	for range rapid.IntRange(0, 4).Draw(w.t, "terms") {
		coef := rapid.Int64Range(-3, 3).Draw(w.t, "coef")
		if rapid.Bool().Draw(w.t, "on a literal") {
			b, f := w.literal()
			e.AddTerm(coef, b)
			ats = append(ats, func(p []int64) int64 {
				if f(p) {
					return coef
				}
				return 0
			})
			continue
		}
		i := rapid.IntRange(0, len(w.vars)-1).Draw(w.t, "variable")
		e.AddTerm(coef, w.vars[i])
		ats = append(ats, func(p []int64) int64 { return coef * p[i] })
	}
	return sumOf{e, func(p []int64) (total int64) {
		for _, at := range ats {
			total += at(p)
		}
		return total
	}}
}

// affine draws a·x + c or c.
func (w *world) affine() sumOf {
	c := rapid.Int64Range(0, 3).Draw(w.t, "constant")
	if rapid.Bool().Draw(w.t, "constant only") {
		return sumOf{Const(c), func([]int64) int64 { return c }}
	}
	i := rapid.IntRange(0, len(w.vars)-1).Draw(w.t, "variable")
	a := rapid.SampledFrom([]int64{-1, 1, 2}).Draw(w.t, "coef")
	return sumOf{Sum(Const(c), Times(a, w.vars[i])), func(p []int64) int64 { return a*p[i] + c }}
}

// amount draws b·k + c, never negative.
func (w *world) amount() sumOf {
	c := rapid.Int64Range(0, 2).Draw(w.t, "constant")
	k := rapid.Int64Range(0, 2).Draw(w.t, "coef")
	b, f := w.literal()
	return sumOf{Sum(Const(c), Times(k, b)), func(p []int64) int64 {
		if f(p) {
			return k + c
		}
		return c
	}}
}

type stretch struct {
	i                Interval
	start, size, end sumOf
	present          func(p []int64) bool
}

func plusOf(a, b sumOf) sumOf {
	return sumOf{Sum(a.e, b.e), func(p []int64) int64 { return a.at(p) + b.at(p) }}
}

// interval draws one.
func (w *world) interval() stretch {
	var s stretch
	fixed := func() sumOf {
		c := rapid.Int64Range(0, 3).Draw(w.t, "fixed")
		return sumOf{Const(c), func([]int64) int64 { return c }}
	}
	switch rapid.SampledFrom([]string{"size", "start", "nothing"}).Draw(w.t, "what is fixed") {
	case "size":
		s.start, s.size = w.affine(), fixed()
		s.end = plusOf(s.start, s.size)
	case "start":
		s.start, s.size = fixed(), w.amount()
		s.end = plusOf(s.start, s.size)
	case "nothing":
		s.start, s.size, s.end = w.affine(), w.affine(), w.affine() // a size may be negative, where the interval is not there
	}
	name := fmt.Sprint("i", len(w.m.constraints))
	least, _, _ := w.m.reach(w.m.affine("size", s.size.e))
	if least < 0 || rapid.Bool().Draw(w.t, "optional") {
		b, f := w.literal()
		s.i, s.present = w.m.OptionalInterval(name, s.start.e, s.size.e, s.end.e, b), f
	} else {
		s.i, s.present = w.m.Interval(name, s.start.e, s.size.e, s.end.e), func([]int64) bool { return true }
	}
	w.rules = append(w.rules, func(p []int64) bool {
		return !s.present(p) || s.size.at(p) >= 0 && s.start.at(p)+s.size.at(p) == s.end.at(p)
	})
	return s
}

func count(fs []func(p []int64) bool, p []int64) (n int) {
	for _, f := range fs {
		if f(p) {
			n++
		}
	}
	return n
}

// kinds adds one constraint each, and returns what it means.
var kinds = map[string]func(w *world) (Constraint, func(p []int64) bool){
	"or": func(w *world) (Constraint, func(p []int64) bool) {
		bs, fs := w.literals()
		return w.m.Or(bs...), func(p []int64) bool { return count(fs, p) >= 1 }
	},
	"and": func(w *world) (Constraint, func(p []int64) bool) {
		bs, fs := w.literals()
		return w.m.And(bs...), func(p []int64) bool { return count(fs, p) == len(fs) }
	},
	"implies": func(w *world) (Constraint, func(p []int64) bool) {
		b, f := w.literal()
		bs, fs := w.literals()
		return w.m.Implies(b, bs...), func(p []int64) bool { return !f(p) || count(fs, p) == len(fs) }
	},
	"at most one": func(w *world) (Constraint, func(p []int64) bool) {
		bs, fs := w.literals()
		return w.m.AtMostOne(bs...), func(p []int64) bool { return count(fs, p) <= 1 }
	},
	"exactly one": func(w *world) (Constraint, func(p []int64) bool) {
		bs, fs := w.literals()
		return w.m.ExactlyOne(bs...), func(p []int64) bool { return count(fs, p) == 1 }
	},
	"linear": func(w *world) (Constraint, func(p []int64) bool) {
		s := w.sum()
		values := rapid.SliceOfN(rapid.Int64Range(-9, 9), 0, 4).Draw(w.t, "values")
		floor := rapid.Int64Range(0, 20).Draw(w.t, "floor")
		return w.m.Linear(s.e, Union(among(values), From(floor))), func(p []int64) bool {
			for _, v := range values {
				if v == s.at(p) {
					return true
				}
			}
			return s.at(p) >= floor
		}
	},
	"equal": func(w *world) (Constraint, func(p []int64) bool) {
		a, b := w.sum(), w.sum()
		return w.m.Equal(a.e, b.e), func(p []int64) bool { return a.at(p) == b.at(p) }
	},
	"at least": func(w *world) (Constraint, func(p []int64) bool) {
		a, b := w.sum(), w.sum()
		return w.m.AtLeast(a.e, b.e), func(p []int64) bool { return a.at(p) >= b.at(p) }
	},
	"no overlap": func(w *world) (Constraint, func(p []int64) bool) {
		ss := []stretch{w.interval(), w.interval(), w.interval()}
		return w.m.NoOverlap(ss[0].i, ss[1].i, ss[2].i), func(p []int64) bool {
			for i, a := range ss {
				for _, b := range ss[:i] {
					if a.present(p) && b.present(p) && a.start.at(p) < b.end.at(p) && b.start.at(p) < a.end.at(p) {
						return false
					}
				}
			}
			return true
		}
	},
}

// best goes through all points and returns the best objective, if any point
// keeps all rules.
func (w *world) best(objective sumOf) (best int64, found bool) {
	p := make([]int64, len(w.vars))
	var walk func(i int)
	walk = func(i int) {
		if i < len(p) {
			for _, s := range w.m.vars[w.vars[i].index].domain.ranges {
				for p[i] = s.lo; p[i] <= s.hi; p[i]++ {
					walk(i + 1)
				}
			}
			return
		}
		if w.kept(p) && (!found || objective.at(p) < best) {
			best, found = objective.at(p), true
		}
	}
	walk(0)
	return best, found
}

func (w *world) kept(p []int64) bool {
	for _, rule := range w.rules {
		if !rule(p) {
			return false
		}
	}
	return true
}

// TestEveryKindBinds holds one kind of constraint at a time, sometimes waiting
// for a literal, and sometimes with a second one, against all points.
func TestEveryKindBinds(t *testing.T) {
	lib := library(t)
	for name, add := range kinds {
		t.Run(name, func(t *testing.T) {
			var cut, kept int
			check := func(t *rapid.T) {
				w := newWorld(t)
				for range rapid.IntRange(1, 3).Draw(t, "how many") {
					c, rule := add(w)
					if rapid.Bool().Draw(t, "waits") {
						b, f := w.literal()
						c.OnlyIf(b)
						its := rule
						rule = func(p []int64) bool { return !f(p) || its(p) }
					}
					w.rules = append(w.rules, rule)
				}
				objective := w.sum()
				for i, b := range w.bools { // so that literals matter
					c := rapid.Int64Range(-5, 5).Draw(t, "weight")
					objective = plusOf(objective, sumOf{Times(c, b), func(p []int64) int64 { return c * p[3+i] }})
				}
				w.m.Minimize(objective.e)

				best, found := w.best(objective)
				r, err := lib.Solve(t.Context(), w.m, Params{})
				if err != nil {
					t.Fatal(err)
				}
				if !found {
					if r.Status != Infeasible {
						t.Fatalf("%v, but no point keeps the rules", r.Status)
					}
					cut++
					return
				}
				s, ok := r.Solution()
				value, valued := r.Objective()
				bound, bounded := r.Bound()
				if r.Status != Optimal || !ok || !valued || !bounded {
					t.Fatalf("%v, but the best is %d", r.Status, best)
				}
				if !w.kept(s.values) {
					t.Fatalf("%v breaks a rule", s.values)
				}
				if value != float64(best) || bound != float64(best) {
					t.Fatalf("%v proven %v, but the best is %d", value, bound, best)
				}
				if got := objective.at(s.values); got != best {
					t.Fatalf("the solution is worth %d, but the best is %d", got, best)
				}
				w.rules, kept = nil, kept+1
				if free, _ := w.best(objective); free != best {
					cut++ // the constraint cost something
				}
			}
			for range 3 {
				rapid.Check(t, check)
			}
			// Were the constraint idle everywhere, all the above would prove little.
			if cut < 10 || kept < 10 {
				t.Errorf("the constraint bound %d times and left %d solutions: the draw is poor", cut, kept)
			}
		})
	}
}
