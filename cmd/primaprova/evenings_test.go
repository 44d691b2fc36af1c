package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"primaprova/io/planfile"
	"primaprova/io/recordfile"
	"primaprova/io/seasonfile"
	"primaprova/io/table"
	"primaprova/model"
)

// Two weeks of a player's evenings over a season with fourteen parts: what was played
// is recorded, then plan says how it goes on. It says so in twenty lines of eighty
// columns at most, and each of these lines is judged by the season, the record and the
// plans before and after, without the words' own code (evening_judge_test.go).

// eveningLines is how much of a screen an evening may take, warnings and hints included.
const eveningLines = 20

// evenings are the commands of each evening, the last one the planning. What they
// say of numbers and parts lies in testdata/seasons/evenings.
var evenings = [][]string{
	{"record all", "plan"},
	{"record all", "record --found 460-470 --part frost/brunn --hard 3", "plan"},
	{"record 3 --not-done", "record all", "plan"},
	{"record --day-lost --note migraine", "plan"},
	{"record all", "plan"},
	{"record 3 --did-not-hold", "record all", "plan"},
	{"plan"}, // nothing is recorded
	{"plan"}, // a rest day
	{"record all --on 2027-01-17", "late gala/ouv2 --arrives 2027-02-03"},
	{"record all", "plan"},
	{"record --pain", "plan"},
	{"record all", "plan"},
	{"record all", "late --new gala/polka --work Polka --arrives 2027-01-25 --estimate 30"},
	{"record all", "plan"},
}

// evening is what a planning begins with, what it ends with, and what it says.
type evening struct {
	today   model.Date
	late    bool // it is told of a part
	stood   *model.Plan
	plan    *model.Plan
	season  *model.Season
	history *model.History
	changed model.Date // the last evening before it that changed something
	events  []model.Event
	of      map[string]model.Date // days by what they are called
}

func TestTwoWeeksOfEvenings(t *testing.T) {
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS("../../testdata/seasons/evenings")); err != nil {
		t.Fatal(err)
	}
	engines, err := filepath.Abs("../../.deps/engines")
	if err != nil {
		t.Fatal(err)
	}
	t.Setenv("PRIMAPROVA_ENGINES", engines)
	t.Chdir(dir)
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	day, err := model.ParseDate("2027-01-11")
	if err != nil {
		t.Fatal(err)
	}
	t.Setenv("PRIMAPROVA_TODAY", day.String())
	wellSaid(t, "plan")
	stands, most, pointed := read(t, day), 0, 0
	stands.changed = day
	for _, commands := range evenings {
		t.Setenv("PRIMAPROVA_TODAY", day.String())
		n := len(commands) - 1
		for _, c := range commands[:n] {
			wellSaid(t, c)
		}
		out, errs := wellSaid(t, commands[n]+" --width 80")
		now := read(t, day)
		now.stood, now.changed, now.late = stands.plan, stands.changed, strings.HasPrefix(commands[n], "late")
		lines := strings.Count(out, "\n")
		for line := range strings.Lines(errs) {
			lines += (table.Width(strings.TrimSuffix(line, "\n")) + 79) / 80
		}
		if most = max(most, lines); lines > eveningLines {
			t.Errorf("%v: %d lines:\n%s%s", day, lines, out, errs)
		}
		for _, line := range append(unwrapped(out), strings.Split(strings.TrimSpace(errs), "\n")...) {
			if wrong := now.judge(line); wrong != "" {
				t.Errorf("%v: %s\n%s", day, wrong, line)
			}
		}
		sheet, _ := wellSaid(t, "show --width 200")
		if wrong, points := now.pointed(sheet); wrong != "" {
			t.Errorf("%v: %s\n%s", day, wrong, sheet)
		} else if points {
			pointed++
		}
		t.Logf("%v: %d lines\n%s%s", day, lines, out, errs)
		if t.Failed() {
			t.FailNow()
		}
		if len(now.moves()) > 0 {
			now.changed = day
		}
		stands = now
		day++
	}
	t.Logf("at most %d lines; %d sheets point to what can't wait", most, pointed)
	if pointed > mostPointed {
		t.Errorf("%d sheets of %d say that something can't wait", pointed, len(evenings))
	}
}

// wellSaid runs a command that has to end well.
func wellSaid(t *testing.T, command string) (out, errs string) {
	t.Helper()
	var o, e bytes.Buffer
	if code := run(strings.Fields(command), strings.NewReader(""), &o, &e); code != exitDone && code != exitLeftOut {
		t.Fatalf("%s: exit code %d\n%s%s", command, code, o.String(), e.String())
	}
	return o.String(), e.String()
}

// read reads the season, its record and its plan as they stand.
func read(t *testing.T, today model.Date) *evening {
	t.Helper()
	const path = "season.yaml"
	f, err := seasonfile.Read(path)
	if err != nil {
		t.Fatal(err)
	}
	p, err := planfile.Read(planPath(path))
	if err != nil {
		t.Fatal(err)
	}
	r, err := recordfile.Read(recordPath(path))
	if err != nil {
		t.Fatal(err)
	}
	h, remarks, _ := f.Season.Resume(r.Events, p, model.Replaying{Today: today, TakeAsDone: true})
	if len(remarks) > 0 {
		t.Fatal(remarks)
	}
	e := &evening{today: today, plan: p, season: f.Season.With(h), history: h, events: model.Standing(r.Events), of: map[string]model.Date{}}
	for d := e.season.From; d <= e.season.To; d++ {
		e.of[model.DefaultLocale().Day(d)] = d
	}
	return e
}

// unwrapped gives a screen's lines as they were before they were broken: what is set in
// goes on. A table's rows stay as they are.
func unwrapped(screen string) (out []string) {
	for line := range strings.Lines(screen) {
		line = strings.TrimRight(line, "\n")
		switch {
		case line == "":
		case strings.HasPrefix(line, "  ") && len(out) > 0:
			out[len(out)-1] += " " + strings.TrimSpace(line)
		default:
			out = append(out, line)
		}
	}
	return out
}

// moves lists what becomes of sessions from today on, by id: "moved", "new", "gone",
// "length", "hour".
func (e *evening) moves() map[string]string {
	out, was := map[string]string{}, map[string]*model.Session{}
	for i := range e.stood.Sessions {
		was[e.stood.Sessions[i].ID] = &e.stood.Sessions[i]
	}
	for i := range e.plan.Sessions {
		is := &e.plan.Sessions[i]
		before := was[is.ID]
		delete(was, is.ID)
		switch {
		case is.Stage == model.WarmUpStage, is.Date < e.today && (before == nil || before.Date < e.today):
		case before == nil:
			out[is.ID] = "new"
		case before.Date != is.Date:
			out[is.ID] = "moved"
		case before.Minutes != is.Minutes:
			out[is.ID] = "length"
		case fmt.Sprint(clockOf(before)) != fmt.Sprint(clockOf(is)):
			out[is.ID] = "hour"
		}
	}
	for id, s := range was {
		if s.Stage != model.WarmUpStage && s.Date >= e.today {
			out[id] = "gone"
		}
	}
	return out
}

func clockOf(s *model.Session) model.Clock {
	if s.Start == nil {
		return -1
	}
	return *s.Start
}

// mostPointed is how many of the sheets may have the line that points to show urgent: what stands on
// most days nobody reads.
const mostPointed = 4

var points = regexp.MustCompile(`(?m)^(.+), (.+) waits till (\w+ \d+ \w+) at most, work of today longer: show urgent\.$`)

// pointed judges the line of today's sheet by the days that the season leaves to each session.
func (e *evening) pointed(sheet string) (wrong string, is bool) {
	m := points.FindStringSubmatch(sheet)
	if m == nil {
		return "", false
	}
	on, longest := map[string]bool{}, model.Date(0)
	for i := range e.plan.Sessions {
		v := &e.plan.Sessions[i]
		on[v.ID] = v.Date == e.today
	}
	until, found := e.of[m[3]], false
	for _, x := range e.season.Slots(e.history) {
		switch {
		case !x.Stage.Playing():
		case on[x.ID]:
			longest = max(longest, x.Last)
		default:
			found = found || x.First == e.today && x.Last == until
		}
	}
	switch {
	case !found:
		return "nothing that is not on today can wait till " + m[3], true
	case until > e.today+2 || until < e.today:
		return "it can wait longer", true
	case longest <= until:
		return "nothing on today can wait longer", true
	}
	return "", true
}
