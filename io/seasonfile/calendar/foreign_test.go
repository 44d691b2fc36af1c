package calendar

import (
	"fmt"
	"strings"
	"testing"
	"time"
)

// described makes the VTIMEZONE of central Europe, with the years before there
// were zones, as one widespread program does.
func described(id string) string {
	return "BEGIN:VTIMEZONE\nTZID:" + id + `
BEGIN:STANDARD
DTSTART:16011028T030000
TZOFFSETFROM:+0200
TZOFFSETTO:+0100
RRULE:FREQ=YEARLY;BYDAY=-1SU;BYMONTH=10
END:STANDARD
BEGIN:DAYLIGHT
DTSTART:16010325T020000
TZOFFSETFROM:+0100
TZOFFSETTO:+0200
RRULE:FREQ=YEARLY;BYDAY=-1SU;BYMONTH=3
END:DAYLIGHT
END:VTIMEZONE`
}

// Zones are found under the names that programs write, with a description or
// without one: 2 March at ten is 9:00 UTC, 2 June 8:00.
func TestNamesOfZones(t *testing.T) {
	for _, c := range []struct{ described, named string }{
		{`(GMT+01:00) Amsterdam\, Berlin\, Bern\, Rome`, `"(GMT+01:00) Amsterdam, Berlin, Bern, Rome"`}, // a text there, none here (RFC 5545, 3.8.3.1 and 3.2.19)
		{`Skerry\, Holm`, `Skerry\, Holm`},
		{`"Skerry"`, `Skerry`},
		{`Skerry  Time`, `Skerry Time`},
		{`SKERRY`, `skerry`},
		{``, `Europe/Oslo`},
		{``, `europe/oslo`},
		{``, `EUROPE/OSLO`},
		{``, `/skerry.invalid/20270101_1/Europe/Oslo`},
		{``, `W. Europe Standard Time`},
		{`a/b/c/d/e`, `a/b/c/d/e`},
	} {
		var events []string
		if c.described != "" {
			events = append(events, described(c.described))
		}
		for _, date := range []string{"20270302", "20270602"} {
			events = append(events, "DTSTART;TZID="+c.named+":"+date+"T100000\nDURATION:PT1H")
		}
		list, faults := Read(strings.NewReader(wrapped(events...)), season)
		if len(faults) > 0 || len(list) != 2 || list[0].From.UTC().Hour() != 9 || list[1].From.UTC().Hour() != 8 {
			t.Errorf("%s, %s: %v %v", c.described, c.named, list, faults)
		}
	}
	for name, hour := range map[string]int{"UTC": 10, "utc": 10, `"UTC+02:00"`: 8, "GMT-0500": 15, "Etc/GMT-3": 7} {
		list, faults := Read(strings.NewReader(wrapped("DTSTART;TZID="+name+":20270302T100000\nDURATION:PT1H")), season)
		if len(faults) > 0 || len(list) != 1 || list[0].From.UTC().Hour() != hour {
			t.Errorf("%s: %v %v", name, list, faults)
		}
	}
}

// A description is asked for nothing where it is not needed, and has to be whole
// where it is.
func TestFaultyDescriptions(t *testing.T) {
	for _, c := range []struct{ part, want string }{
		{"BEGIN:STANDARD\nDTSTART:16010101T000000\nEND:STANDARD", "4 this part of a time zone has no TZOFFSETFROM"},
		{"BEGIN:STANDARD\nTZOFFSETFROM:+0100\nTZOFFSETTO:+0100\nEND:STANDARD", "4 this part of a time zone has no DTSTART"},
		{"BEGIN:STANDARD\nDTSTART:16010101T000000\nTZOFFSETFROM:east\nTZOFFSETTO:+0100\nEND:STANDARD", "6 TZOFFSETFROM is not an offset"},
		{"BEGIN:STANDARD\nDTSTART:16010101T000000\nTZOFFSETFROM:+0100\nTZOFFSETTO:+0100\nRRULE:FREQ=NEVER\nEND:STANDARD", "8 RRULE: FREQ=NEVER is not a rule"},
		{"X-A:b", "2 this time zone has neither STANDARD nor DAYLIGHT"},
	} {
		for _, id := range []string{"mine", "Europe/Oslo", "W. Europe Standard Time"} {
			text := "BEGIN:VCALENDAR\nBEGIN:VTIMEZONE\nTZID:" + id + "\n" + c.part + "\nEND:VTIMEZONE\nBEGIN:VEVENT\nDTSTART;TZID=" + id + ":20270302T100000\nDURATION:PT1H\nEND:VEVENT\nEND:VCALENDAR\n"
			list, faults := Read(strings.NewReader(text), season)
			if id != "mine" {
				if len(faults) > 0 || len(list) != 1 || list[0].From.UTC().Hour() != 9 {
					t.Errorf("%s, %s: %v %v", c.part, id, list, faults)
				}
				continue
			}
			if len(faults) != 1 || fmt.Sprintf("%d %s", faults[0].Line, faults[0].Text)[:len(c.want)] != c.want {
				t.Errorf("%s: %v; want %s", c.part, faults, c.want)
			}
		}
	}
}

// A folder of invitations poured into one file: each brings its zone along. So do
// two thousand zones that nobody else knows.
func TestManyDescriptions(t *testing.T) {
	for _, own := range []string{"Europe/Oslo", "Skerry", "Skerry %d"} {
		var b strings.Builder
		for i := range 2000 {
			id := strings.ReplaceAll(own, "%d", fmt.Sprint(i))
			fmt.Fprintf(&b, "BEGIN:VCALENDAR\n%s\nBEGIN:VEVENT\nUID:%d\nDTSTART;TZID=%s:202706%02dT100000\nDURATION:PT1H\nEND:VEVENT\nEND:VCALENDAR\n", described(id), i, id, i%28+1)
		}
		list, faults := Read(strings.NewReader(b.String()), season)
		if len(faults) > 0 || len(list) != 2000 || list[1000].From.UTC().Hour() != 8 {
			t.Errorf("%s: %d, %v", own, len(list), faults)
		}
	}
}

// EXRULE takes away what it holds itself, not DTSTART because it is there (RFC
// 2445, 4.8.5.2): ten days from Tuesday, without Saturdays and Sundays.
func TestExceptionRules(t *testing.T) {
	for rule, want := range map[string]string{
		"FREQ=WEEKLY;BYDAY=SA,SU":        "02 03 04 05 08 09 10 11",
		"FREQ=WEEKLY;BYDAY=TU":           "03 04 05 06 07 08 10 11",
		"FREQ=DAILY;INTERVAL=2;COUNT=3":  "03 05 07 08 09 10 11",
		"FREQ=DAILY;UNTIL=20270303T2300": "",
	} {
		list, faults := Read(strings.NewReader(wrapped("DTSTART;TZID=Europe/Oslo:20270302T100000\nDURATION:PT1H\nRRULE:FREQ=DAILY;COUNT=10\nEXRULE:"+rule)), season)
		var got []string
		for _, o := range list {
			got = append(got, o.From.Format("02"))
		}
		if strings.Join(got, " ") != want || (want == "") != (len(faults) > 0) {
			t.Errorf("%s: %v %v; want %s", rule, got, faults, want)
		}
	}
}

// Faults of rules stand on the rule's own line, and say nothing that a terminal
// would obey.
func TestFaultsOfRules(t *testing.T) {
	for _, rule := range []string{"FREQ=\x1b]0;PWNED\a\x1b[31m", "FREQ=DAILY;X=\x1b[2J\x1b[31mALL CLEAR", "FREQ=DAILY;\u009b31m=1", "FREQ=" + strings.Repeat("A", 60000)} {
		_, faults := Read(strings.NewReader(wrapped("DTSTART:20270302T100000Z\nDURATION:PT1H\nRRULE:"+rule)), season)
		if len(faults) != 1 || faults[0].Line != 8 || len(faults[0].Text) > 200 || strings.ContainsFunc(faults[0].Text, func(r rune) bool { return r < ' ' || 0x7f <= r && r <= 0x9f }) {
			t.Errorf("%.50q: %.300q", rule, faults)
		}
	}
}

// Small files made to keep a reader busy: each is done with, or refused, within
// the work that is granted to a file, and within some memory.
func TestFilesMadeToBurn(t *testing.T) {
	many := func(n int, each func(i int) string) []string {
		var out []string
		for i := range n {
			out = append(out, each(i))
		}
		return out
	}
	const at = "DTSTART:20270302T100000Z\nDURATION:PT1H"
	for name, events := range map[string][]string{
		"all seconds of all hours": {"DTSTART:00010101T000000\nDURATION:PT1S\nRRULE:FREQ=HOURLY;COUNT=999999999;BYMINUTE=" + numbers(60) + ";BYSECOND=" + numbers(60)},
		"one time picked from all": {"DTSTART:20270101T000000\nDURATION:PT1S\nRRULE:FREQ=YEARLY;BYMONTHDAY=1,2,3;BYHOUR=" + numbers(24) + ";BYSETPOS=1;BYMINUTE=" + numbers(60) + ";BYSECOND=" + numbers(60)},
		"for two thousand years":   many(20, func(i int) string { return fmt.Sprintf("DTSTART:2027030%dT100000Z\nDURATION:P99999W", i%9+1) }),
		"a day said often": many(5, func(i int) string {
			return "DTSTART:00010101T000000Z\nDURATION:PT1S\nRRULE:FREQ=DAILY;COUNT=1000000000;BYMONTHDAY=" + strings.Repeat("31,", 20000) + "31"
		}),
		"a zone of strokes": many(20, func(i int) string {
			return fmt.Sprintf("DTSTART;TZID=%s%d:20270302T100000\nDURATION:PT1H", strings.Repeat("a/", 15000), i)
		}),
		"a title in many lines": {at + strings.Repeat("\nSUMMARY:a", 200_000)},
		"changes of changes": append(many(12_000, func(int) string { return "UID:a\n" + at }), many(12_000, func(i int) string {
			return fmt.Sprintf("UID:a\nRECURRENCE-ID;RANGE=THISANDFUTURE:%04d%02d%02dT100000Z\n%s", 1900+i/336, 1+i/28%12, 1+i%28, at)
		})...),
		"weeks of all years":                    {"DTSTART:00010101T000000\nDURATION:PT1H\nRRULE:FREQ=YEARLY;COUNT=99999999;BYWEEKNO=53;BYDAY=1MO,2TU,-3WE;BYYEARDAY=1,-1"},
		"seconds without end that are excepted": {"DTSTART:20270301T000000\nDURATION:PT1H\nRRULE:FREQ=SECONDLY\nEXRULE:FREQ=SECONDLY"},
	} {
		var faults []Fault
		took := allocated(func() { _, faults = Read(strings.NewReader(wrapped(events...)), season) })
		if took > 100<<20 {
			t.Errorf("%s: took %d MiB in all; %v", name, took>>20, faults)
		}
	}
	// What they cost is counted: a rule's work is used up, not passed by.
	f := &file{left: 1000}
	r, _ := parseRule(1, "FREQ=HOURLY;BYMINUTE="+numbers(60)+";BYSECOND="+numbers(60), time.Time{}, false)
	n := 0
	if f.expand(r, season.From, utcZone, season.From, season.To, func(time.Time) { n++ }) || n > 1000 {
		t.Errorf("%d times given for work of 1000", n)
	}
}
