package solver

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver/compact"
	"primaprova/solver/construct"
	"primaprova/solver/cpsat"
	"primaprova/solver/highs"
	"primaprova/solver/instance"
	"primaprova/solver/tiny"
)

// TestOtherSolversAgree: the season's program has the same optimum, in its
// weighted sum and wish by wish, by HiGHS and by CP-SAT through our bindings and
// by CBC, from its own binary, on the file that is written for other solvers.
func TestOtherSolversAgree(t *testing.T) {
	engines := map[string]compact.WholeEngine{
		"HiGHS":  compact.ByHighs(tiny.HiGHS(t), highs.Options{}),
		"CP-SAT": compact.ByCPSAT(tiny.CPSAT(t), cpsat.Params{}),
	}
	var files []string
	var scores []instance.Score
	seasons := tiny.FewWeeks()
	var sums []float64
	for i, c := range seasons {
		p := c.Problem()
		var best instance.Score
		for name, engine := range engines {
			st, proven, err := compact.Solve(context.Background(), p, engine, construct.Greedy(p), model.Tolerance{})
			if err != nil {
				t.Fatal(err)
			}
			if bound := proven.All(st.Score()); st.Score() != bound {
				t.Errorf("season %d: %s proves %v of %v", i, name, bound, st.Score())
			}
			if best == (instance.Score{}) {
				best = st.Score()
			} else if st.Score() != best {
				t.Errorf("season %d: %s finds %v, another engine %v", i, name, st.Score(), best)
			}
		}
		t.Logf("season %d: %v", i, best)
		scores = append(scores, best)
		sums = append(sums, weightedOptimum(t, p, engines))
		files = append(files, filepath.Join(t.TempDir(), "program.mps"))
		var mps bytes.Buffer
		if _, _, err := compact.WriteProgram(&mps, c.Season, Options{History: c.History, Standing: c.Standing}); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(files[i], mps.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for i, answer := range askCBC(t, files) {
		if math.Abs(answer.Weighted-sums[i]) > 1e-6*max(1, sums[i]) {
			t.Errorf("season %d: the weighted sum is %v, CBC says %v", i, sums[i], answer.Weighted)
		}
		c := seasons[i]
		plan, err := compact.FromPoint(c.Season, Options{History: c.History, Standing: c.Standing}, answer.Point)
		if err != nil {
			t.Errorf("season %d: CBC's point: %v", i, err)
			continue
		}
		sum := 0.0
		for j, v := range c.Season.Measure(plan, c.History, c.Standing) {
			if model.Wish(j) == model.Body {
				v *= 100
			}
			sum += compact.OutsideWeights[j] * v
		}
		if math.Abs(sum-sums[i]) > 1e-6*max(1, sums[i]) {
			t.Errorf("season %d: CBC's plan is worth %v, the optimum is %v", i, sum, sums[i])
		}
		for j := range model.Wishes {
			if got := int64(answer.Wishes[j][1].(float64)); got != scores[i][j] {
				t.Errorf("season %d: %v is %d, CBC says %d", i, model.Wish(j), scores[i][j], got)
			}
		}
	}
}

// TestSolveWritten: the whole program gives an audited plan whose bounds are its
// values; stopped early, the greedy plan that it began with; and a point that
// is none gives an error.
func TestSolveWritten(t *testing.T) {
	s := tiny.FewWeeks()[2].Season
	o := Options{Engine: tiny.HiGHS(t)}
	plan, err := compact.SolveWritten(t.Context(), s, o, compact.ByHighs(o.Engine, highs.Options{}))
	if err != nil {
		t.Fatal(err)
	}
	if plan.Provenance.Status != model.Proven {
		t.Errorf("the plan is %s: %v", plan.Provenance.Status, plan.Provenance.Wishes)
	}
	ended, end := context.WithCancel(t.Context())
	end()
	short, err := compact.SolveWritten(ended, s, o, compact.ByHighs(o.Engine, highs.Options{}))
	if err != nil {
		t.Fatal(err)
	}
	quick, err := Greedy(s, o)
	if err != nil {
		t.Fatal(err)
	}
	if short.Provenance.Status != model.CutShort || s.Measure(short, nil, nil) != s.Measure(quick, nil, nil) {
		t.Errorf("stopped before it began, it gives %v, %v", short.Provenance.Status, short.Provenance.Wishes)
	}
	w := compact.Write(instance.New(s, nil, nil))
	x := w.Start(instance.NewSolution(w.P))
	x[0] = 0.5
	if _, err := compact.FromPoint(s, o, x); err == nil || !strings.Contains(err.Error(), "by[p1/w1/listening,") {
		t.Errorf("half a session is a plan: %v", err)
	}
}

// TestWriteProgram: the same season gives the same bytes, in which a visit is
// found by its passage, number and date.
func TestWriteProgram(t *testing.T) {
	s := invent.Season(invent.Size{Weeks: 4, Programmes: 2, Parts: 2, Passages: 3, Lead: 18, Tightness: 0.8, Seed: 1})
	var first, again bytes.Buffer
	if _, _, err := compact.WriteProgram(&first, s, Options{}); err != nil {
		t.Fatal(err)
	}
	if _, _, err := compact.WriteProgram(&again, s, Options{}); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(first.Bytes(), again.Bytes()) {
		t.Error("the same season gives two programs")
	}
	passage := s.Work(nil)[0].Passages[0].Name
	for _, want := range []string{
		"\n L gap[" + passage + ",2,2027-01-2",
		"\n by[" + passage + ",2,2027-01-2",
		"\n L cap[2027-01-2",
		"\n wish[body] cost 0.1\n",
	} {
		if !strings.Contains(first.String(), want) {
			t.Errorf("the program lacks %q", want)
		}
	}
}

// weightedOptimum gives the optimum of the objective that outside solvers see.
func weightedOptimum(t *testing.T, p *instance.Instance, engines map[string]compact.WholeEngine) float64 {
	t.Helper()
	best := math.NaN()
	for name, engine := range engines {
		w := compact.Write(p)
		x, _, err := engine(context.Background(), model.Coverage, w.M, nil)
		if err != nil || x == nil {
			t.Fatalf("%s: no optimum: %v", name, err)
		}
		if v := w.M.Value(x); math.IsNaN(best) {
			best = v
		} else if math.Abs(v-best) > 1e-6*max(1, best) {
			t.Errorf("%s finds %v, another engine %v", name, v, best)
		}
	}
	return best
}

// cbcAnswer is what testdata/python/programs.py says of one program.
type cbcAnswer struct {
	Weighted float64
	Point    []float64
	Wishes   [][2]any
}

func askCBC(t *testing.T, files []string) []cbcAnswer {
	t.Helper()
	references, err := filepath.Abs(filepath.Join("..", ".deps", "python"))
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("python3", append([]string{filepath.Join("..", "testdata", "python", "programs.py")}, files...)...)
	cmd.Env = append(os.Environ(), "PYTHONPATH="+references)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%v: %s\nrun \"make test\", which fetches what is compared with", err, stderr.String())
	}
	var answers []cbcAnswer
	for d := json.NewDecoder(bytes.NewReader(out)); d.More(); {
		var a cbcAnswer
		if err := d.Decode(&a); err != nil {
			t.Fatal(err)
		}
		answers = append(answers, a)
	}
	if len(answers) != len(files) {
		t.Fatalf("%d answers for %d programs", len(answers), len(files))
	}
	return answers
}
