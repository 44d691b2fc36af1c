package main

import (
	"bytes"
	"cmp"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"slices"
	"testing"
	"time"

	"primaprova/io/planfile"
)

// shown is what a calendar shows: UID, start, end, summary, description.
type shown [5]string

// calendars asks calendars.py, which shares no code with ours, what calendars
// show that took in some files in order, by UID and SEQUENCE (RFC 5546, 2.1.4).
func calendars(t *testing.T, chains ...[]string) [][]shown {
	t.Helper()
	references, err := filepath.Abs("../../.deps/python")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(references, "icalendar")); err != nil {
		t.Fatal("the independent readers are not there; fetch them with: make deps")
	}
	in, err := json.Marshal(map[string]any{"apply": chains})
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command("python3", filepath.Join("..", "..", "testdata", "python", "calendars.py"))
	c.Env = append(os.Environ(), "PYTHONPATH="+references, "PYTHONDONTWRITEBYTECODE=1")
	c.Stdin = bytes.NewReader(in)
	var stderr bytes.Buffer
	c.Stderr = &stderr
	b, err := c.Output()
	if err != nil {
		t.Fatalf("%v: %s", err, stderr.String())
	}
	var out struct {
		Apply [][]shown `json:"apply"`
	}
	if err := json.Unmarshal(b, &out); err != nil {
		t.Fatal(err)
	}
	return out.Apply
}

// TestCalendarsFollow: who imported the calendar of an earlier plan and imports
// that of a later one sees the later plan and nothing else, whatever came
// between: a part that came late, another work, a day lost.
func TestCalendarsFollow(t *testing.T) {
	t.Setenv("PRIMAPROVA_TODAY", "2027-03-03")
	dir := folder{"season.yaml": `title: Spring at Brinemouth
time_zone: Europe/Oslo
from: 2027-03-01
to: 2027-04-04
limits: {playing: 90 min, rest_days: [monday]}
hours: {every day: [09:30-11:30, 15:00-16:00]}
programmes:
  - id: tide
    services: [{rehearsal: 2027-03-31 10:00, lasts: 120 min}]
    parts:
      - {id: slate, work: Symphony in Slate, arrives: 2027-03-04, listening: 20 min, read_through: 20 min, passages: [{bars: 45-61, hard: 3}, {bars: 90-99}]}
      - {id: ferry, work: Ferry Waltz, arrives: 2027-03-05, listening: 20 min, estimate: 60 min}
`}.lay(t)
	var files []string
	var plans [][][2]string // start and end of every session, as instants
	for _, step := range [][]string{
		{"plan"},
		{"late", "slate", "--arrives", "2027-03-14"},
		{"late", "--new", "tide/gale", "--instead-of", "ferry", "--arrives", "2027-03-09", "--passage", "5-9, hard"},
		{"record", "--day-lost", "--on", "2027-03-20"},
		{"plan"},
		{"late", "slate", "--arrives", "2027-03-05"},
	} {
		does(t, dir, step...)
		if step[0] == "record" {
			continue
		}
		does(t, dir, "export", "--ics", "out.ics", "--calendar", "sessions")
		b, err := os.ReadFile(filepath.Join(dir, "out.ics"))
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, string(b))
		plans = append(plans, instants(t, dir))
	}
	var chains [][]string
	var want []int // the plan that each must end up with
	for i := range files {
		for j := i; j < len(files); j++ {
			chains, want = append(chains, files[i:j+1]), append(want, j)
			if j > i+1 {
				chains, want = append(chains, []string{files[i], files[j]}), append(want, j) // those between never seen
			}
		}
	}
	for i, got := range calendars(t, chains...) {
		var times [][2]string
		for _, e := range got {
			times = append(times, [2]string{e[1], e[2]})
		}
		inOrder(times)
		if !reflect.DeepEqual(times, plans[want[i]]) {
			t.Errorf("%d files up to %d: the calendar shows\n%v\nthe plan is\n%v", len(chains[i]), want[i], times, plans[want[i]])
		}
	}
	if len(plans[0]) < 15 || reflect.DeepEqual(plans[0], plans[1]) {
		t.Errorf("%d sessions, and the part that came late moved none", len(plans[0]))
	}
}

func inOrder(list [][2]string) {
	slices.SortFunc(list, func(a, b [2]string) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
}

// instants reads the plan's sessions with their times in UTC.
func instants(t *testing.T, dir string) [][2]string {
	t.Helper()
	p, err := planfile.Read(filepath.Join(dir, "season.plan.json"))
	if err != nil {
		t.Fatal(err)
	}
	zone, err := time.LoadLocation("Europe/Oslo")
	if err != nil {
		t.Fatal(err)
	}
	var out [][2]string
	for _, s := range p.Sessions {
		at := func(minute int) string {
			d := s.Date.Time()
			return time.Date(d.Year(), d.Month(), d.Day(), 0, minute, 0, 0, zone).UTC().Format("2006-01-02T15:04:05Z")
		}
		out = append(out, [2]string{at(int(*s.Start)), at(int(*s.Ends))})
	}
	inOrder(out)
	return out
}
