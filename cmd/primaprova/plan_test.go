package main

import (
	"bytes"
	"os"
	"os/signal"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"primaprova/io/planfile"
	"primaprova/io/seasonfile"
	"primaprova/model"
	"primaprova/solver"
)

// demo copies the demo season, which takes far longer to plan than these tests
// let it, into a folder of its own.
func demo(t *testing.T) (season string) {
	t.Helper()
	engines, err := filepath.Abs("../../.deps/engines")
	if err != nil {
		t.Fatal(err)
	}
	t.Setenv("PRIMAPROVA_ENGINES", engines)
	t.Setenv("PRIMAPROVA_TODAY", before)
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	b, err := os.ReadFile("../../testdata/seasons/demo/season.yaml")
	if err != nil {
		t.Fatal(err)
	}
	season = filepath.Join(t.TempDir(), "season.yaml")
	if err := os.WriteFile(season, b, 0o644); err != nil {
		t.Fatal(err)
	}
	return season
}

// sound wants a plan beside the season that is marked as cut short and breaks
// no rule.
func sound(t *testing.T, season string) {
	t.Helper()
	f, err := seasonfile.Read(season)
	if err != nil {
		t.Fatal(err)
	}
	p, err := planfile.Read(planPath(season))
	if err != nil {
		t.Fatal(err)
	}
	if p.Provenance.Status != model.CutShort {
		t.Errorf("the plan is marked %q, not %q", p.Provenance.Status, model.CutShort)
	}
	if b := f.Season.Audit(p, nil); len(b) > 0 {
		t.Errorf("%d rules are broken, first: %v", len(b), b[0])
	}
}

func TestCtrlCKeepsTheBestPlanSoFar(t *testing.T) {
	season := demo(t)
	// The test hears the signal as well, so that one that comes too early or too
	// late for the command ends nothing.
	heard := make(chan os.Signal, 16)
	signal.Notify(heard, os.Interrupt)
	defer signal.Stop(heard)
	done := make(chan struct{})
	var wait atomic.Int64
	wait.Store(int64(4 * time.Second))
	self, err := os.FindProcess(os.Getpid())
	if err != nil {
		t.Fatal(err)
	}
	go func() {
		for {
			select {
			case <-done:
				return
			case <-time.After(time.Duration(wait.Load())):
				_ = self.Signal(os.Interrupt)
			}
		}
	}()
	var out, errs bytes.Buffer
	code := exitStopped
	for code == exitStopped { // a busy machine had no plan yet: more patience
		code = run([]string{"plan", season, "--budget", "1000"}, strings.NewReader(""), &out, &errs)
		wait.Add(wait.Load())
	}
	close(done)
	if code != exitDone && code != exitLeftOut {
		t.Fatalf("exit code %d: %s", code, errs.String())
	}
	if !strings.Contains(out.String(), "cut short") {
		t.Errorf("nothing says that it was cut short:\n%s", out.String())
	}
	sound(t, season)
}

func TestLimit(t *testing.T) {
	season := demo(t)
	var out, errs bytes.Buffer
	if code := run([]string{"plan", season, "--limit", "1ns"}, strings.NewReader(""), &out, &errs); code != exitStopped {
		t.Errorf("exit code %d, not %d: %s", code, exitStopped, errs.String())
	}
	if _, err := os.Stat(planPath(season)); err == nil || out.Len() > 0 {
		t.Errorf("stopped before a plan, and yet there is something: %s", out.String())
	}
	errs.Reset()
	code := exitStopped
	for limit := 6 * time.Second; code == exitStopped; limit *= 2 { // a busy machine had no plan yet
		code = run([]string{"plan", season, "--budget", "1000", "--limit", limit.String()}, strings.NewReader(""), &out, &errs)
	}
	if code != exitDone && code != exitLeftOut {
		t.Fatalf("exit code %d: %s", code, errs.String())
	}
	sound(t, season)
}

func wish(w model.Wish, value, bound float64) model.WishValue {
	return model.WishValue{Name: w.String(), Value: value, Bound: bound, Unit: w.Unit()}
}

func TestWishWords(t *testing.T) {
	for _, c := range []struct {
		wishes []model.WishValue
		want   string
	}{
		{[]model.WishValue{wish(model.Coverage, 0, 0), wish(model.ReadyBy, 0, 0), wish(model.Closeness, 0, 0), wish(model.Body, 0, 0), wish(model.Spacing, 0, 0)},
			"Everything is placed; every passage is ready by its date; no day or week is heavy; every gap is as preferred."},
		{[]model.WishValue{wish(model.Coverage, 20, 20), wish(model.ReadyBy, 30, 18)},
			"Nothing could be placed that isn't; at most 12 passage-days later than the best possible."},
		{[]model.WishValue{wish(model.Coverage, 20, 12), wish(model.ReadyBy, 5, 5), wish(model.Body, 473.1, 0.08)},
			"At most 8 of 20 points left out could be placed; ready-by as good as can be (5 passage-days); " +
				"at most 474 minutes heavier than the best possible."},
		{nil, ""},
	} {
		p := &model.Plan{Provenance: model.Provenance{Wishes: c.wishes}}
		if got := (&voice{locale: model.DefaultLocale(), width: 80}).wishWords(p); got != c.want {
			t.Errorf("got  %s\nwant %s", got, c.want)
		}
	}
}

func TestProgressLine(t *testing.T) {
	s := solver.Progress{Step: "windows", Done: 0.25}
	if got, want := progressLine(s, 10*time.Second, 0, 80), " 25 %; about 30s left; going over it, some weeks at a time"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	for limit, want := range map[time.Duration]string{0: "  0 %", 30 * time.Second: "  0 %; about 29s left", time.Millisecond: "  0 %; about 0s left"} {
		if got := progressLine(solver.Progress{}, time.Second, limit, 80); got != want {
			t.Errorf("limit %s: got %q, want %q", limit, got, want)
		}
	}
	s.Score, s.Least = [5]float64{3: 11413.4, 4: 1544}, [5]float64{3: 10884}
	for width, want := range map[int]string{
		80:  " 25 %; about 30s left; going over it, some weeks at a time",
		120: " 25 %; about 30s left; going over it, some weeks at a time; body 11413 (least 10884); spacing 1544",
		20:  " 25 %",
	} {
		if got := progressLine(s, 10*time.Second, 0, width); got != want {
			t.Errorf("%d columns: got %q, want %q", width, got, want)
		}
	}
	if got, want := progressLine(s, 10*time.Second, 15*time.Second, 80), " 25 %; about 5s left; going over it, some weeks at a time"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}
