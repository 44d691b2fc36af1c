package ical

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"primaprova/model"
)

func ptr[T any](v T) *T { return &v }

// skerry is a season of an invented orchestra with everything that is awkward
// to write in a calendar. Its hours lie at night, where the clocks change.
func skerry(zone string, from model.Date) *model.Season {
	return &model.Season{
		Title: "Säson; on, the \\ Skerry \"coast\": 1", TimeZone: zone, From: from, To: from + 30, Instrument: "double bass", Habits: model.DefaultHabits(), Limits: model.DefaultLimits(),
		Hours: model.ByDay[[]model.Span]{Every: []model.Span{{From: 0, To: 300}}},
		Programmes: []model.Programme{{
			ID: "tide", Title: "Tide, tables",
			Services: []model.Service{{Kind: model.Rehearsal, Date: from + 20, Start: 600, Lasts: 150}},
			Parts: []model.Part{{ID: "slate", Work: "Symphony in Slate; with, commas \\ and 旋律 enough of it that no line can hold the whole 交響曲 of it 🎻🎻🎻",
				Passages: []model.Passage{{ID: "45-61", Bars: "45-61", Exposed: true}, {ID: "coda", Bars: ""}}}},
		}},
	}
}

// drawn is a plan of some sessions at odd hours within four days of a date.
func drawn(r *rand.Rand, s *model.Season, near model.Date, timed bool) *model.Plan {
	p := &model.Plan{From: s.From, To: s.To, Calendar: "0011223344556677"}
	visit := func(passage string, k int) model.Session {
		return model.Session{ID: model.VisitID("tide/slate/"+passage, k), Stage: model.PassageStage, Playing: true,
			Part: "tide/slate", Passage: ptr("tide/slate/" + passage), Visit: ptr(k), Visits: ptr(3)}
	}
	all := []model.Session{
		{ID: "tide/slate/listening", Stage: model.ListeningStage, Part: "tide/slate"},
		{ID: "tide/slate/read-through", Stage: model.ReadStage, Playing: true, Part: "tide/slate"},
		{ID: "tide/slate/recordings", Stage: model.RecordingsStage, Part: "tide/slate"},
		{ID: "gone/away/listening", Stage: model.ListeningStage, Part: "gone/away"}, // not in the season
		visit("45-61", 1), visit("45-61", 2), visit("45-61", 3), visit("coda", 1), visit("unnamed-1", 3), visit("99-101", 2),
	}
	for _, v := range all {
		if r.IntN(8) == 0 {
			continue
		}
		v.Date = near + model.Date(r.IntN(5)-2)
		v.Minutes = model.Minutes(5 + 5*r.IntN(10))
		if timed {
			start := model.Clock(5 * r.IntN(60))
			v.Start, v.Ends = &start, ptr(start+model.Clock(v.Minutes)+model.Clock(5*r.IntN(2)))
		}
		p.Sessions = append(p.Sessions, v)
	}
	for d, day := range p.ByDate() {
		if r.IntN(2) == 0 {
			w := model.Session{ID: model.WarmUpID(d), Date: d, Minutes: 10, Stage: model.WarmUpStage, Playing: true}
			if first := day[0].Start; first != nil {
				w.Start, w.Ends = ptr(max(0, *first-10)), ptr(max(0, *first-10)+10)
			}
			p.Sessions = append(p.Sessions, w)
		}
	}
	return p
}

// changesNear are dates on which some zone's clocks change, and one on which none do.
var changesNear = []struct{ zone, date string }{
	{"America/New_York", "2007-03-11"}, {"America/New_York", "2007-11-04"},
	{"Europe/London", "2026-03-29"}, {"Europe/London", "2026-10-25"},
	{"Australia/Lord_Howe", "2026-04-05"}, {"Australia/Lord_Howe", "2026-10-04"},
	{"Africa/Cairo", "2026-04-24"}, {"Africa/Cairo", "2026-10-30"},
	{"America/Santiago", "2026-09-06"}, {"America/Santiago", "2027-04-04"},
	{"Europe/Dublin", "2026-10-25"}, {"Europe/Oslo", "2028-12-31"}, {"Asia/Kolkata", "2026-05-01"}, {"UTC", "2026-03-29"},
	{"America/Argentina/Buenos_Aires", "2026-05-01"},
}

func dated(t testing.TB, s string) model.Date {
	t.Helper()
	d, err := model.ParseDate(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func written(t testing.TB, s *model.Season, p *model.Plan, o Options) string {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, s, p, o); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// told gives an instant as the readers' answers do.
func told(t time.Time) string { return t.UTC().Format(utcForm) }

// calls is what the wanted events are written with.
var calls = Options{Entries: Sessions, Services: true, Alarm: ptr(model.Minutes(15)), DayAlarm: ptr(model.Clock(450))}

// wanted gives the events that a reader must find, from the plan alone.
func wanted(t testing.TB, s *model.Season, p *model.Plan) map[string]event {
	t.Helper()
	zone, out := load(t, s.TimeZone), map[string]event{}
	add := func(id, status string, sequence int, d model.Date, start, ends *model.Clock, minutes model.Minutes) {
		e := event{ID: id, Sequence: sequence, Status: status, Alarms: []string{},
			Stamp: told(s.From.Time().Add(time.Duration(sequence) * time.Second)), Start: d.String(), End: (d + 1).String()}
		if start != nil {
			from := Instant(d, *start, zone)
			to := from.Add(time.Duration(minutes) * time.Minute)
			if ends != nil {
				if clock := Instant(d, *ends, zone); clock.After(from) {
					to = clock
				} else {
					to = from.Add(time.Duration(*ends-*start) * time.Minute)
				}
			} else if clock := Instant(d, *start+model.Clock(minutes), zone); clock.After(from) {
				to = clock
			}
			e.Start, e.End = told(from), told(to)
		}
		out[id] = e
	}
	for _, v := range p.Sessions {
		add(v.ID, "CONFIRMED", v.Sequence, v.Date, v.Start, v.Ends, v.Minutes)
	}
	for _, day := range p.ByDate() {
		for i, v := range day {
			e := out[v.ID]
			switch {
			case v.Start == nil && i == 0: // as long after midnight as that morning has
				passed := Instant(v.Date, *calls.DayAlarm, zone).Sub(Instant(v.Date, 0, zone))
				e.Alarms = []string{v.Date.Time().Add(passed).Format("2006-01-02T15:04:05")}
			case v.Start != nil && (i == 0 || *day[i-1].Ends < *v.Start):
				e.Alarms = []string{told(Instant(v.Date, *v.Start, zone).Add(-time.Duration(*calls.Alarm) * time.Minute))}
			}
			out[v.ID] = e
		}
	}
	for _, programme := range s.Programmes {
		for _, v := range programme.Services {
			add(fmt.Sprintf("service/%s/%s/%s", programme.ID, v.Date, v.Start), "CONFIRMED", 0, v.Date, &v.Start, nil, v.Lasts)
		}
	}
	for _, g := range p.Cancelled {
		add(g.ID, "CANCELLED", g.Sequence, g.Date, g.Start, nil, g.Minutes)
	}
	return out
}

func name(zone string, k int) string { return fmt.Sprintf("%s plan %d", zone, k) }
