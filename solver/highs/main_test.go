package highs

import (
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"primaprova/solver/mip"
)

var inf = math.Inf(1)

// engines returns the folder with the shared libraries: PRIMAPROVA_ENGINES, or
// .deps/engines in the module's folder.
func engines(t testing.TB) string {
	t.Helper()
	if dir := os.Getenv("PRIMAPROVA_ENGINES"); dir != "" {
		return dir
	}
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return filepath.Join(dir, ".deps", "engines")
		}
		up := filepath.Dir(dir)
		if up == dir {
			t.Fatal("no go.mod above the test; set PRIMAPROVA_ENGINES to the engines' folder")
		}
		dir = up
	}
}

func library(t testing.TB) *Library {
	t.Helper()
	name := "libhighs.so.1"
	if runtime.GOOS == "darwin" {
		name = "libhighs.1.dylib"
	}
	l, err := Open(filepath.Join(engines(t), name))
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
