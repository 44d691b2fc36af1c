package seasonfile

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"primaprova/model"
)

// season reads a season whose first programme has its services from the
// events.
func calendarSeason(t *testing.T, zone, from string, events ...string) ([]model.Service, error) {
	t.Helper()
	dir := t.TempDir()
	write := func(name, text string) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	write("season.yaml", fmt.Sprintf(`title: T
time_zone: %s
from: 2027-03-01
to: 2027-11-30
programmes:
  - id: p
    services: [{rehearsal: 2027-11-30 10:00, lasts: 60 min}]
    services_from: %s
    parts: [{id: a, arrives: 2027-03-01, listening: 0 min, recordings: 0 min, passages: [{bars: 1-8, visits: [10 min]}]}]
`, zone, from))
	var b strings.Builder
	b.WriteString("BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//Skerry//EN\r\n")
	for i, e := range events {
		uid := fmt.Sprintf("UID:%d\n", i)
		if strings.Contains(e, "UID:") {
			uid = ""
		}
		b.WriteString(strings.ReplaceAll("BEGIN:VEVENT\n"+uid+e+"\nEND:VEVENT\n", "\n", "\r\n"))
	}
	b.WriteString("END:VCALENDAR\r\n")
	write("o.ics", b.String())
	f, err := Read(filepath.Join(dir, "season.yaml"))
	if err != nil {
		return nil, err
	}
	return f.Season.Programmes[0].Services[1:], nil
}

func show(list []model.Service) string {
	var out []string
	for _, v := range list {
		out = append(out, fmt.Sprintf("%s %s %s %s %d%%", v.Kind, v.Date, v.Start, v.Lasts, v.Playing))
	}
	return strings.Join(out, "\n")
}

func TestServicesFromCalendar(t *testing.T) {
	const tz = ";TZID=Europe/Oslo:"
	for _, c := range []struct {
		name, zone, from string
		events           []string
		want             string
	}{
		{"kinds, by categories before summary", "Europe/Oslo", "o.ics", []string{
			"SUMMARY:Rehearsal\\, concert hall\nDTSTART" + tz + "20270602T100000\nDTEND" + tz + "20270602T123000",
			"SUMMARY:Tide tables\nCATEGORIES:Work,CONCERT\nDTSTART" + tz + "20270605T193000\nDURATION:PT1H50M",
			"SUMMARY:Rehearsal video\nCATEGORIES:Performance\nDTSTART" + tz + "20270606T193000\nDURATION:PT110M",
			"SUMMARY:Concert\nSTATUS:CANCELLED\nDTSTART" + tz + "20270607T193000\nDURATION:PT110M",
			"SUMMARY:Concert long ago\nDTSTART" + tz + "20170607T193000\nDURATION:PT110M",
		}, `rehearsal 2027-06-02 10:00 150 min 65%
concert 2027-06-05 19:30 110 min 65%
concert 2027-06-06 19:30 110 min 65%`},
		{"UTC and another zone become local time", "Europe/Oslo", "o.ics", []string{
			"SUMMARY:Rehearsal\nDTSTART:20270602T080000Z\nDTEND:20270602T103000Z",
			"SUMMARY:Concert\nDTSTART;TZID=America/New_York:20270605T190000\nDURATION:PT2H",
			"SUMMARY:Rehearsal\nDTSTART;TZID=/vendor/Europe/London:20270603T090000\nDURATION:PT2H",
		}, `rehearsal 2027-06-02 10:00 150 min 65%
rehearsal 2027-06-03 10:00 120 min 65%
concert 2027-06-06 01:00 120 min 65%`},
		{"only what contains a text, with its own share", "Europe/Oslo", "{file: o.ics, containing: tide, from: 2027-06-02, to: 2027-06-05, playing: 70 %}", []string{
			"SUMMARY:Tide tables: rehearsal\nDTSTART:20270602T100000\nDURATION:PT2H",
			"SUMMARY:Rehearsal\nDESCRIPTION:for Tide tables\nDTSTART:20270603T100000\nDURATION:PT2H",
			"SUMMARY:Rehearsal\nDTSTART:20270604T100000\nDURATION:PT2H",
			"SUMMARY:Tide tables: concert\nDTSTART:20270606T190000\nDURATION:PT2H",
		}, `rehearsal 2027-06-02 10:00 120 min 70%
rehearsal 2027-06-03 10:00 120 min 70%`},
		{"a zone that is not known, with one that stands in for it", "Europe/Oslo", "{file: o.ics, time_zone: Europe/London}", []string{
			"SUMMARY:Rehearsal\nDTSTART;TZID=Skerry Standard Time:20270602T100000\nDURATION:PT2H",
		}, `rehearsal 2027-06-02 11:00 120 min 65%`},
		{"weekly, with an exception, a change and an extra one", "Europe/Oslo", "o.ics", []string{
			"UID:w\nSUMMARY:Rehearsal\nDTSTART" + tz + "20270324T100000\nDTEND" + tz + "20270324T120000\n" +
				"RRULE:FREQ=WEEKLY;UNTIL=20270421T080000Z\nEXDATE" + tz + "20270407T100000\nRDATE" + tz + "20270501T100000",
			"UID:w\nSUMMARY:Rehearsal\nRECURRENCE-ID" + tz + "20270414T100000\nDTSTART" + tz + "20270415T140000\nDURATION:PT1H",
		}, `rehearsal 2027-03-24 10:00 120 min 65%
rehearsal 2027-03-31 10:00 120 min 65%
rehearsal 2027-04-15 14:00 60 min 65%
rehearsal 2027-04-21 10:00 120 min 65%
rehearsal 2027-05-01 10:00 120 min 65%`},
		{"one of a series cancelled", "Europe/Oslo", "o.ics", []string{
			"UID:w\nSUMMARY:Rehearsal\nDTSTART" + tz + "20270601T100000\nDURATION:PT2H\nRRULE:FREQ=DAILY;COUNT=3",
			"UID:w\nSUMMARY:Rehearsal\nSTATUS:CANCELLED\nRECURRENCE-ID" + tz + "20270602T100000\nDTSTART" + tz + "20270602T100000\nDURATION:PT2H",
		}, `rehearsal 2027-06-01 10:00 120 min 65%
rehearsal 2027-06-03 10:00 120 min 65%`},
		{"a date for UNTIL holds its whole day", "Europe/Oslo", "o.ics", []string{
			"SUMMARY:Rehearsal\nDTSTART" + tz + "20270601T100000\nDURATION:PT2H\nRRULE:FREQ=DAILY;UNTIL=20270602",
		}, `rehearsal 2027-06-01 10:00 120 min 65%
rehearsal 2027-06-02 10:00 120 min 65%`},
		{"a series that never ends is cut at the season's end", "Europe/Oslo", "o.ics", []string{
			"SUMMARY:Rehearsal\nDTSTART" + tz + "20261115T100000\nDURATION:PT2H\nRRULE:FREQ=YEARLY",
			"SUMMARY:Rehearsal\nDTSTART" + tz + "20200601T100000\nDURATION:PT2H\nRRULE:FREQ=MONTHLY;INTERVAL=6",
		}, `rehearsal 2027-06-01 10:00 120 min 65%
rehearsal 2027-11-15 10:00 120 min 65%`},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := calendarSeason(t, c.zone, c.from, c.events...)
			if err != nil {
				t.Fatal(err)
			}
			if show(got) != c.want {
				t.Errorf("got:\n%s\nwant:\n%s", show(got), c.want)
			}
		})
	}
}

// TestInstants: RFC 5545, 3.3.5, its two examples from New York; the others
// recomputed from the IANA database (2026f) by the same rule.
func TestInstants(t *testing.T) {
	for _, c := range []struct{ zone, wall, want string }{
		{"America/New_York", "2007-03-11T02:30", "2007-03-11T07:30"}, // never
		{"America/New_York", "2007-11-04T01:30", "2007-11-04T05:30"}, // twice
		{"Europe/London", "2026-03-29T01:30", "2026-03-29T01:30"},
		{"Europe/London", "2026-10-25T01:30", "2026-10-25T00:30"},
		{"Australia/Lord_Howe", "2026-04-05T01:45", "2026-04-04T14:45"}, // by half an hour
		{"Africa/Cairo", "2026-04-24T00:30", "2026-04-23T22:30"},
		{"America/Santiago", "2026-09-06T00:30", "2026-09-06T04:30"},
		{"Europe/Oslo", "2027-06-01T10:00", "2027-06-01T08:00"},
		{"Europe/Oslo", "2027-03-28T10:00", "2027-03-28T08:00"}, // the day itself
		{"Europe/Oslo", "2027-03-27T10:00", "2027-03-27T09:00"}, // the day before
	} {
		zone, err := time.LoadLocation(c.zone)
		if err != nil {
			t.Fatal(err)
		}
		const form = "2006-01-02T15:04"
		wall, err := time.Parse(form, c.wall)
		if err != nil {
			t.Fatal(err)
		}
		if got := (stamp{wall: wall, zone: zone}).instant().UTC().Format(form); got != c.want {
			t.Errorf("%s in %s is %sZ, want %sZ", c.wall, c.zone, got, c.want)
		}
	}
}

// TestRecurrence: examples and answers printed in RFC 5545, 3.8.5.3. They test
// the library and what is put around it.
func TestRecurrence(t *testing.T) {
	zone, err := time.LoadLocation("America/New_York")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ start, rule, want string }{
		{"1997-08-05", "FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=MO", "08-05 08-10 08-19 08-24"},
		{"1997-08-05", "FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=SU", "08-05 08-17 08-19 08-31"},
		{"1997-09-02", "FREQ=DAILY;INTERVAL=10;COUNT=5", "09-02 09-12 09-22 10-02 10-12"},
		{"1997-09-02", "FREQ=WEEKLY;COUNT=10", "09-02 09-09 09-16 09-23 09-30 10-07 10-14 10-21 10-28 11-04"},
		{"1997-09-02", "FREQ=WEEKLY;UNTIL=19971007T000000Z;WKST=SU;BYDAY=TU,TH", "09-02 09-04 09-09 09-11 09-16 09-18 09-23 09-25 09-30 10-02"},
		{"1997-09-05", "FREQ=MONTHLY;UNTIL=19971224T000000Z;BYDAY=1FR", "09-05 10-03 11-07 12-05"},
		{"1997-09-04", "FREQ=MONTHLY;COUNT=3;BYDAY=TU,WE,TH;BYSETPOS=3", "09-04 10-07 11-06"},
		{"1997-09-30", "FREQ=MONTHLY;COUNT=4;BYMONTHDAY=1,-1", "09-30 10-01 10-31 11-01"},
		{"1997-09-29", "FREQ=MONTHLY;COUNT=4;BYDAY=MO,TU,WE,TH,FR;BYSETPOS=-2", "09-29 10-30 11-27 12-30"},
	} {
		wall, err := time.Parse("2006-01-02T15:04", c.start+"T09:00")
		if err != nil {
			t.Fatal(err)
		}
		e := event{start: stamp{wall: wall, zone: zone}, rule: c.rule}
		var got []string
		for _, at := range e.days(model.Range{From: model.NewDate(1997, 1, 1), To: model.NewDate(1997, 12, 31)}) {
			got = append(got, at.wall.Format("01-02"))
		}
		if s := strings.Join(got, " "); s != c.want {
			t.Errorf("%s from %s: %s, want %s", c.rule, c.start, s, c.want)
		}
	}
}

// TestDurations: the forms of RFC 5545, 3.3.6, its two examples first.
func TestDurations(t *testing.T) {
	for s, want := range map[string]time.Duration{"P15DT5H0M20S": 15*24*time.Hour + 5*time.Hour + 20*time.Second,
		"P7W": 7 * 7 * 24 * time.Hour, "PT2H30M": 150 * time.Minute, "+PT90M": 90 * time.Minute,
		"": -1, "P": -1, "2H": -1, "PT2": -1, "P2H": -1, "PTT2H": -1, "PT999999H": -1, "-PT2H": -1} {
		if got, ok := parseDuration(s); ok != (want >= 0) || ok && got != want {
			t.Errorf("%q is %v, %v", s, got, ok)
		}
	}
}
