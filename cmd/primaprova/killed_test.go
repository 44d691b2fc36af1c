package main

import (
	"bytes"
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"primaprova/io/planfile"
	"primaprova/io/recordfile"
	"primaprova/io/seasonfile"
)

// kills is how many times each of the three commands is killed; KILLS in the
// environment sets how many times all together.
func kills(t *testing.T) int {
	if text := os.Getenv("KILLS"); text != "" {
		n, err := strconv.Atoi(text)
		if err != nil || n < 3 {
			t.Fatalf("KILLS: %q is not a number from 3", text)
		}
		return (n + 2) / 3
	}
	return 10
}

// folder is what the files of a season's folder hold, by name.
type folder map[string]string

func (f folder) lay(t *testing.T) (dir string) {
	t.Helper()
	dir = t.TempDir()
	for name, text := range f {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// lie reads a folder. What a process that was killed left unfinished lies
// under another name, with a dot before it, and is no file of the season.
func lie(t *testing.T, dir string) folder {
	t.Helper()
	list, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	out := folder{}
	for _, e := range list {
		if strings.HasPrefix(e.Name(), ".") {
			continue
		}
		b, err := os.ReadFile(filepath.Join(dir, e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		out[e.Name()] = string(b)
	}
	return out
}

func begin(t *testing.T, dir string, args ...string) (*exec.Cmd, *bytes.Buffer) {
	t.Helper()
	engines, err := filepath.Abs("../../.deps/engines")
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command("primaprova", args...) // this test itself, see TestMain
	var b bytes.Buffer
	c.Dir, c.Stderr = dir, &b
	c.Env = append(os.Environ(), "PRIMAPROVA_ENGINES="+engines, "XDG_CONFIG_HOME="+dir)
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	return c, &b
}

// does runs a command to its end.
func does(t *testing.T, dir string, args ...string) {
	t.Helper()
	c, b := begin(t, dir, args...)
	if err := c.Wait(); err != nil && c.ProcessState.ExitCode() != exitLeftOut {
		t.Fatalf("%v: %v: %s", args, err, b)
	}
}

// TestKilledAnywhere kills commands at random moments of their run (kill -9).
// Season file, plan and record must each be wholly the old or wholly the new
// one, a plan never newer than its season, and the same command said again must
// end where it would have ended undisturbed.
func TestKilledAnywhere(t *testing.T) {
	text, err := os.ReadFile("../../testdata/seasons/small.yaml")
	if err != nil {
		t.Fatal(err)
	}
	first := folder{"season.yaml": string(text)}.lay(t)
	t.Setenv("PRIMAPROVA_TODAY", "2027-03-01")
	does(t, first, "plan")
	t.Setenv("PRIMAPROVA_TODAY", "2027-03-03")
	does(t, first, "record", "all", "--on", "2027-03-02", "--note", "a first entry")
	stands := lie(t, first)
	pinned := maps.Clone(stands)
	pinned["season.yaml"] += "pins: [{session: thaw/icefields/read-through, date: 2027-03-09}]\n"

	r := rand.New(rand.NewPCG(3, 1))
	for _, c := range []struct {
		args []string
		from folder
	}{
		{[]string{"late", "icefields", "--arrives", "2027-03-10"}, stands},
		{[]string{"plan"}, pinned},
		{[]string{"record", "all"}, stands},
	} {
		t.Run(c.args[0], func(t *testing.T) {
			whole := c.from.lay(t)
			at := time.Now()
			does(t, whole, c.args...)
			took := time.Since(at)
			to := lie(t, whole)
			if maps.Equal(c.from, to) {
				t.Fatalf("%v changes nothing", c.args)
			}
			killed, ends := 0, map[string]int{}
			for n := range kills(t) {
				dir := c.from.lay(t)
				after := time.Duration(r.Float64() * float64(took))
				if n%2 == 1 { // the files are written at the end
					after = took - time.Duration(r.Float64()*float64(took)/4)
				}
				p, _ := begin(t, dir, c.args...)
				time.Sleep(after)
				_ = p.Process.Kill()
				_ = p.Wait()
				// Aimed anew each time, since the machine has other things to do as well.
				if p.ProcessState.Exited() {
					took = took * 9 / 10
				} else {
					killed++
					took = took * 21 / 20
				}
				got := lie(t, dir)
				ends[wholly(t, c.from, to, got)]++
				does(t, dir, "show")
				if c.args[0] == "record" && events(t, got["season.record.jsonl"]) == events(t, to["season.record.jsonl"]) {
					continue // it would be entered twice
				}
				does(t, dir, c.args...)
				if got := lie(t, dir); wholly(t, c.from, to, got) != "new" {
					t.Fatalf("said again it does not end where it should:\n%s", strings.Join(slices.Sorted(maps.Keys(got)), "\n"))
				}
			}
			t.Logf("%d of %d killed before they ended: %v", killed, kills(t), ends)
			if 10*killed < kills(t) {
				t.Errorf("only %d were killed before they ended", killed)
			}
		})
	}
}

// wholly wants each file to be wholly the old or wholly the new one, and tells
// which they are: old, new, or between where the season is new and its plan not
// yet.
func wholly(t *testing.T, from, to, got folder) string {
	t.Helper()
	const season, plan, earlier, record = "season.yaml", "season.plan.json", "season.plan.earlier.json", "season.record.jsonl"
	for name := range got {
		if !slices.Contains([]string{season, plan, earlier, record}, name) {
			t.Fatalf("there is a file %s", name)
		}
	}
	if got[season] != from[season] && got[season] != to[season] {
		t.Fatalf("the season file is neither the old nor the new one:\n%s", got[season])
	}
	if got[plan] != from[plan] && got[plan] != to[plan] {
		t.Fatalf("the plan is neither the old nor the new one:\n%s", got[plan])
	}
	if e, there := got[earlier]; there && e != from[plan] {
		t.Fatalf("the earlier plan is not the one that stood:\n%s", e)
	}
	now := events(t, got[record])
	if now != events(t, from[record]) && now != events(t, to[record]) {
		t.Fatalf("the record is neither the old nor the new one:\n%s", got[record])
	}
	if !strings.HasPrefix(got[record], from[record]) {
		t.Fatalf("the record has lost a line:\n%s", got[record])
	}
	newSeason, newPlan := got[season] == to[season], got[plan] == to[plan]
	switch {
	case newSeason && newPlan && now == events(t, to[record]):
		return "new"
	case !newSeason && newPlan && from[plan] != to[plan]:
		t.Fatal("the plan is of a season that was never written")
	case newSeason && from[season] != to[season]:
		return "between"
	}
	return "old"
}

// events gives a record's events without the moments they were entered.
func events(t *testing.T, text string) string {
	t.Helper()
	path := filepath.Join(folder{"r.jsonl": text}.lay(t), "r.jsonl")
	r, err := recordfile.Read(path)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, e := range r.Events {
		out = append(out, strings.Join([]string{strconv.Itoa(e.Entry), string(e.Kind), e.Date.String(), e.Session, e.Note}, " "))
	}
	return strings.Join(out, "\n")
}

// TestStalePlanIsSaid: a plan names its season by the season's checksum.
func TestStalePlanIsSaid(t *testing.T) {
	text, err := os.ReadFile("../../testdata/seasons/small.yaml")
	if err != nil {
		t.Fatal(err)
	}
	t.Setenv("PRIMAPROVA_TODAY", "2027-03-03")
	dir := folder{"season.yaml": string(text)}.lay(t)
	does(t, dir, "plan")
	f, err := seasonfile.Read(filepath.Join(dir, "season.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	p, err := planfile.Read(filepath.Join(dir, "season.plan.json"))
	if err != nil || p.Season.SHA256 != f.SHA256 {
		t.Fatalf("%v: the plan is of %s, the season is %s", err, p.Season.SHA256, f.SHA256)
	}
	if err := os.WriteFile(f.Path, append(f.Source, "# late at night\n"...), 0o644); err != nil {
		t.Fatal(err)
	}
	c, said := begin(t, dir, "show")
	if err := c.Wait(); err != nil || !strings.Contains(said.String(), "has changed since it was planned") {
		t.Errorf("%v, and said: %s", err, said)
	}
}
