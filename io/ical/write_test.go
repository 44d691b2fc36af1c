package ical

import (
	"bytes"
	"errors"
	"flag"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"primaprova/model"
)

var update = flag.Bool("update", false, "write the golden files anew")

// week is a plan small enough to be read as a calendar file.
func week() (*model.Season, *model.Plan) {
	d := model.NewDate(2027, 3, 24) // clocks in Oslo change on the 28th
	s := &model.Season{Habits: model.DefaultHabits(), Limits: model.DefaultLimits(),
		Title: "A week on the Skerry coast", TimeZone: "Europe/Oslo", From: d, To: d + 6, Instrument: "double bass",
		Hours: model.ByDay[[]model.Span]{Every: []model.Span{{From: 570, To: 750}}},
		Programmes: []model.Programme{{
			ID: "tide", Title: "Tide tables",
			Services: []model.Service{{Kind: model.Rehearsal, Date: d + 6, Start: 600, Lasts: 150}},
			Parts: []model.Part{{ID: "slate", Work: "Symphony in Slate",
				Passages: []model.Passage{{ID: "45-61", Bars: "45-61", Exposed: true}}}},
		}},
	}
	visit := func(k int, day model.Date, start model.Clock) model.Session {
		return model.Session{ID: model.VisitID("tide/slate/45-61", k), Date: day, Start: &start, Ends: ptr(start + 15), Minutes: 15, Playing: true,
			Stage: model.PassageStage, Part: "tide/slate", Passage: ptr("tide/slate/45-61"), Visit: ptr(k), Visits: ptr(2)}
	}
	first, last := visit(1, d+1, 580), visit(2, d+4, 580)
	last.Sequence = 1
	return s, &model.Plan{From: s.From, To: s.To, Calendar: "0011223344556677", Sessions: []model.Session{
		{ID: "tide/slate/listening", Date: d, Start: ptr(model.Clock(570)), Ends: ptr(model.Clock(620)), Minutes: 45, Stage: model.ListeningStage, Part: "tide/slate"},
		first, last,
		{ID: "warm-up/2027-03-25", Date: d + 1, Start: ptr(model.Clock(570)), Ends: ptr(model.Clock(580)), Minutes: 10, Playing: true, Stage: model.WarmUpStage},
	},
		Cancelled:   []model.Cancelled{{ID: "warm-up/2027-03-27", Date: d + 3, Start: ptr(model.Clock(570)), Minutes: 10, Sequence: 1}},
		ChangedDays: []model.ChangedDay{{Date: d + 3, Sequence: 1}, {Date: d + 4, Sequence: 1}}}
}

func TestGolden(t *testing.T) {
	s, p := week()
	for file, o := range map[string]Options{"sessions.ics": {Color: "teal"}, "days.ics": {Entries: Days}} {
		got := written(t, s, p, o)
		path := filepath.Join("testdata", file)
		if *update {
			if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if got != string(want) {
			t.Errorf("%s: got\n%s\nwant\n%s", file, got, want)
		}
	}
}

// RFC 5545, section 3.1: lines end with CRLF, take at most 75 octets, and are
// folded between characters; no control characters.
func TestLines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, p := week()
		text := rapid.StringN(0, 120, -1)
		s.Title, s.Programmes[0].Title = text.Draw(t, "title"), text.Draw(t, "programme")
		s.Programmes[0].Parts[0].Work = text.Draw(t, "work")
		s.Programmes[0].Parts[0].Passages[0].Bars = text.Draw(t, "bars")
		var b bytes.Buffer
		if err := Write(&b, s, p, Options{Entries: rapid.SampledFrom([]Entries{Sessions, Days}).Draw(t, "entries")}); err != nil {
			t.Fatal(err)
		}
		whole, ended := strings.CutSuffix(b.String(), "\r\n")
		if !ended {
			t.Fatal("no CRLF at the end")
		}
		var unfolded []string
		for _, line := range strings.Split(whole, "\r\n") {
			if len(line) > 75 || !utf8.ValidString(line) || line == "" {
				t.Fatalf("%d octets: %q", len(line), line)
			}
			for _, r := range line {
				if r < ' ' && r != '\t' || r == 0x7f {
					t.Fatalf("control character in %q", line)
				}
			}
			if line[0] == ' ' {
				unfolded[len(unfolded)-1] += line[1:]
			} else {
				unfolded = append(unfolded, line)
			}
		}
		form := regexp.MustCompile(`^[A-Z-]+(;[A-Z]+=[A-Za-z/_-]+)*:`)
		for _, line := range unfolded {
			if !form.MatchString(line) {
				t.Fatalf("no property: %q", line)
			}
		}
	})
}

func TestSamePlanSameFile(t *testing.T) {
	s, p := week()
	first := written(t, s, p, Options{})
	if second := written(t, s, p, Options{}); first != second {
		t.Error("written twice, the file differs")
	}
	if strings.Contains(first, "METHOD") {
		t.Error("a METHOD keeps the file from being stored (RFC 4791, section 4.1)")
	}
}

var uidLine = regexp.MustCompile(`(?m)^UID:(.*)\r$`)

func uids(text string) []string {
	var out []string
	for _, m := range uidLine.FindAllStringSubmatch(text, -1) {
		out = append(out, m[1])
	}
	return out
}

func TestUIDs(t *testing.T) {
	s, p := week()
	before := uids(written(t, s, p, Options{}))
	seen := map[string]bool{}
	for _, u := range before {
		seen[u] = true
	}
	if len(before) != 5 || len(seen) != 5 {
		t.Fatalf("not five UIDs: %v", before)
	}
	for i := range p.Sessions {
		p.Sessions[i].Start, p.Sessions[i].Ends = nil, nil
	}
	s.Title = "Another title"
	for _, u := range uids(written(t, s, p, Options{Entries: Sessions})) {
		if !seen[u] {
			t.Errorf("moved sessions and another title gave the new UID %s", u)
		}
	}
	p.Calendar = "7766554433221100"
	for _, u := range uids(written(t, s, p, Options{Entries: Sessions})) {
		if seen[u] {
			t.Errorf("another calendar has the same UID %s", u)
		}
	}
	for _, u := range uids(written(t, s, p, Options{Entries: Days})) {
		if seen[u] {
			t.Errorf("a day has the UID of a session, %s", u)
		}
	}
	p.Calendar = ""
	without := uids(written(t, s, p, Options{}))
	p.Calendar = s.CalendarKey()
	if with := uids(written(t, s, p, Options{})); strings.Join(with, " ") != strings.Join(without, " ") {
		t.Error("a plan without a calendar key does not take the season's")
	}
}

func TestOptions(t *testing.T) {
	s, p := week()
	count := func(o Options, what string) int { return strings.Count(written(t, s, p, o), what) }
	for _, c := range []struct {
		name string
		o    Options
		what string
		want int
	}{
		{"sessions and what is cancelled", Options{}, "BEGIN:VEVENT", 5},
		{"nothing cancelled", Options{NoCancelled: true}, "BEGIN:VEVENT", 4},
		{"with hours, times", Options{}, "DTSTART;TZID=Europe/Oslo:", 5},
		{"days and one emptied", Options{Entries: Days}, "BEGIN:VEVENT", 4},
		{"no emptied day", Options{Entries: Days, NoCancelled: true}, "BEGIN:VEVENT", 3},
		{"days have no times", Options{Entries: Days}, "DTSTART;VALUE=DATE:", 4},
		{"days need no zone", Options{Entries: Days}, "VTIMEZONE", 0},
		{"days keep nobody from appointments", Options{Entries: Days}, "TRANSP:TRANSPARENT", 4},
		{"sessions with times do", Options{}, "TRANSP:TRANSPARENT", 0},
		{"no colour", Options{}, "COLOR", 0},
		{"a colour", Options{Color: "teal"}, "COLOR:teal\r\n", 1},
	} {
		if got := count(c.o, c.what); got != c.want {
			t.Errorf("%s: %q %d times, want %d", c.name, c.what, got, c.want)
		}
	}
	s.Hours = model.ByDay[[]model.Span]{}
	if got := count(Options{}, "X-PRIMAPROVA-ID:day/"); got != 4 {
		t.Errorf("without hours: %d days, want 4", got)
	}
	s.TimeZone = "UTC"
	if text := written(t, s, p, Options{Entries: Sessions}); strings.Contains(text, "TZID") || strings.Count(text, "DTSTART:2027") != 5 {
		t.Errorf("in UTC:\n%s", text)
	}
}

func TestAnEmptyPlan(t *testing.T) {
	s, _ := week()
	text := written(t, s, &model.Plan{From: s.From, To: s.To}, Options{})
	if strings.Contains(text, "VEVENT") || !strings.HasSuffix(text, "END:VCALENDAR\r\n") {
		t.Errorf("got\n%s", text)
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space left") }

func TestErrors(t *testing.T) {
	s, p := week()
	if err := Write(full{}, s, p, Options{}); err == nil || err.Error() != "no space left" {
		t.Error(err)
	}
	if err := Write(full{}, s, p, Options{Color: "teal\nX"}); err == nil || err.Error() != `colour: "teal\nX": is no CSS name like steelblue` {
		t.Error(err)
	}
	for _, zone := range []string{"", "Local", "Europe/Nowhere", "../etc/passwd"} {
		s.TimeZone = zone
		if err := Write(full{}, s, p, Options{}); err == nil || !strings.HasSuffix(err.Error(), ": is no time zone with a name like Europe/Oslo") {
			t.Errorf("%q: %v", zone, err)
		}
	}
}

// A plan over the end of a leap year and 160 weeks on: the zone's description
// holds every change in between.
func TestLongSeason(t *testing.T) {
	from := model.NewDate(2026, 9, 1)
	s := skerry("Europe/Oslo", from)
	s.To = from + 160*7 - 1
	p := drawn(rand.New(rand.NewPCG(7, 8)), s, s.To-10, true)
	p.From, p.To = s.From, s.To
	text := written(t, s, p, Options{})
	for _, change := range []string{"20260329T020000", "20261025T030000", "20270328T020000", "20271031T030000",
		"20280326T020000", "20281029T030000", "20290325T020000"} {
		if strings.Count(text, "DTSTART:"+change) != 1 {
			t.Errorf("the change of %s is not there once", change)
		}
	}
	if n := strings.Count(text, "TZOFFSETTO"); n != 7 {
		t.Errorf("%d changes, want 7", n)
	}
}

// RFC 5545, section 3.3.11: a backslash, a semicolon, a comma and the end of a
// line are escaped, a colon and a quotation mark are not. Its example, and all
// of them in a row; folded lines are unfolded first (section 3.1).
func TestEscapes(t *testing.T) {
	for text, want := range map[string]string{
		"Project XYZ Final Review\nConference Room - 3B\nCome Prepared.": `Project XYZ Final Review\nConference Room - 3B\nCome Prepared.`,
		"a\\b;c,d:e\"f\r\ng\rh\tij\\n":                                   `a\\b\;c\,d:e"f\ng\nh` + "\t" + `ij\\n`,
	} {
		s, p := week()
		s.Programmes[0].Parts[0].Work = text
		whole := strings.ReplaceAll(written(t, s, p, Options{}), "\r\n ", "")
		if !strings.Contains(whole, `\nslate = `+want+`\; A Tide tables`) {
			t.Errorf("%q is not written as %q:\n%s", text, want, whole)
		}
	}
}
