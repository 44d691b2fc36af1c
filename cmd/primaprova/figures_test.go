package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"html"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"primaprova/io/chart"
	"primaprova/io/ical"
	"primaprova/io/page"
	"primaprova/io/wall"
	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver"
)

// figures are what one output says of a season: of each week the playing, the most
// there may be and what belongs to no programme, of each programme the day it stands ready and what it lacks.
type figures struct {
	weeks      []string // "12:46 of 17:00", "12:46 of 17:00, 0:30 otherwise"
	programmes []string // "2027-02-03, 0", or "-, 12"
}

// tenSeasons gives seasons of all kinds, with days that are no room, with services
// on some of them and lessons given in some, and for each a plan that need not be good.
func tenSeasons(t *testing.T) []*view {
	t.Helper()
	var out []*view
	for i, z := range invent.Sizes(7)[:10] {
		s := invent.Season(z.Size)
		s.Title = z.Name
		s.Limits.DaysOff = append(s.Limits.DaysOff, model.Range{From: s.From + 2, To: s.From + 3})
		s.Limits.Playing.Dates = append(s.Limits.Playing.Dates, model.Dated[model.Minutes]{Range: model.Range{From: s.From + 4, To: s.From + 4}})
		first := s.Programmes[0].FirstRehearsal()
		s.Limits.RestDates = append(s.Limits.RestDates, model.Range{From: first, To: first}) // it stands all the same
		if i%3 == 0 {
			s.Other = []model.Other{{Title: "Lessons", Weekdays: []time.Weekday{time.Tuesday, time.Saturday}, Lasts: 50, Playing: 60}}
		}
		p, err := solver.Greedy(s, solver.Options{})
		if err != nil {
			t.Fatal(z.Name, err)
		}
		if i%2 == 1 { // one part is let go of altogether
			part := p.Sessions[len(p.Sessions)-1].Part
			for _, v := range p.Sessions {
				if v.Part == part {
					p.Unplaced = append(p.Unplaced, model.Unplaced{ID: v.ID, Stage: v.Stage, Part: v.Part, Passage: v.Passage, Visit: v.Visit, Minutes: v.Minutes})
				}
			}
			p.Sessions = slices.DeleteFunc(p.Sessions, func(v model.Session) bool { return v.Part == part && part != "" })
			s.Finish(p)
		}
		out = append(out, newView(&voice{locale: model.DefaultLocale()}, s, p, nil))
	}
	return out
}

// TestOneSetOfNumbers compares what terminal, JSON, page, chart and wall say of
// ten seasons.
func TestOneSetOfNumbers(t *testing.T) {
	lacking, otherwise := 0, 0
	for _, w := range tenSeasons(t) {
		var words bytes.Buffer
		w.say.out, w.say.width = &words, 120
		outputs := map[string]figures{"JSON": w.inJSON(t), "terminal": w.inTerminal(t, &words), "page": w.inPage(t), "chart": w.inChart(t), "wall": w.onWall(t)}
		want := outputs["JSON"]
		m := w.Season.Measure(w.Plan, nil, nil)
		if words := w.timeWords(); strings.Contains(words, "Every passage is done by its ready-by date") != (m[model.ReadyBy] == 0) {
			t.Errorf("%s: %v passage-days late, and %q", w.Season.Title, m[model.ReadyBy], words)
		}
		for _, p := range want.programmes {
			if strings.HasPrefix(p, "-") {
				lacking++
			}
		}
		for _, x := range want.weeks {
			if strings.HasSuffix(x, "otherwise") {
				otherwise++
			}
		}
		for name, got := range outputs {
			weeks := want.weeks
			if name == "wall" { // a week off has no sheet
				weeks = slices.DeleteFunc(slices.Clone(weeks), func(s string) bool { return s == "0:00 of 0:00" })
			}
			if name != "chart" && !slices.Equal(got.weeks, weeks) { // which draws weeks and names no figures
				t.Errorf("%s, %s: weeks %q, in JSON %q", w.Season.Title, name, got.weeks, weeks)
			}
			if !slices.Equal(got.programmes, want.programmes) {
				t.Errorf("%s, %s: programmes %q, in JSON %q", w.Season.Title, name, got.programmes, want.programmes)
			}
		}
	}
	for _, w := range tenSeasons(t) {
		planned := map[model.Date]model.Minutes{}
		for _, l := range w.weekLoads().Weeks {
			if l.Planned > 0 {
				planned[l.From.Monday()] = l.Planned
			}
		}
		if got := w.inCalendar(t); !maps.Equal(got, planned) {
			t.Errorf("%s, calendar: planned playing of weeks %v, in JSON %v", w.Season.Title, got, planned)
		}
	}
	if otherwise < 10 {
		t.Errorf("%d weeks have other playing: too few to compare", otherwise)
	}
	if lacking < 3 {
		t.Errorf("%d programmes lack something: too few to show that those are never called ready", lacking)
	}
}

func (w *view) inJSON(t *testing.T) (out figures) {
	t.Helper()
	var loads loadsView
	var all []programmeView
	for _, x := range []struct{ from, to any }{{w.weekLoads(), &loads}, {w.programmes(), &all}} {
		b, err := json.Marshal(x.from)
		if err == nil {
			err = json.Unmarshal(b, x.to)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	for _, l := range loads.Weeks {
		out.weeks = append(out.weeks, played(l.load(), l.Cap, l.Other))
	}
	for _, p := range all {
		ready, lacks, whole := model.Date(0), 0, true
		for _, s := range p.Parts {
			ready, lacks, whole = max(ready, s.Ready), lacks+s.LeftOut, whole && s.Ready != 0
		}
		if !whole {
			ready = 0
		}
		out.programmes = append(out.programmes, says(ready, lacks))
	}
	return out
}

func played(all, most, otherwise model.Minutes) string {
	out := all.Hours() + " of " + most.Hours()
	if otherwise > 0 {
		out += ", " + otherwise.Hours() + " otherwise"
	}
	return out
}

// hoursIn reads the hours that an expression finds in a text; 0 where it finds none.
func hoursIn(text, expression string) model.Minutes {
	found := regexp.MustCompile(strings.ReplaceAll(expression, "#", `(\d+):(\d+)`)).FindStringSubmatch(text)
	if found == nil {
		return 0
	}
	h, _ := strconv.Atoi(found[1])
	m, _ := strconv.Atoi(found[2])
	return model.Minutes(60*h + m)
}

var icalDay = regexp.MustCompile(`(?s)BEGIN:VEVENT\r\n(.*?)END:VEVENT`)

// inCalendar gives the planned playing of each week by its Monday, as the entries of
// a calendar of days say it.
func (w *view) inCalendar(t *testing.T) map[model.Date]model.Minutes {
	t.Helper()
	var b bytes.Buffer
	if err := ical.Write(&b, w.Season, w.Plan, ical.Options{Entries: ical.Days, Locale: w.say.locale}); err != nil {
		t.Fatal(err)
	}
	out := map[model.Date]model.Minutes{}
	unfolded := strings.ReplaceAll(b.String(), "\r\n ", "") // RFC 5545, section 3.1
	for _, event := range icalDay.FindAllStringSubmatch(unfolded, -1) {
		on := regexp.MustCompile(`DTSTART;VALUE=DATE:(\d{4})(\d{2})(\d{2})`).FindStringSubmatch(event[1])
		sum := regexp.MustCompile(`SUMMARY:.*?(\d+) min playing`).FindStringSubmatch(event[1])
		if on == nil || sum == nil {
			continue // a day of listening, or one with hours
		}
		d, err := model.ParseDate(on[1] + "-" + on[2] + "-" + on[3])
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		fmt.Sscan(sum[1], &n)
		out[d.Monday()] += model.Minutes(n)
	}
	return out
}

func says(ready model.Date, lacks int) string {
	if ready == 0 {
		return fmt.Sprintf("-, %d", lacks)
	}
	return fmt.Sprintf("%s, %d", ready, lacks)
}

var weekSum = regexp.MustCompile(`(?:Playing|No playing)[^.]*\. Listening`)

func (w *view) inTerminal(t *testing.T, words *bytes.Buffer) (out figures) {
	t.Helper()
	for d := w.Season.From; d <= w.Season.To; d = d.Monday() + 7 {
		words.Reset()
		say, _, err := showWeek(w, d, "")
		if err != nil {
			t.Fatal(err)
		}
		say()
		said := strings.Join(strings.Fields(weekSum.FindString(words.String())), " ")
		if said == "" {
			t.Fatalf("no sum of the week in\n%s", words)
		}
		most, otherwise := hoursIn(said, "of #"), hoursIn(said, "# otherwise")
		all := hoursIn(said, "# here") + hoursIn(said, "# in services") + otherwise
		switch {
		case strings.HasPrefix(said, "No playing"): // of how much is not said then
			sum := w.Loads().During(model.Range{From: d.Monday(), To: d.Monday() + 6})
			most = sum.Most
		case all == 0: // "Playing 2:55 of 9:00."
			all = hoursIn(said, "Playing #")
		case most == 0: // "Playing 2:00 in services."
			most = all
		}
		out.weeks = append(out.weeks, played(all, most, otherwise))
	}
	for _, r := range w.programmesTable(w.programmes()).Rows {
		out.programmes = append(out.programmes, w.dated(r[2])+", "+r[5])
	}
	return out
}

// dated turns a day as people read it into its date; "-" where there is none.
func (w *view) dated(text string) string {
	for d := w.Season.From; d <= w.Season.To; d++ {
		if w.say.locale.Day(d) == text {
			return d.String()
		}
	}
	return "-"
}

var (
	pageWeek      = regexp.MustCompile(`<summary><h3>Week \d+ <span class="quiet">[^<]*</span></h3> <span class="sum">([^<]*)</span>`)
	pageProgramme = regexp.MustCompile(`data-name="stands ready">([^<]*)</td>.*data-name="left out">([^<]*)</td>`)
)

func (w *view) inPage(t *testing.T) (out figures) {
	t.Helper()
	var b bytes.Buffer
	if err := page.Write(&b, w.Season, w.Plan, nil, page.Options{Locale: w.say.locale}); err != nil {
		t.Fatal(err)
	}
	for _, m := range pageWeek.FindAllStringSubmatch(b.String(), -1) {
		all, most, otherwise := hoursIn(m[1], "^#"), hoursIn(m[1], "of #"), hoursIn(m[1], "# otherwise")
		if !strings.Contains(m[1], " of ") {
			most = all
		}
		if strings.HasSuffix(m[1], ", otherwise") {
			otherwise = all
		}
		out.weeks = append(out.weeks, played(all, most, otherwise))
	}
	for _, m := range pageProgramme.FindAllStringSubmatch(b.String(), -1) {
		out.programmes = append(out.programmes, w.dated(m[1])+", "+m[2])
	}
	return out
}

var (
	svgText   = regexp.MustCompile(`<text[^>]*>([^<]*)</text>`)
	svgMargin = regexp.MustCompile(`^(?:(\d+) days?|not ready|nothing is planned)(?:, (\d+) left out)?, first rehearsal [^,]*(?:, (\d+) left out)?$`)
)

func (w *view) inChart(t *testing.T) (out figures) {
	t.Helper()
	var b bytes.Buffer
	o := chart.Options{Format: chart.SVG, Panels: []chart.Panel{chart.Margins}, Locale: w.say.locale}
	if _, err := chart.Write(&b, w.Season, w.Plan, nil, o); err != nil {
		t.Fatal(err)
	}
	for _, m := range svgText.FindAllStringSubmatch(b.String(), -1) {
		f := svgMargin.FindStringSubmatch(html.UnescapeString(m[1]))
		if f == nil {
			continue
		}
		ready, lacks, days := "-", "0", 0
		if f[1] != "" {
			fmt.Sscan(f[1], &days)
			ready = (w.Season.Programmes[len(out.programmes)].FirstRehearsal() - model.Date(days)).String()
		}
		if n := f[2] + f[3]; n != "" {
			lacks = n
		}
		out.programmes = append(out.programmes, ready+", "+lacks)
	}
	return out
}

// onWall reads sheets of weeks with a program that shares no code with ours. They
// say of each week its hours, and of a programme what it lacks; when it is ready
// they don't say, so that is taken over.
func (w *view) onWall(t *testing.T) (out figures) {
	t.Helper()
	var b bytes.Buffer
	o := wall.Options{Locale: w.say.locale, Sheets: []wall.Sheet{wall.Weeks, wall.Parts}}
	if _, err := wall.Write(&b, w.Season, w.Plan, nil, o); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "wall.pdf")
	if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	texts := pdfTexts(t, path)
	lacks := map[string]string{}
	most := model.Minutes(0)
	for _, text := range texts {
		if m := wallWeek.FindStringSubmatch(text); m != nil {
			if m[2] == "" || m[2] == "1" { // a full week goes on on another page
				out.weeks, most = append(out.weeks, ""), 0
			}
			for _, day := range wallDay.FindAllStringSubmatch(text, -1) {
				n := 0
				fmt.Sscan(day[1], &n)
				most += model.Minutes(n)
			}
			out.weeks[len(out.weeks)-1] = played(hoursIn(m[3], "#"), most, hoursIn(text, "# of it otherwise"))
		}
		for _, m := range wallProgramme.FindAllStringSubmatch(text, -1) {
			if lacks[m[1]] = m[2]; m[2] == "" {
				lacks[m[1]] = "0"
			}
		}
	}
	for i, p := range w.inJSON(t).programmes {
		ready, _, _ := strings.Cut(p, ",")
		out.programmes = append(out.programmes, ready+", "+lacks[fmt.Sprint(i+1)])
	}
	return out
}

var (
	wallWeek      = regexp.MustCompile(`^Week (\d+), \d+(?:, page (\d+) of \d+)?[^\d].* (\d+:\d+) of playing`)
	wallDay       = regexp.MustCompile(`(?m)^\d+/(\d+)\r?$`)
	wallProgramme = regexp.MustCompile(`(?m)^[A-Z] Programme (\d+)\r?\n(?:ready by [^\n]*?, )?first rehearsal [^\n]*?(?:, (\d+) left out)?\r?$`)
)

func pdfTexts(t *testing.T, path string) []string {
	texts, _ := pdfRead(t, path)
	return texts
}

// pdfRead gives the text of each page and the size of its smallest letters, as a
// program with no code of ours reads them.
func pdfRead(t *testing.T, path string) (texts []string, least []float64) {
	t.Helper()
	where, err := filepath.Abs("../../.deps/python")
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("python3", "../../testdata/python/sheets.py")
	cmd.Env = append(os.Environ(), "PYTHONPATH="+where, "PYTHONDONTWRITEBYTECODE=1")
	cmd.Stdin = strings.NewReader(fmt.Sprintf(`{"files": [{"path": %q}]}`, path))
	got, err := cmd.Output()
	if err != nil {
		t.Fatalf("sheets.py: %v", err)
	}
	var answer struct {
		Files []struct {
			Texts []string  `json:"texts"`
			Least []float64 `json:"least"`
		} `json:"files"`
	}
	if err := json.Unmarshal(got, &answer); err != nil {
		t.Fatal(err)
	}
	return answer.Files[0].Texts, answer.Files[0].Least
}
