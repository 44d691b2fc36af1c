package seasonfile

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

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
