package solver

import (
	"bufio"
	"context"
	"fmt"
	"os"
	"strings"
	"testing"

	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver/run"
	"primaprova/solver/tiny"
)

// exactly is a line of testdata/exact.txt: an invented season in which all can be placed in
// time, the least body of such a plan, and the least spacing at a body. HiGHS proved both
// on the written-out program (docs/tried.md).
type exactly struct {
	size invent.Size
	body float64    // minutes
	at   [2]float64 // minutes of body
	days [2]float64 // of spacing at least, there
}

func exactSeasons(t *testing.T) (out []exactly) {
	f, err := os.Open("testdata/exact.txt")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for lines := bufio.NewScanner(f); lines.Scan(); {
		if strings.HasPrefix(lines.Text(), "#") {
			continue
		}
		e := exactly{size: invent.Grown(6, 0, true, 0)}
		e.size.Parts, e.size.Off = 3, 0
		if _, err := fmt.Sscan(lines.Text(), &e.size.Seed, &e.size.Passages, &e.size.Tightness, &e.body, &e.at[0], &e.days[0], &e.at[1], &e.days[1]); err != nil {
			t.Fatalf("%q: %v", lines.Text(), err)
		}
		out = append(out, e)
	}
	return out
}

// Plans of columns are no better, and what is proven of them is no more, than the best plan of
// the written-out program, which they know nothing of; the log says how far each is from it.
func TestColumnsAgainstTheExact(t *testing.T) {
	proven := 0
	p := run.Tuned
	p.Off = []string{run.Compact, run.Hours}
	for _, e := range exactSeasons(t) {
		plan, err := Solve(context.Background(), invent.Season(e.size), Options{Engine: tiny.HiGHS(t), Tolerance: model.DefaultTolerance, Work: 0.3, Params: &p})
		if err != nil {
			t.Fatal(err)
		}
		w := plan.Provenance.Wishes
		body, spacing := w[model.Body], w[model.Spacing]
		if w[model.Coverage].Value > 0 || w[model.ReadyBy].Value > 0 {
			t.Errorf("%+v: %v", e.size, w)
			continue
		}
		if body.Bound > e.body || body.Value < e.body {
			t.Errorf("%+v: body %v, bound %v; exactly %v", e.size, body.Value, body.Bound, e.body)
		}
		limit := max(body.Value, body.Bound*float64(100+body.Tolerance)/100) // under which spacing is bounded
		for i, at := range e.at {
			if at <= limit && spacing.Bound > e.days[i] || body.Value <= at && spacing.Value < e.days[i] {
				t.Errorf("%+v: spacing %v, bound %v, at body %v; exactly %v at %v", e.size, spacing.Value, spacing.Bound, body.Value, e.days[i], at)
			}
		}
		if body.Bound > 0 || spacing.Bound > 0 {
			proven++
		}
		t.Logf("season %d: body %v, exactly %v, bound %v; spacing %v, exactly %v at %v and %v at %v, bound %v", e.size.Seed,
			body.Value, e.body, body.Bound, spacing.Value, e.days[0], e.at[0], e.days[1], e.at[1], spacing.Bound)
	}
	if proven < 3 {
		t.Errorf("something is proven of %d seasons only", proven)
	}
}
