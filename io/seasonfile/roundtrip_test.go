package seasonfile

import (
	"fmt"
	"os"
	"path/filepath"
	"sort"
	"strconv"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"primaprova/model"
)

// works writes the key of a service in which not all is played.
func works(ids []string) string {
	if len(ids) == 0 {
		return ""
	}
	return ", works: " + listText(ids, strconv.Quote)
}

// written writes a season in full, every key given. It is the other half of
// the round trip: what is read, written and read again means the same.
func written(s *model.Season) string {
	var b strings.Builder
	p := func(form string, args ...any) { fmt.Fprintf(&b, form, args...) }
	text := strconv.Quote
	p("title: %s\ntime_zone: %s\nfrom: %s\nto: %s\n", text(s.Title), text(s.TimeZone), s.From, s.To)
	if s.Instrument != "" {
		p("instrument: %s\n", text(s.Instrument))
	}
	l := &s.Limits
	p("limits:\n  playing: %s\n", byDayText(l.Playing, func(m model.Minutes) string { return m.String() }))
	var rest []string
	for _, d := range l.RestDays {
		rest = append(rest, weekdayNames[d])
	}
	for _, d := range l.RestDates {
		rest = append(rest, d.String())
	}
	p("  rest_days: [%s]\n  days_off: %s\n", strings.Join(rest, ", "), listText(l.DaysOff, model.Range.String))
	if len(l.Played) > 0 {
		p("  played: %s\n", listText(l.Played, model.Range.String))
	}
	p("  warm_up: %s\n  listening: %s\n  passages: %d\n  block: %s\n  block_rest: %s\n", l.WarmUp, l.Listening, l.Passages, l.Block, l.BlockRest)
	p("  heavy: %d %%\n  rise: %d%%\n  rise_floor: %d\n  light: %d %%\n", l.Heavy, l.Rise, l.RiseFloor, l.Light)
	p("  service_gap: %s\n  tours: %s\n  before_concert: %d %%\n  new_on_concerts: %v\n  two_services: %s\n", l.ServiceGap,
		listText(l.Tours, model.Range.String), l.BeforeConcert, l.NewOnConcerts, l.TwoServices)
	p("  return: {after: %d days, ill: %d days, first: %d %%, rise: %s}\n  light_days: %d\n", l.Return.After, l.Return.Ill, l.Return.First, l.Return.Rise, l.LightDays)
	if s.HasHours() {
		p("  quiet: %s\n  latest: %s\n", byDayText(l.Quiet, func(v []model.Span) string { return listText(v, model.Span.String) }), byDayText(l.Latest, model.Clock.String))
		p("hours: %s\n", byDayText(s.Hours, func(v []model.Span) string { return listText(v, model.Span.String) }))
	}
	h := &s.Habits
	number := func(n int) string { return fmt.Sprint(n) }
	p("habits:\n  step: %s\n  visits: %s\n  first: %s\n  shares: %s\n", h.Step, listText(h.Visits[1:], number),
		listText(h.First[1:], model.Minutes.String), listText(h.Shares, func(n int) string { return fmt.Sprintf("%d %%", n) }))
	p("  least_gaps: %s\n  preferred_gaps: %s\n  short_gaps: %v\n  upkeep: %s\n  upkeep_after: %d\n", listText(h.LeastGaps, func(n int) string { return fmt.Sprintf("%d days", n) }), listText(h.PreferredGaps, number), h.ShortGaps, h.Upkeep, h.UpkeepAfter)
	p("  ready_days: %d\n  fresh_days: %d days\n  last_days: %d\n  exposed_weight: %d\n", h.ReadyDays, h.FreshDays, h.LastDays, h.ExposedWeight)
	p("  visit_values: %s\n  whole_parts: %v\n  listen_value: %d\n  read_value: %d\n  record_value: %d\n", listText(h.VisitValues, number), h.WholeParts, h.ListenValue, h.ReadValue, h.RecordValue)
	p("  listening: %s\n  read_through: %s\n  recordings: %s\n  service_playing: %d\n  tempo_steps: %d\n  service_travel: %s\n", h.Listening, h.ReadThrough, h.Recordings, h.ServicePlaying, h.TempoSteps, h.ServiceTravel)
	p("  part_changes: %s\n", h.PartChanges)
	if s.HasHours() {
		p("  listening_hours: %s\n", byDayText(h.ListeningHours, func(v []model.Span) string { return listText(v, model.Span.String) }))
	}
	p("programmes:\n")
	for i := range s.Programmes {
		g := &s.Programmes[i]
		p("  - id: %s\n    title: %s\n    level: %s\n    services:\n", text(g.ID), text(g.Title), g.Level)
		for _, v := range g.Services {
			p("      - {%s: %s %s, lasts: %s, playing: %d %%, travel: %s, level: %s%s}\n", v.Kind, v.Date, v.Start, v.Lasts, v.Playing, v.Travel, v.Level, works(v.Works))
		}
		p("    parts:\n")
		for _, a := range g.Parts {
			p("      - id: %s\n        work: %s\n        arrives: %s\n        listening: %s\n        read_through: %s\n        recordings: %s\n        estimate: %s\n",
				text(a.ID), text(a.Work), a.Arrives, a.Listening, a.ReadThrough, a.Recordings, a.Estimate)
			if len(a.Passages) > 0 {
				p("        passages:\n")
			}
			for _, q := range a.Passages {
				p("          - {id: %s, bars: %s, hard: %d, exposed: %v, minutes: %d", text(q.ID), text(q.Bars), q.Hard, q.Exposed, q.Minutes)
				if len(q.Visits) > 0 {
					p(", visits: %s", listText(q.Visits, model.Minutes.String))
				}
				if q.Daily {
					p(", daily: yes")
				}
				if q.Due != 0 {
					p(", due: %s", q.Due)
				}
				if q.Found != 0 {
					p(", found: %s", q.Found)
				}
				if q.Tempo.Now != 0 {
					p(", tempo: {now: %d, goal: %d}", q.Tempo.Now, q.Tempo.Goal)
				} else if q.Tempo.Goal != 0 {
					p(", tempo: {goal: %d}", q.Tempo.Goal)
				}
				if q.Strains != "" {
					p(", strains: %s", text(q.Strains))
				}
				p("}\n")
			}
		}
	}
	for i, pin := range s.Pins {
		if i == 0 {
			p("pins:\n")
		}
		p("  - {session: %s, date: %s}\n", text(pin.Session), pin.Date)
	}
	return b.String()
}

func listText[T any](list []T, one func(T) string) string {
	var out []string
	for _, v := range list {
		out = append(out, one(v))
	}
	return "[" + strings.Join(out, ", ") + "]"
}

func byDayText[T any](b model.ByDay[T], one func(T) string) string {
	out := []string{everyDay + ": " + one(b.Every)}
	var days []int
	for d := range b.Weekday {
		days = append(days, int(d))
	}
	sort.Ints(days)
	for _, d := range days {
		out = append(out, weekdayNames[d]+": "+one(b.Weekday[time.Weekday(d)]))
	}
	for _, d := range b.Dates {
		out = append(out, d.Range.String()+": "+one(d.Value))
	}
	return "{" + strings.Join(out, ", ") + "}"
}

// roundTrip writes a season and reads it again.
func roundTrip(s *model.Season) error {
	text := written(s)
	f, err := Parse("again.yaml", []byte(text))
	if err != nil {
		return fmt.Errorf("%w\n%s", err, text)
	}
	// Absent and empty lists mean the same.
	if got, want := fmt.Sprintf("%+v", f.Season), fmt.Sprintf("%+v", s); got != want {
		return fmt.Errorf("read again it is\n%s\nit was\n%s", got, want)
	}
	for path, p := range f.Places {
		if p.Offset < 0 || p.Offset > len(text) || p.End > len(text) {
			return fmt.Errorf("%s stands at %d..%d of %d bytes", path, p.Offset, p.End, len(text))
		}
	}
	return nil
}

func TestSeasonsRoundTrip(t *testing.T) {
	for _, name := range []string{"small.yaml", "demo/season.yaml"} {
		f, err := Read(filepath.Join("../../testdata/seasons", name))
		if err != nil {
			t.Fatal(err)
		}
		if len(f.Warnings) > 0 {
			t.Errorf("%s:\n%s", name, Text(f.Warnings))
		}
		if err := roundTrip(f.Season); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestAnySeasonRoundTrips draws seasons without sense but without fault.
func TestAnySeasonRoundTrips(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		small := rapid.IntRange(1, 60)
		minutes := func(name string) model.Minutes { return model.Minutes(small.Draw(t, name)) }
		words := rapid.StringMatching(`[ -~æøåÆ–"']{0,12}[a-z"':#]`)
		line := func(name string) string { return strings.TrimSpace(words.Draw(t, name)) }
		from := model.NewDate(2027, 1, 11) + model.Date(rapid.IntRange(0, 300).Draw(t, "from"))
		day := func(name string, least, most int) model.Date {
			return from + model.Date(rapid.IntRange(least, most).Draw(t, name))
		}
		s := &model.Season{Title: line("title"), TimeZone: "Europe/Oslo", From: from, To: from + 60, Instrument: line("instrument"),
			Limits: model.DefaultLimits(), Habits: model.DefaultHabits()}
		s.Limits.Playing = model.ByDay[model.Minutes]{Every: 300, Weekday: map[time.Weekday]model.Minutes{
			time.Weekday(rapid.IntRange(0, 6).Draw(t, "weekday")): 200 + minutes("cap")},
			Dates: []model.Dated[model.Minutes]{{Range: model.Range{From: day("d1", 0, 20), To: day("d2", 20, 60)}, Value: 200 + minutes("cap")}}}
		s.Limits.RestDates = []model.Range{{From: day("rest", 30, 60), To: from + 60}}
		s.Limits.ServiceGap, s.Limits.TwoServices, s.Limits.BeforeConcert = minutes("gap"), minutes("two"), small.Draw(t, "before")
		s.Limits.LightDays = small.Draw(t, "light days")
		s.Limits.Return = model.Return{After: small.Draw(t, "after"), Ill: small.Draw(t, "ill"), First: small.Draw(t, "first"), Rise: minutes("rise")}
		s.Limits.Tours = []model.Range{{From: day("tour", 0, 20), To: from + 20}}
		s.Limits.NewOnConcerts = rapid.Bool().Draw(t, "new")
		s.Habits.ServiceTravel = minutes("travel")
		s.Limits.WarmUp, s.Limits.Passages = minutes("warm-up"), small.Draw(t, "passages")
		s.Habits.Step, s.Habits.ShortGaps = 5, rapid.Bool().Draw(t, "short gaps")
		s.Habits.Upkeep, s.Habits.UpkeepAfter = minutes("upkeep"), 1+small.Draw(t, "upkeep after")
		s.Habits.PartChanges = model.PartChanges(rapid.IntRange(0, 2).Draw(t, "part changes"))
		s.Habits.Shares = rapid.SliceOfN(small, 1, 5).Draw(t, "shares")
		if rapid.Bool().Draw(t, "hours") {
			s.Hours.Every = []model.Span{{From: 540, To: 720}, {From: 720, To: model.Clock(800 + small.Draw(t, "to"))}}
			s.Limits.Quiet.Every = []model.Span{{From: 0, To: model.Clock(small.Draw(t, "quiet"))}}
			s.Habits.ListeningHours.Every = []model.Span{{From: 560, To: model.Clock(570 + small.Draw(t, "listening"))}}
			s.Limits.Latest = model.ByDay[model.Clock]{Every: model.Clock(1300 + small.Draw(t, "latest")), Weekday: map[time.Weekday]model.Clock{time.Friday: 0}}
		}
		for i := range rapid.IntRange(1, 3).Draw(t, "programmes") {
			p := model.Programme{ID: fmt.Sprintf("p%d", i), Title: line("programme"), Level: model.Level(400 + 10*small.Draw(t, "level"))}
			p.Services = append(p.Services, model.Service{Kind: rapid.SampledFrom(model.ServiceKinds).Draw(t, "kind"), Date: day("rehearsal", 40, 60),
				Start: model.Clock(rapid.IntRange(0, 1439).Draw(t, "start")), Lasts: minutes("lasts"), Playing: rapid.IntRange(0, 100).Draw(t, "playing"), Travel: minutes("way"), Level: model.Level(405 + 10*small.Draw(t, "decibels"))})
			for j := range rapid.IntRange(1, 3).Draw(t, "parts") {
				a := model.Part{ID: fmt.Sprintf("a%d", j), Work: line("work"), Arrives: day("arrives", -5, 10),
					Listening: minutes("listening"), ReadThrough: minutes("read"), Recordings: minutes("recordings"), Estimate: 10 * minutes("estimate")}
				for k := range rapid.IntRange(0, 3).Draw(t, "passages") {
					q := model.Passage{ID: fmt.Sprintf("b%d", k), Bars: "bar " + line("bars"), Hard: rapid.IntRange(1, 3).Draw(t, "hard"),
						Exposed: rapid.Bool().Draw(t, "exposed"), Daily: rapid.Bool().Draw(t, "daily"), Minutes: minutes("minutes")}
					if rapid.Bool().Draw(t, "due") {
						q.Due = day("due", 38, 40)
					}
					if rapid.Bool().Draw(t, "tempo") {
						q.Tempo.Goal = model.Tempo(rapid.IntRange(40, 208).Draw(t, "goal"))
						q.Tempo.Now = rapid.SampledFrom([]model.Tempo{0, 40, q.Tempo.Goal}).Draw(t, "now")
						q.Strains = line("strains")
					}
					if rapid.Bool().Draw(t, "own") {
						q.Visits = []model.Minutes{minutes("visit"), minutes("visit")}
					}
					a.Passages = append(a.Passages, q)
				}
				p.Parts = append(p.Parts, a)
				if rapid.Bool().Draw(t, "second service") {
					later := p.Services[0]
					later.Date, later.Works = from+60, []string{a.ID}
					p.Services = append(p.Services, later)
				}
			}
			s.Programmes = append(s.Programmes, p)
		}
		if err := roundTrip(s); err != nil {
			t.Fatal(err)
		}
	})
}

// FuzzRead: reading never panics and never loops; what is read without fault
// means the same when written and read again; and every place lies in the file.
func FuzzRead(f *testing.F) {
	for _, name := range []string{"small.yaml", "demo/season.yaml"} {
		b, err := os.ReadFile(filepath.Join("../../testdata/seasons", name))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(b[:min(len(b), 3000)])
	}
	for _, s := range []string{"", "a", "[", "{}", "? [a]: b", "title: \"x", "title: 'it''s'\n", "- - - -", "a: &a [*a]",
		"\ufefftitle: x", "title: |\n  x\n", "%YAML 1.1\n---\ntitle: x", "a: 1\r\nb: 2\u0085c: 3",
		"programmes: [{id: a, parts_from: ., services_from: {file: .}}]", "hours: {every day: [00:00-24:00]}"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		if strings.Contains(string(b), "_from") {
			// Other files are not the fuzzer's to choose.
			b = []byte(strings.ReplaceAll(string(b), "_from", "_form"))
		}
		got, err := Parse("fuzz.yaml", b)
		if err != nil {
			if strings.TrimSpace(err.Error()) == "" {
				t.Fatal("a fault without words")
			}
			return
		}
		for path, p := range got.Places {
			if p.Offset < 0 || p.Offset > len(b) || p.End > len(b) || p.End >= 0 && p.End < p.Offset {
				t.Fatalf("%s stands at %d..%d of %d bytes", path, p.Offset, p.End, len(b))
			}
		}
		if err := roundTrip(got.Season); err != nil {
			t.Fatal(err)
		}
	})
}

// FuzzPartTable: no table makes the reader panic.
func FuzzPartTable(f *testing.F) {
	f.Add("id,arrives\na,2027-03-01\n")
	f.Add("programme;id;arrives;estimate\np;a;2027-03-01;60 min\nq;b;;\n")
	f.Add("id\tarrives\n\"a\n")
	f.Fuzz(func(t *testing.T, s string) {
		r := &reader{file: "s.yaml", places: map[string]Place{}, spoiled: map[string]bool{}, above: map[string]bool{}}
		season := &model.Season{Programmes: []model.Programme{{ID: "p"}}}
		r.partTable("p.csv", []byte(s), "programmes[0]", season, &season.Programmes[0])
	})
}

// FuzzOtherTables: nor does one of passages, or of a whole season.
func FuzzOtherTables(f *testing.F) {
	f.Add("part,bars\na,1-8\n")
	f.Add("programme;part;bars;tempo;hard\np;a;1-8;60-90;hard\nq;b;;;\n")
	f.Add(oneTable)
	f.Fuzz(func(t *testing.T, s string) {
		r := &reader{file: "s.yaml", places: map[string]Place{}, spoiled: map[string]bool{}, above: map[string]bool{}}
		season := &model.Season{Programmes: []model.Programme{{ID: "p", Parts: []model.Part{{ID: "a"}}}}}
		r.passageTable("p.csv", []byte(s), "programmes[0]", season, &season.Programmes[0])
		all := &sheets{r: r, habits: model.DefaultHabits(), base: model.NewDate(2027, 1, 4), rows: map[string]row{}, lasts: map[string]model.Service{}}
		all.table("s.csv", []byte(s))
		all.days(&Start{}, all.base)
	})
}
