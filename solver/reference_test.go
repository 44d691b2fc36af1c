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
	"primaprova/solver/cpsat"
	"primaprova/solver/highs"
)

// TestOtherSolversAgree: the season's program has the same optimum, in its
// weighted sum and wish by wish, by HiGHS and by CP-SAT through our bindings and
// by CBC, from its own binary, on the file that is written for other solvers.
func TestOtherSolversAgree(t *testing.T) {
	engines := map[string]WholeEngine{
		"HiGHS":  ByHighs(highsLibrary(t), highs.Options{}),
		"CP-SAT": ByCPSAT(cpsatLibrary(t), cpsat.Params{}),
	}
	var files []string
	var scores []score
	seasons := fewWeeks()
	var sums []float64
	for i, c := range seasons {
		p := c.problem()
		var best score
		for name, engine := range engines {
			st, proven, err := p.solveWritten(context.Background(), engine, greedy(p), model.Tolerance{})
			if err != nil {
				t.Fatal(err)
			}
			if bound := proven.all(st.score()); st.score() != bound {
				t.Errorf("season %d: %s proves %v of %v", i, name, bound, st.score())
			}
			if best == (score{}) {
				best = st.score()
			} else if st.score() != best {
				t.Errorf("season %d: %s finds %v, another engine %v", i, name, st.score(), best)
			}
		}
		t.Logf("season %d: %v", i, best)
		scores = append(scores, best)
		sums = append(sums, weightedOptimum(t, p, engines))
		files = append(files, filepath.Join(t.TempDir(), "program.mps"))
		var mps bytes.Buffer
		if _, _, err := WriteProgram(&mps, c.season, Options{History: c.history, Standing: c.standing}); err != nil {
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
		plan, err := FromPoint(c.season, Options{History: c.history, Standing: c.standing}, answer.Point)
		if err != nil {
			t.Errorf("season %d: CBC's point: %v", i, err)
			continue
		}
		sum := 0.0
		for j, v := range c.season.Measure(plan, c.history, c.standing) {
			if model.Wish(j) == model.Body {
				v *= 100
			}
			sum += outsideWeights[j] * v
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
	s := fewWeeks()[2].season
	o := Options{Engine: highsLibrary(t)}
	plan, err := SolveWritten(t.Context(), s, o, ByHighs(o.Engine, highs.Options{}))
	if err != nil {
		t.Fatal(err)
	}
	if plan.Provenance.Status != model.Proven {
		t.Errorf("the plan is %s: %v", plan.Provenance.Status, plan.Provenance.Wishes)
	}
	ended, end := context.WithCancel(t.Context())
	end()
	short, err := SolveWritten(ended, s, o, ByHighs(o.Engine, highs.Options{}))
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
	w := build(s, nil, nil).writeOut()
	x := w.start(newState(w.p))
	x[0] = 0.5
	if _, err := FromPoint(s, o, x); err == nil || !strings.Contains(err.Error(), "by[p1/w1/listening,") {
		t.Errorf("half a session is a plan: %v", err)
	}
}

// TestWriteProgram: the same season gives the same bytes, in which a visit is
// found by its passage, number and date.
func TestWriteProgram(t *testing.T) {
	s := invent.Season(invent.Size{Weeks: 4, Programmes: 2, Parts: 2, Passages: 3, Lead: 18, Tightness: 0.8, Seed: 1})
	var first, again bytes.Buffer
	if _, _, err := WriteProgram(&first, s, Options{}); err != nil {
		t.Fatal(err)
	}
	if _, _, err := WriteProgram(&again, s, Options{}); err != nil {
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
func weightedOptimum(t *testing.T, p *problem, engines map[string]WholeEngine) float64 {
	t.Helper()
	best := math.NaN()
	for name, engine := range engines {
		w := p.writeOut()
		x, _, err := engine(context.Background(), w.m, nil)
		if err != nil || x == nil {
			t.Fatalf("%s: no optimum: %v", name, err)
		}
		if v := w.m.Value(x); math.IsNaN(best) {
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
