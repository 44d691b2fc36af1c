package highs

import (
	"math"
	"math/rand/v2"
	"path/filepath"
	"runtime"
	"testing"

	"primaprova/solver/mip"
	"primaprova/solver/ortools"
)

var inf = math.Inf(1)

// engines returns the folder the library lies in, with others beside it.
func engines(t testing.TB) string {
	t.Helper()
	path, err := ortools.Locate(t.Context(), ortools.HiGHS, "")
	if err != nil {
		t.Fatal(err)
	}
	return filepath.Dir(path)
}

func fileName() string {
	if runtime.GOOS == "darwin" {
		return "libhighs.1.dylib"
	}
	return "libhighs.so.1"
}

func library(t testing.TB) *Library {
	t.Helper()
	l, err := Open(filepath.Join(engines(t), fileName()))
	if err != nil {
		t.Fatalf("%v\nrun \"make test\", which fetches the engines", err)
	}
	return l
}

func solve(t testing.TB, m *mip.Model, o Options) Result {
	t.Helper()
	r, err := library(t).Solve(t.Context(), m, o, nil)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func near(a, b float64) bool {
	return a == b || math.Abs(a-b) <= 1e-6*(1+math.Abs(b))
}

// workshop is a first example of linear programming: two products, three
// machines. Hillier and Lieberman, Introduction to Operations Research, ch. 3;
// from memory: 2 and 6 of them bring 36; an hour of the machines is worth 0, 3/2
// and 1.
func workshop() *mip.Model {
	m := mip.New("workshop")
	doors, windows := m.Real("doors", 0, inf, -3), m.Real("windows", 0, inf, -5)
	m.Row("first", -inf, 4, mip.Term{Var: doors, Coef: 1})
	m.Row("second", -inf, 12, mip.Term{Var: windows, Coef: 2})
	m.Row("third", -inf, 18, mip.Term{Var: doors, Coef: 3}, mip.Term{Var: windows, Coef: 2})
	return m
}

// knapsacks is a program of n items and several capacities that takes the
// engine long to prove. Weights are drawn, the seed is fixed.
func knapsacks(n, rows int) *mip.Model {
	rng := rand.New(rand.NewPCG(7, 11))
	m := mip.New("knapsacks")
	worth := make([]float64, n)
	terms := make([][]mip.Term, rows)
	total := make([]float64, rows)
	for v := range n {
		for r := range rows {
			w := float64(100 + rng.IntN(900))
			terms[r] = append(terms[r], mip.Term{Var: mip.Var(v), Coef: w})
			total[r] += w
			worth[v] += w / float64(rows)
		}
		m.Bool("", -math.Round(worth[v]+float64(rng.IntN(500))))
	}
	for r := range rows {
		m.Row("", -inf, math.Round(total[r]/2), terms[r]...)
	}
	return m
}
