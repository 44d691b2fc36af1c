//go:build elsewhere

package main

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"primaprova/io/planfile"
	"primaprova/io/seasonfile"
)

// These tests hold a build for another system, that is run under another program (under),
// against bin/primaprova of this one. make windows and make arm64 run them.

// a build is how a binary is called, and what it gets besides in its environment.
type build struct {
	words []string
	env   []string
}

func native(t *testing.T) build {
	t.Helper()
	program, err := filepath.Abs("../../bin/primaprova")
	if err != nil {
		t.Fatal(err)
	}
	return build{words: []string{program}}
}

func elsewhere(t *testing.T) build {
	t.Helper()
	words := strings.Fields(os.Getenv(under))
	if len(words) < 2 {
		t.Fatalf("%s: names no program and what runs it; make windows and make arm64 do", under)
	}
	program, err := filepath.Abs(words[len(words)-1])
	if err != nil {
		t.Fatal(err)
	}
	words[len(words)-1] = program
	return build{words: words}
}

// run gives what it says on both streams, and its exit code.
func (b build) run(t *testing.T, dir string, args ...string) (stdout, stderr string, code int) {
	t.Helper()
	words := append(append([]string{}, b.words...), args...)
	c := exec.CommandContext(t.Context(), words[0], words[1:]...)
	c.Dir = dir
	c.Env = append(append(os.Environ(), "PRIMAPROVA_TODAY=2027-01-11", "PRIMAPROVA_ENGINES=", "TZ=UTC", "LC_ALL=C.UTF-8"), b.env...)
	var out, errs bytes.Buffer
	c.Stdout, c.Stderr, c.WaitDelay = &out, &errs, time.Second // Wine's own may hold on to them
	err := c.Run()
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		code = exit.ExitCode()
	} else if err != nil && !errors.Is(err, exec.ErrWaitDelay) {
		t.Fatal(err)
	}
	return out.String(), errs.String(), code
}

// at lays a season into a folder whose name has a blank and letters beyond ASCII.
func at(t *testing.T, season string) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "Übung für Ořešák")
	if err := os.Mkdir(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(season)
	if err == nil {
		err = os.WriteFile(filepath.Join(dir, "season.yaml"), data, 0o644)
	}
	if err != nil {
		t.Fatal(err)
	}
	return dir
}

// bothPlan plans a season with both builds, judges the other one's plan here, and wants both to
// say the same, and every file that is written to be the same, byte for byte.
func bothPlan(t *testing.T, season string, files []string, commands ...[]string) {
	t.Helper()
	here, there := at(t, season), at(t, season)
	for _, args := range commands {
		outHere, errHere, codeHere := native(t).run(t, here, args...)
		outThere, errThere, codeThere := elsewhere(t).run(t, there, args...)
		if codeHere != codeThere || outHere != outThere || errHere != errThere {
			t.Errorf("%q: here %d\n%s%s\nthere %d\n%s%s", args, codeHere, outHere, errHere, codeThere, outThere, errThere)
		}
	}
	auditedIn(t, there)
	for _, name := range append(files, "season.plan.json") {
		a, errA := os.ReadFile(filepath.Join(here, name))
		b, errB := os.ReadFile(filepath.Join(there, name))
		if errA != nil || errB != nil || len(a) == 0 || !bytes.Equal(a, b) {
			t.Errorf("%s: %d bytes here, %d there, not the same (%v, %v)", name, len(a), len(b), errA, errB)
		}
	}
}

// auditedIn judges the plan in a folder by the rules, here.
func auditedIn(t *testing.T, dir string) {
	t.Helper()
	f, err := seasonfile.Read(filepath.Join(dir, "season.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	p, err := planfile.Read(filepath.Join(dir, "season.plan.json"))
	if err != nil {
		t.Fatal(err)
	}
	if faults := f.Season.Audit(p, nil); len(faults) > 0 {
		t.Errorf("the plan breaks rules: %v", faults)
	}
}

func TestSmallElsewhere(t *testing.T) {
	bothPlan(t, "../../testdata/seasons/small.yaml", nil,
		[]string{"plan"}, []string{"show", "week", "--on", "2027-03-08", "--width", "80"}, []string{"show", "chances"})
}

func TestDemoElsewhere(t *testing.T) {
	bothPlan(t, "../../testdata/seasons/demo/season.yaml", []string{"s.ics", "s.csv", "s.svg", "s.html", "s.pdf"},
		[]string{"plan", "--budget", "1"},
		[]string{"export", "--ics", "s.ics", "--csv", "s.csv", "--chart", "s.svg", "--page", "s.html"},
		[]string{"export", "--wall", "s.pdf", "--sheets", "season,months"},
		[]string{"show", "--json"}, []string{"show", "load"})
}
