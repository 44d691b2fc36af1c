package solver_test

import (
	"context"
	"crypto/sha256"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"testing"

	"primaprova/io/seasonfile"
	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver"
	"primaprova/solver/cpsat"
	"primaprova/solver/highs"
	"primaprova/solver/run"
	"primaprova/solver/tiny"
)

// Plans are frozen: for a set of seasons testdata/frozen.txt holds what a plan's wishes come to,
// what is proven of them, and a digest of all that it says of its days. A change that only moves or
// renames leaves every line as it is. UPDATE=1 writes the file anew, for changes that are
// meant to change plans: its differences then show what they did to which wish.
// FREEZE names a file for larger seasons, which make freeze has another commit write first.
func TestPlansAreFrozen(t *testing.T) {
	froze(t, "testdata/frozen.txt", frozenSmall())
	if name := os.Getenv("FREEZE"); name != "" {
		froze(t, name, frozenLarge(t))
	}
}

// A frozen season is planned once; what comes of it may be lived with until a day and planned anew.
type frozen struct {
	name      string
	season    *model.Season
	work      float64
	tolerance model.Tolerance
	seed      int
	hours     bool
	width     int // no plan depends on it
	then      []replanned
}

// replanned is what happens to a frozen season: its days gone by are as planned but for those
// lost, and a part comes late.
type replanned struct {
	name string
	day  model.Date // days from the season's first
	lost model.Date // days before it of which nothing was played
	late model.Date // days that the last programme's first part comes before its first rehearsal; 0: as said
}

func grown(weeks, passages int, tightness, late float64, seed uint64) *model.Season {
	z := invent.Grown(weeks, 0, true, seed)
	z.Passages, z.Tightness, z.Late = passages, tightness, late
	return invent.Season(z)
}

func frozenSmall() []frozen {
	list := []frozen{
		{name: "grown", season: grown(12, 6, 0.6, 0, 3), work: 0.02, tolerance: model.DefaultTolerance, hours: true,
			then: []replanned{{name: "lost", day: 30, lost: 6}, {name: "late", day: 40, late: 9}}},
		{name: "strict", season: grown(9, 9, 0.9, 0, 5), work: 0.04, seed: 3, width: 5},
	}
	for _, n := range invent.Sizes(11) {
		n.Size.Weeks, n.Size.Programmes = min(n.Size.Weeks, 4), min(n.Size.Programmes, 2)
		n.Size.Passages = min(n.Size.Passages, 5)
		list = append(list, frozen{name: n.Name, season: invent.Season(n.Size), work: 0.01, tolerance: model.DefaultTolerance, hours: n.Name == "tight"})
	}
	return list
}

func frozenLarge(t *testing.T) []frozen {
	f, err := seasonfile.Read("../testdata/seasons/demo/season.yaml")
	if err != nil {
		t.Fatal(err)
	}
	list := []frozen{
		{name: "demo", season: f.Season, work: 0.01, tolerance: model.DefaultTolerance, hours: true, then: []replanned{{name: "late", day: 150, late: 10}}},
		{name: "overfull", season: grown(9, 8, 1.25, 0, 7), work: 0.01, tolerance: model.DefaultTolerance},
	}
	for seed := range uint64(10) {
		n := invent.Sizes(seed)[1+seed]
		n.Size.Weeks, n.Size.Programmes = 7, 2
		list = append(list, frozen{name: n.Name, season: invent.Season(n.Size), work: 0.01, tolerance: model.DefaultTolerance, hours: true})
	}
	return list
}

// froze compares the lines of all plans with a file's, or writes it.
func froze(t *testing.T, name string, list []frozen) {
	lib, days := tiny.HiGHS(t), tiny.CPSAT(t)
	var lines []string
	for i := range list {
		lines = append(lines, list[i].lines(t, lib, days)...)
	}
	if os.Getenv("UPDATE") != "" {
		if err := os.WriteFile(name, []byte(strings.Join(lines, "\n")+"\n"), 0o666); err != nil {
			t.Fatal(err)
		}
		return
	}
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	want := strings.Split(strings.TrimSpace(string(data)), "\n")
	if len(want) != len(lines) {
		t.Fatalf("%s has %d lines, planned are %d", name, len(want), len(lines))
	}
	for i := range lines {
		if lines[i] != want[i] {
			t.Errorf("another plan (UPDATE=1 writes %s, where that is meant):\n is  %s\n was %s", name, lines[i], want[i])
		}
	}
}

// lines plans a frozen season, then what happened to it, and gives a line for each plan.
func (f *frozen) lines(t *testing.T, lib *highs.Library, days *cpsat.Library) []string {
	o := run.Options{Engine: lib, Work: f.work, Tolerance: f.tolerance, Seed: f.seed, Width: f.width}
	if f.hours {
		o.Days = days
	}
	standing, err := solver.Solve(context.Background(), f.season, o)
	if err != nil {
		t.Fatalf("%s: %v", f.name, err)
	}
	out := []string{line(f.name, standing)}
	for _, r := range f.then {
		s := *f.season
		s.Programmes = slices.Clone(s.Programmes)
		p := &s.Programmes[len(s.Programmes)-1]
		p.Parts = slices.Clone(p.Parts)
		if r.late > 0 {
			p.Parts[0].Arrives = p.FirstRehearsal() - r.late
		}
		today := s.From + r.day
		var events []model.Event
		for d := today - r.lost; d < today; d++ {
			events = append(events, model.Event{Entry: len(events) + 1, Kind: model.DayLost, Date: d})
		}
		h, _ := s.Replay(events, standing, model.Replaying{Today: today, TakeAsDone: true})
		o.History, o.Standing = h, standing
		plan, err := solver.Solve(context.Background(), &s, o)
		if err != nil {
			t.Fatalf("%s, %s: %v", f.name, r.name, err)
		}
		out = append(out, line(f.name+", "+r.name, plan))
	}
	return out
}

// line says what a plan is worth, and gives a digest of its days.
func line(name string, p *model.Plan) string {
	h := sha256.New()
	clock := func(c *model.Clock) string {
		if c == nil {
			return "-"
		}
		return c.String()
	}
	for i := range p.Sessions {
		v := &p.Sessions[i]
		fmt.Fprintln(h, v.ID, v.Date, clock(v.Start), clock(v.Ends), v.Rests, v.Minutes)
	}
	for i := range p.Unplaced {
		io.WriteString(h, p.Unplaced[i].ID+"\n")
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%-28s", name)
	for _, w := range p.Provenance.Wishes {
		fmt.Fprintf(&b, " %v/%v", w.Value, w.Bound)
	}
	fmt.Fprintf(&b, " %s %d %x", p.Provenance.Status, len(p.Sessions), h.Sum(nil)[:8])
	return b.String()
}
