package calendar

import (
	"bytes"
	"fmt"
	"io"
	"runtime"
	"strings"
	"testing"
	"time"
)

var season = Options{From: time.Date(2027, 1, 11, 0, 0, 0, 0, time.UTC), To: time.Date(2027, 10, 18, 0, 0, 0, 0, time.UTC), Zone: time.UTC}

// endless gives a text over and over, after a beginning.
type endless struct {
	begin, again string
	left         int64
	at           int
}

func (e *endless) Read(p []byte) (int, error) {
	if e.left <= 0 {
		return 0, io.EOF
	}
	n := copy(p, e.begin)
	e.begin = e.begin[n:]
	for n < len(p) {
		k := copy(p[n:], e.again[e.at:])
		e.at = (e.at + k) % len(e.again)
		n += k
	}
	e.left -= int64(n)
	return n, nil
}

// allocated gives the bytes that a call takes from the heap, in all.
func allocated(f func()) uint64 {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	f()
	runtime.ReadMemStats(&after)
	return after.TotalAlloc - before.TotalAlloc
}

// Calendars that nobody can use are refused in a few words, having taken a
// bounded number of steps and a bounded memory.
func TestBadCalendars(t *testing.T) {
	const gigabyte = 1 << 30
	event := func(s string) string { return "BEGIN:VEVENT\n" + s + "\nDURATION:PT1H\nEND:VEVENT\n" }
	for _, c := range []struct {
		name string
		in   io.Reader
		want string // the first fault: line, text
		most uint64 // bytes in all
	}{
		{"a gigabyte of events", &endless{begin: "BEGIN:VCALENDAR\n", again: event("DTSTART:20270601T100000\nDESCRIPTION:" + strings.Repeat("x", 3000)), left: gigabyte},
			"0 is larger than 32 MiB", 200 << 20},
		{"a gigabyte of small events", &endless{begin: "BEGIN:VCALENDAR\n", again: event("DTSTART:20270601T100000"), left: gigabyte},
			"100002 the calendar holds more than 25000 events", 200 << 20},
		{"a gigabyte of one line", &endless{begin: "BEGIN:VCALENDAR\nX-A:", again: "x", left: gigabyte}, "0 is larger than 32 MiB", 64 << 20},
		{"a gigabyte of one folded line", &endless{begin: "BEGIN:VCALENDAR\nX-A:", again: "xxxxxxxxx\n ", left: gigabyte}, "0 is larger than 32 MiB", 200 << 20},
		{"a gigabyte of zeros", &endless{again: "\x00", left: gigabyte}, "0 is larger than 32 MiB", 64 << 20},
		{"a gigabyte of nesting", &endless{begin: "BEGIN:VCALENDAR\n", again: "BEGIN:X\n", left: gigabyte}, "21 does not belong here", 1 << 20},
		{"a picture", strings.NewReader("\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR"), "1 is no line of iCalendar", 1 << 20},
		{"a page", strings.NewReader("<!DOCTYPE html>\n<html lang=en>"), "1 is a web page and no calendar", 1 << 20},
		{"a page with colons", strings.NewReader("https://skerry.invalid/calendar\n"), "1 is not an iCalendar file: it does not begin with BEGIN:VCALENDAR", 1 << 20},
		{"cut off", strings.NewReader("BEGIN:VCALENDAR\nBEGIN:VEVENT\nDTSTART:20270601T100000\n"), "0 is cut off", 1 << 20},
		{"cut off between events", strings.NewReader("BEGIN:VCALENDAR\n" + event("DTSTART:20270601T100000")), "0 is cut off", 1 << 20},
		{"every second, for ever", strings.NewReader("BEGIN:VCALENDAR\n" + event("DTSTART:20200601T100000\nRRULE:FREQ=SECONDLY") + "END:VCALENDAR"), "0 holds more than 50000 times", 100 << 20},
		{"a day that never comes, minute by minute", strings.NewReader("BEGIN:VCALENDAR\n" + event("DTSTART:00010101T100000\nRRULE:FREQ=MINUTELY;BYMONTH=2;BYMONTHDAY=30;COUNT=5") + event("DTSTART:soon") + "END:VCALENDAR"),
			"8 DTSTART is not a date", 1 << 20},
		{"many days that never come, and all counted", &endless{begin: "BEGIN:VCALENDAR\n", again: event("DTSTART:00010101T100000\nRRULE:FREQ=DAILY;BYMONTH=2;BYMONTHDAY=30;COUNT=5"), left: 1 << 20},
			"0 is cut off", 64 << 20},
		{"all seconds of all days", strings.NewReader("BEGIN:VCALENDAR\n" + event("DTSTART:20270601T100000\nRRULE:FREQ=YEARLY;BYMONTH=1,2,3,4,5,6,7,8,9,10,11,12;BYDAY=MO,TU,WE,TH,FR,SA,SU;BYHOUR="+numbers(24)+";BYMINUTE="+numbers(60)+";BYSECOND="+numbers(60)) + "END:VCALENDAR"),
			"0 holds more than 50000 times", 100 << 20},
		{"exceptions without end", &endless{begin: "BEGIN:VCALENDAR\nBEGIN:VEVENT\n", again: "EXDATE:20270601T100000,20270602T100000\n", left: gigabyte}, "30003 the calendar holds more than 60000 dates", 200 << 20},
	} {
		var list []Occurrence
		var faults []Fault
		took := allocated(func() { list, faults = Read(c.in, season) })
		if len(list) > 0 || len(faults) == 0 || len(faults) > mostFaults+1 {
			t.Errorf("%s: %d occurrences, %d faults", c.name, len(list), len(faults))
			continue
		}
		if got := fmt.Sprintf("%d %s", faults[0].Line, faults[0].Text); !strings.HasPrefix(got, c.want) {
			t.Errorf("%s: %s; want %s", c.name, got, c.want)
		}
		if took > c.most {
			t.Errorf("%s: took %d MiB in all", c.name, took>>20)
		}
	}
}

func numbers(n int) string {
	var out []string
	for i := range n {
		out = append(out, fmt.Sprint(i))
	}
	return strings.Join(out, ",")
}

// What is large but sound is read: twelve thousand changed instances of one
// series, a rule without end from the year 1 on, ten thousand birthdays.
func TestLargeCalendars(t *testing.T) {
	var b bytes.Buffer
	b.WriteString("BEGIN:VCALENDAR\nBEGIN:VEVENT\nUID:w\nDTSTART:20000101T100000Z\nDURATION:PT1H\nRRULE:FREQ=DAILY\nEND:VEVENT\n")
	first := time.Date(2000, 1, 1, 10, 0, 0, 0, time.UTC)
	for i := range 12_000 {
		at := first.AddDate(0, 0, i)
		fmt.Fprintf(&b, "BEGIN:VEVENT\nUID:w\nRECURRENCE-ID:%sZ\nDTSTART:%sZ\nDURATION:PT2H\nEND:VEVENT\n", at.Format(timeForm), at.Add(time.Hour).Format(timeForm))
	}
	b.WriteString("BEGIN:VEVENT\nUID:x\nDTSTART:00010101T200000Z\nDURATION:PT1H\nRRULE:FREQ=WEEKLY\nEND:VEVENT\n")
	for i := range 10_000 {
		fmt.Fprintf(&b, "BEGIN:VEVENT\nUID:b%d\nDTSTART;VALUE=DATE:19%02d%02d%02d\nRRULE:FREQ=YEARLY\nTRANSP:TRANSPARENT\nEND:VEVENT\n", i, i%100, i%12+1, i%28+1)
	}
	b.WriteString("END:VCALENDAR\n")
	list, faults := Read(&b, season)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	count := map[string]int{}
	for _, o := range list {
		count[map[bool]string{true: "whole day", false: o.From.Format("15:04") + " " + o.To.Sub(o.From).String()}[o.AllDay]]++
	}
	// 280 days: 11 January to 17 October, 40 Mondays (1 January 1 was one), and
	// of the birthdays those in between. Change 9,873 is of 12 January 2027.
	if count["11:00 2h0m0s"] != 280 || count["20:00 1h0m0s"] != 40 || count["whole day"] < 7000 || count["10:00 1h0m0s"] != 0 {
		t.Error(count)
	}
}
