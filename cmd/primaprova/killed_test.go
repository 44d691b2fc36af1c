package main

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
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

// smallSeason is what the file of the small season says.
func smallSeason(t *testing.T) string {
	t.Helper()
	text, err := os.ReadFile("../../testdata/seasons/small.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
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

// victim is a command that is killed, with what it reads from standard input.
type victim struct {
	name  string
	args  []string
	input string
	from  folder
}

func (v victim) begin(t *testing.T, dir string) (*exec.Cmd, *bytes.Buffer) {
	t.Helper()
	engines, err := filepath.Abs("../../.deps/engines")
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command("primaprova", v.args...) // this test itself, see TestMain
	var b bytes.Buffer
	c.Dir, c.Stderr, c.Stdin = dir, &b, strings.NewReader(v.input)
	c.Env = append(os.Environ(), "PRIMAPROVA_ENGINES="+engines, "XDG_CONFIG_HOME="+dir)
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	return c, &b
}

// ends runs the command to its end.
func (v victim) ends(t *testing.T, dir string) {
	t.Helper()
	c, b := v.begin(t, dir)
	if err := c.Wait(); err != nil && c.ProcessState.ExitCode() != exitLeftOut {
		t.Fatalf("%v: %v: %s", v.args, err, b)
	}
}

// does runs a command to its end.
func does(t *testing.T, dir string, args ...string) {
	t.Helper()
	victim{args: args}.ends(t, dir)
}

// killed kills the command once: at a random moment of a run that takes so
// long, or a little after the first sign that it writes anything. It tells
// whether the command had not ended before.
func (v victim) killed(t *testing.T, dir string, r *rand.Rand, took time.Duration, atSign bool) bool {
	t.Helper()
	signs := func() string {
		list, _ := os.ReadDir(dir)
		var b strings.Builder
		for _, e := range list {
			if info, err := e.Info(); err == nil && !strings.HasSuffix(e.Name(), ".lock") {
				fmt.Fprintln(&b, e.Name(), info.Size(), info.ModTime().UnixNano())
			}
		}
		return b.String()
	}
	before := signs()
	p, _ := v.begin(t, dir)
	if atSign {
		for limit := time.Now().Add(20 * took); signs() == before && time.Now().Before(limit); {
		}
		time.Sleep(time.Duration(r.Float64() * r.Float64() * float64(2*time.Millisecond)))
	} else {
		time.Sleep(time.Duration(r.Float64() * float64(took)))
	}
	_ = p.Process.Kill()
	_ = p.Wait()
	return !p.ProcessState.Exited()
}

// victims are the commands that write, on the small season. The season file is
// made long by a comment and the record by many lines, those that stand and those
// that come, so that there is a while in which they are being written.
func victims(t *testing.T) []victim {
	t.Helper()
	text := smallSeason(t)
	long := text + strings.Repeat("# what there is to say of this season takes many lines\n", 10000)
	first := folder{"season.yaml": long}.lay(t)
	t.Setenv("PRIMAPROVA_TODAY", "2027-03-01")
	does(t, first, "plan")
	t.Setenv("PRIMAPROVA_TODAY", "2027-03-03")
	lines := strings.Repeat("1 --on 2027-03-02 --minutes 15 --note 'said at some length, and once more'\n", 600)
	victim{args: []string{"record", "--lines", "-"}, input: lines + "all --on 2027-03-02\n"}.ends(t, first)
	stands := lie(t, first)
	pinned := maps.Clone(stands)
	pinned["season.yaml"] += "pins: [{session: thaw/icefields/read-through, date: 2027-03-09}]\n"
	return []victim{
		{"late", []string{"late", "icefields", "--arrives", "2027-03-10"}, "", stands},
		{"plan", []string{"plan"}, "", pinned},
		{"record", []string{"record", "--lines", "-"}, lines, stands},
	}
}

// TestKilledAnywhere kills commands at random moments of their run (kill -9).
// Season file, plan and record must each be wholly the old or wholly the new
// one, a plan never newer than its season, and the same command said again must
// end where it would have ended undisturbed.
func TestKilledAnywhere(t *testing.T) {
	all := victims(t)
	r := rand.New(rand.NewPCG(3, 1))
	for _, c := range all {
		t.Run(c.name, func(t *testing.T) {
			whole := c.from.lay(t)
			at := time.Now()
			c.ends(t, whole)
			took := time.Since(at)
			to := lie(t, whole)
			if maps.Equal(c.from, to) {
				t.Fatalf("%v changes nothing", c.args)
			}
			killed, ends := 0, map[string]int{}
			for n := 0; n < kills(t) || 2*killed < kills(t); n++ { // a busy machine may be late with some
				dir := c.from.lay(t)
				atSign := n%2 == 1 // the files are written at the end
				if c.killed(t, dir, r, took, atSign) {
					killed++
				} else if !atSign { // aimed anew, since the machine has other things to do as well
					took = took * 8 / 10
				}
				got := lie(t, dir)
				end, err := wholly(t, c.from, to, got)
				if err != nil {
					t.Fatal(err)
				}
				ends[end]++
				does(t, dir, "show")
				if c.name == "record" && events(t, got["season.record.jsonl"]) == events(t, to["season.record.jsonl"]) {
					continue // it would be entered twice
				}
				c.ends(t, dir)
				if end, err := wholly(t, c.from, to, lie(t, dir)); err != nil || end != "new" {
					t.Fatalf("said again it does not end where it should, but %s: %v", end, err)
				}
			}
			t.Logf("%d killed before they ended: %v", killed, ends)
		})
	}
}

// TestKillingFindsAWriterInPlace shows that the killing above would find what
// it looks for: the same commands, but with files written over where they lie,
// as a program does that knows no better, and killed in the same way.
func TestKillingFindsAWriterInPlace(t *testing.T) {
	all := victims(t)
	t.Setenv(writesInPlace, "yes")
	r := rand.New(rand.NewPCG(3, 2))
	for _, c := range all {
		t.Run(c.name, func(t *testing.T) {
			whole := c.from.lay(t)
			at := time.Now()
			c.ends(t, whole)
			took, to := time.Since(at), lie(t, whole)
			if _, err := wholly(t, c.from, to, to); err != nil {
				t.Fatalf("left alone it does no harm: %v", err)
			}
			const most = 150
			for n := range most {
				dir := c.from.lay(t)
				c.killed(t, dir, r, took, true)
				if _, err := wholly(t, c.from, to, lie(t, dir)); err != nil {
					t.Logf("found at kill %d: %.100s", n+1, err)
					return
				}
			}
			t.Errorf("%d kills found no file written in place", most)
		})
	}
}

// writesInPlace, set in the environment, turns the commands of these tests into
// ones that write in place.
const writesInPlace = "PRIMAPROVA_TEST_WRITES_IN_PLACE"

// inPlace runs a command on a copy of the folder it stands in, and then writes
// what has changed over the files as they lie.
func inPlace(args []string) int {
	here, err := os.Getwd()
	if err != nil {
		panic(err)
	}
	there, err := os.MkdirTemp("", "")
	if err != nil {
		panic(err)
	}
	defer os.RemoveAll(there)
	if err := os.CopyFS(there, os.DirFS(here)); err != nil {
		panic(err)
	}
	if err := os.Chdir(there); err != nil {
		panic(err)
	}
	code := run(args, os.Stdin, os.Stdout, os.Stderr)
	for _, name := range []string{"season.yaml", "season.plan.earlier.json", "season.plan.json", "season.record.jsonl"} {
		was, _ := os.ReadFile(filepath.Join(here, name))
		is, err := os.ReadFile(name)
		if err != nil || bytes.Equal(was, is) {
			continue
		}
		// Synced, as the real ones are.
		f, err := os.OpenFile(filepath.Join(here, name), os.O_WRONLY|os.O_CREATE|os.O_TRUNC|os.O_SYNC, 0o644)
		if err != nil {
			panic(err)
		}
		for len(is) > 0 { // piece by piece, as an encoder without a buffer does
			n := min(100, len(is))
			_, _ = f.Write(is[:n])
			is = is[n:]
		}
		if err := f.Close(); err != nil {
			panic(err)
		}
	}
	return code
}

// closeness is measured from the plan that stood: a plan made again, which moves
// nothing, has none, and is the same plan.
var closeness = regexp.MustCompile(`\{"name":"closeness"[^}]*\}`)

// wholly wants each file to be wholly the old or wholly the new one, and tells
// which they are: old, new, or between where the season is new and its plan not
// yet.
func wholly(t *testing.T, from, to, got folder) (string, error) {
	t.Helper()
	const season, plan, earlier, record = "season.yaml", "season.plan.json", "season.plan.earlier.json", "season.record.jsonl"
	from, to, got = maps.Clone(from), maps.Clone(to), maps.Clone(got)
	for _, f := range []folder{from, to, got} {
		for _, name := range []string{plan, earlier} {
			if text, ok := f[name]; ok {
				f[name] = closeness.ReplaceAllString(text, "")
			}
		}
	}
	for name := range got {
		if !slices.Contains([]string{season, plan, earlier, record}, name) {
			return "", fmt.Errorf("there is a file %s", name)
		}
	}
	if got[season] != from[season] && got[season] != to[season] {
		return "", fmt.Errorf("the season file is neither the old nor the new one: %d bytes, %.500q", len(got[season]), got[season])
	}
	if got[plan] != from[plan] && got[plan] != to[plan] {
		return "", fmt.Errorf("the plan is neither the old nor the new one: %d bytes, %.500q", len(got[plan]), got[plan])
	}
	if e, there := got[earlier]; there && e != from[plan] {
		return "", fmt.Errorf("the earlier plan is not the one that stood: %d bytes, %.500q", len(e), e)
	}
	// The record alone is appended to: an entry cut off in its middle counts for
	// nothing, and what was there before stays.
	if !strings.HasPrefix(got[record], from[record]) {
		return "", fmt.Errorf("the record has lost a line: %d bytes, %.500q", len(got[record]), got[record])
	}
	now := events(t, got[record])
	if now != events(t, from[record]) && now != events(t, to[record]) {
		return "", fmt.Errorf("the record is neither the old nor the new one: %d bytes, %.500q", len(got[record]), got[record])
	}
	newSeason, newPlan := got[season] == to[season], got[plan] == to[plan]
	switch {
	case newSeason && newPlan && now == events(t, to[record]):
		return "new", nil
	case !newSeason && newPlan && from[plan] != to[plan]:
		return "", errors.New("the plan is of a season that was never written")
	case newSeason && from[season] != to[season]:
		return "between", nil
	}
	return "old", nil
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
	rank := map[int]int{} // what was set aside took a number too
	for _, e := range r.Events {
		if rank[e.Entry] == 0 {
			rank[e.Entry] = len(rank) + 1
		}
		out = append(out, strings.Join([]string{strconv.Itoa(rank[e.Entry]), string(e.Kind), e.Date.String(), e.Session, e.Note}, " "))
	}
	return strings.Join(out, "\n")
}

// TestStalePlanIsSaid: a plan names its season by the season's checksum.
func TestStalePlanIsSaid(t *testing.T) {
	text := smallSeason(t)
	t.Setenv("PRIMAPROVA_TODAY", "2027-03-03")
	dir := folder{"season.yaml": text}.lay(t)
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
	c, said := victim{args: []string{"show"}}.begin(t, dir)
	if err := c.Wait(); err != nil || !strings.Contains(said.String(), "has changed since it was planned") {
		t.Errorf("%v, and said: %s", err, said)
	}
}
