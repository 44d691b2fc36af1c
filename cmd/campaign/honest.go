package main

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"time"
)

// style is how one kind of exporter writes. The styles are made up from what the
// formats allow and files in the wild show; they are nobody's in particular.
type style struct {
	id, named string // TZID as it is described, and as events name it
	described bool
	since     string // first year of the description
	head      []string
	more      []string // lines that events may have besides
	utc       bool
	poured    bool // a calendar of its own around each entry
}

var styles = []style{
	{id: "Europe/Oslo", named: "Europe/Oslo", described: true, since: "1970", head: []string{"CALSCALE:GREGORIAN", "METHOD:PUBLISH", "X-WR-CALNAME:Orchestra", "X-WR-TIMEZONE:Europe/Oslo"}, more: []string{"STATUS:CONFIRMED", "SEQUENCE:1", "TRANSP:OPAQUE"}},
	{id: `(UTC+01:00) Amsterdam\, Berlin\, Bern\, Rome\, Stockholm\, Vienna`, named: `"(UTC+01:00) Amsterdam, Berlin, Bern, Rome, Stockholm, Vienna"`, described: true, since: "1601", head: []string{"METHOD:PUBLISH"}, more: []string{"CLASS:PUBLIC", "PRIORITY:5", "X-MICROSOFT-CDO-BUSYSTATUS:BUSY"}},
	{id: "W. Europe Standard Time", named: "W. Europe Standard Time", described: true, since: "1601", more: []string{"X-ALT-DESC;FMTTYPE=text/html:<p>Bring parts\\, please</p>"}},
	{named: "W. Europe Standard Time"},
	{named: "Europe/Oslo"},
	{id: "/skerry.invalid/20270101_1/Europe/Oslo", named: "/skerry.invalid/20270101_1/Europe/Oslo", described: true, since: "1970"},
	{id: "Orchestra time", named: "Orchestra time", described: true, since: "1996"},
	{utc: true, more: []string{"CATEGORIES:REHEARSAL", "URL:https://skerry.invalid/1"}},
	{id: "Europe/Oslo", named: "Europe/Oslo", described: true, since: "1601", poured: true},
}

func honestCalendar(r *rand.Rand) string {
	s := styles[r.IntN(len(styles))]
	sizes := []int{3, 30, 300, 2000, 10_000}
	n := sizes[r.IntN(len(sizes))]
	if s.poured {
		n = min(n, 2000)
	}
	var b strings.Builder
	begin := func() {
		b.WriteString("BEGIN:VCALENDAR\nVERSION:2.0\nPRODID:-//Skerry//Made up//EN\n")
		for _, h := range s.head {
			b.WriteString(h + "\n")
		}
		if s.described {
			b.WriteString(s.describe())
		}
	}
	begin()
	for i := range n {
		if s.poured && i > 0 {
			b.WriteString("END:VCALENDAR\n")
			begin()
		}
		b.WriteString(s.entry(r, i))
	}
	b.WriteString("END:VCALENDAR\n")
	return dressed(r, b.String())
}

// describe is the VTIMEZONE of central Europe.
func (s style) describe() string {
	return "BEGIN:VTIMEZONE\nTZID:" + s.id + "\nBEGIN:STANDARD\nDTSTART:" + s.since + "1028T030000\nTZOFFSETFROM:+0200\nTZOFFSETTO:+0100\nTZNAME:CET\nRRULE:FREQ=YEARLY;BYDAY=-1SU;BYMONTH=10\nEND:STANDARD\n" +
		"BEGIN:DAYLIGHT\nDTSTART:" + s.since + "0325T020000\nTZOFFSETFROM:+0100\nTZOFFSETTO:+0200\nTZNAME:CEST\nRRULE:FREQ=YEARLY;BYDAY=-1SU;BYMONTH=3\nEND:DAYLIGHT\nEND:VTIMEZONE\n"
}

func (s style) stamp(name string, t time.Time) string {
	if s.utc {
		return name + ":" + t.Add(-time.Hour).Format("20060102T150405Z")
	}
	return name + ";TZID=" + s.named + ":" + t.Format("20060102T150405")
}

// entry is one of ten years; one in ten comes again and again, with exceptions
// and changes.
func (s style) entry(r *rand.Rand, n int) string {
	at := time.Date(2018+r.IntN(10), time.Month(1+r.IntN(12)), 1+r.IntN(28), 9+r.IntN(11), 15*r.IntN(4), 0, 0, time.UTC)
	var b strings.Builder
	line := func(text string) { b.WriteString(text + "\n") }
	head := func() {
		line("BEGIN:VEVENT")
		line(fmt.Sprintf("UID:%08x-%d@skerry.invalid", n, n))
		line("DTSTAMP:20260801T120000Z")
		line("SUMMARY:" + pick(r, "Rehearsal", "Concert", "Lesson", "Dentist", "Møte", "Tide tables\\, first half", "練習"))
	}
	head()
	whole := r.IntN(8) == 0
	switch {
	case whole:
		line("DTSTART;VALUE=DATE:" + at.Format("20060102"))
		line("DTEND;VALUE=DATE:" + at.AddDate(0, 0, 1+r.IntN(3)).Format("20060102"))
	case r.IntN(3) == 0:
		line(s.stamp("DTSTART", at))
		line("DURATION:" + pick(r, "PT45M", "PT2H30M", "P0DT1H0M0S"))
	default:
		line(s.stamp("DTSTART", at))
		line(s.stamp("DTEND", at.Add(time.Duration(30+15*r.IntN(10))*time.Minute)))
	}
	if r.IntN(3) == 0 {
		line("DESCRIPTION:" + strings.Repeat("Parts are in the library\\, bring pencils. \\n", 1+r.IntN(8)))
		line("LOCATION:Brinemouth\\; the old hall")
	}
	for _, m := range s.more {
		line(m)
	}
	if r.IntN(5) == 0 {
		line("BEGIN:VALARM\nACTION:DISPLAY\nDESCRIPTION:soon\nTRIGGER:-PT15M\nEND:VALARM")
	}
	if r.IntN(10) > 0 {
		line("END:VEVENT")
		return b.String()
	}
	line("RRULE:" + pick(r, "FREQ=WEEKLY;COUNT=20", "FREQ=WEEKLY;BYDAY=MO,TH;UNTIL=20280101T000000Z", "FREQ=DAILY;COUNT=10", "FREQ=MONTHLY;BYDAY=1TU", "FREQ=YEARLY", "FREQ=WEEKLY;INTERVAL=2;WKST=MO"))
	if !whole {
		line(s.stamp("EXDATE", at.AddDate(0, 0, 14)))
	}
	line("END:VEVENT")
	if !whole && !s.poured {
		head()
		line(s.stamp("RECURRENCE-ID", at.AddDate(0, 0, 7)))
		line(s.stamp("DTSTART", at.AddDate(0, 0, 8)))
		line("DURATION:PT1H")
		line("END:VEVENT")
	}
	return b.String()
}

// dressed gives a text the line ends, folds and marks that exporters give it.
func dressed(r *rand.Rand, text string) string {
	if r.IntN(2) == 0 { // folded at 75 bytes, as the RFC has it, between letters or within
		var b strings.Builder
		for _, l := range strings.Split(text, "\n") {
			for len(l) > 74 {
				b.WriteString(l[:74] + "\n ")
				l = l[74:]
			}
			b.WriteString(l + "\n")
		}
		text = strings.TrimSuffix(b.String(), "\n")
	}
	if r.IntN(4) > 0 {
		text = strings.ReplaceAll(text, "\n", "\r\n")
	}
	if r.IntN(6) == 0 {
		text = "\ufeff" + text
	}
	return text
}
