package main

import (
	"fmt"
	"math/rand/v2"
	"strings"
)

// largestHostile is how large a hostile calendar gets.
const largestHostile = 4 << 20

// hostileCalendar puts a few kinds of events together, each made over and over
// until the file is as large as chance has it.
func hostileCalendar(r *rand.Rand) string {
	size := 200 << r.IntN(15) // 200 bytes to 3 MB
	size = min(largestHostile, size+r.IntN(size))
	var b strings.Builder
	b.WriteString("BEGIN:VCALENDAR\nVERSION:2.0\n")
	kinds := make([]func(*rand.Rand, int) string, 1+r.IntN(3))
	for i := range kinds {
		kinds[i] = makers[r.IntN(len(makers))]
	}
	for n := 0; b.Len() < size; n++ {
		b.WriteString(kinds[n%len(kinds)](r, n))
	}
	b.WriteString("END:VCALENDAR\n")
	text := b.String()
	if r.IntN(10) == 0 { // spoilt somewhere
		i := r.IntN(len(text))
		text = text[:i] + pick(r, "\x00", "\xff", "\n", ":", ";", "END:VEVENT\n", "BEGIN:VTIMEZONE\n") + text[i:]
	}
	return text
}

func event(lines string) string { return "BEGIN:VEVENT\n" + lines + "\nEND:VEVENT\n" }

func when(r *rand.Rand) string {
	year := []int{1, 1601, 1970, 2000, 2026, 2027, 2027, 2027, 9999}[r.IntN(9)]
	return fmt.Sprintf("%04d%02d%02dT%02d%02d%02d%s", year, 1+r.IntN(12), 1+r.IntN(28), r.IntN(24), r.IntN(60), r.IntN(60), pick(r, "", "Z"))
}

// anyRule makes a rule with as many parts as chance has it, each as long.
func anyRule(r *rand.Rand) string {
	s := "FREQ=" + pick(r, "SECONDLY", "MINUTELY", "HOURLY", "DAILY", "WEEKLY", "MONTHLY", "YEARLY")
	long := func() int { return 1 + r.IntN(1<<r.IntN(13)) }
	for _, p := range []struct {
		name      string
		low, high int
	}{{"BYSECOND", 0, 60}, {"BYMINUTE", 0, 59}, {"BYHOUR", 0, 23}, {"BYMONTHDAY", 1, 31}, {"BYYEARDAY", 1, 366}, {"BYWEEKNO", 1, 53}, {"BYMONTH", 1, 12}, {"BYSETPOS", 1, 366}} {
		if r.IntN(4) == 0 {
			s += ";" + p.name + "=" + list(r, long(), p.low, p.high)
		}
	}
	if r.IntN(4) == 0 {
		days := make([]string, long())
		for i := range days {
			days[i] = pick(r, "", "1", "-1", "53", "2") + pick(r, "MO", "TU", "WE", "TH", "FR", "SA", "SU")
		}
		s += ";BYDAY=" + strings.Join(days, ",")
	}
	if r.IntN(3) == 0 {
		s += fmt.Sprintf(";INTERVAL=%d", 1+r.IntN(1<<r.IntN(30)))
	}
	switch r.IntN(3) {
	case 0:
		s += fmt.Sprintf(";COUNT=%d", 1+r.IntN(1<<r.IntN(30)))
	case 1:
		s += ";UNTIL=" + when(r)
	}
	return s
}

func length(r *rand.Rand) string {
	return pick(r, "DURATION:PT1H", "DURATION:PT1S", "DURATION:P99999W", "DURATION:P30D", "DTEND:99991231T235959Z", "DTEND:20270302T110000Z")
}

// makers make what costs a reader most, each in its own way.
var makers = []func(r *rand.Rand, n int) string{
	func(r *rand.Rand, n int) string { // rules of all kinds
		return event(fmt.Sprintf("UID:%d\nDTSTART:%s\n%s\nRRULE:%s", n, when(r), length(r), anyRule(r)))
	},
	func(r *rand.Rand, n int) string { // rules against rules
		return event(fmt.Sprintf("UID:%d\nDTSTART:%s\n%s\nRRULE:%s\nRRULE:%s\nEXRULE:%s", n, when(r), length(r), anyRule(r), anyRule(r), anyRule(r)))
	},
	func(r *rand.Rand, n int) string { // one series of masters and changes
		if r.IntN(2) == 0 {
			return event("UID:a\nDTSTART:20270302T100000Z\n" + length(r) + pick(r, "", "\nRRULE:FREQ=DAILY", "\nRRULE:"+anyRule(r)))
		}
		return event(fmt.Sprintf("UID:a\nSEQUENCE:%d\nRECURRENCE-ID%s:%s\nDTSTART:%s\n%s", r.IntN(3), pick(r, "", ";RANGE=THISANDFUTURE"), when(r), when(r), length(r)))
	},
	func(r *rand.Rand, n int) string { // zones with long, odd and many names
		name := strings.Repeat(pick(r, "a/", "Europe/", "x", "../", "Oslo\\, "), 1+r.IntN(1<<r.IntN(13)))
		return event(fmt.Sprintf("UID:%d\nDTSTART;TZID=\"%s%d\":20270302T100000\n%s", n, name, n, length(r)))
	},
	func(r *rand.Rand, n int) string { // zones described from the year 1 on
		return fmt.Sprintf("BEGIN:VTIMEZONE\nTZID:z%d\nBEGIN:STANDARD\nDTSTART:%s\nTZOFFSETFROM:+0200\nTZOFFSETTO:+0100\nRRULE:%s\nEND:STANDARD\nEND:VTIMEZONE\n",
			n, strings.TrimSuffix(when(r), "Z"), anyRule(r)) + event(fmt.Sprintf("UID:%d\nDTSTART;TZID=z%d:%s\n%s", n, n, strings.TrimSuffix(when(r), "Z"), length(r)))
	},
	func(r *rand.Rand, n int) string { // texts in many lines
		return event("DTSTART:20270302T100000Z\n" + length(r) + strings.Repeat(pick(r, "\nSUMMARY:", "\nDESCRIPTION:", "\nCATEGORIES:", "\nLOCATION:")+strings.Repeat("a", r.IntN(20)), r.IntN(5000)))
	},
	func(r *rand.Rand, n int) string { // whole days, each with its title
		return event(fmt.Sprintf("UID:%d\nSUMMARY:title %d\nDTSTART;VALUE=DATE:20270302\n%s", n, n, pick(r, "DTEND;VALUE=DATE:99991231", "DURATION:P1D", "X-A:b")))
	},
	func(r *rand.Rand, n int) string { // dates without end
		dates := make([]string, 1+r.IntN(2000))
		for i := range dates {
			dates[i] = when(r)
		}
		return event(fmt.Sprintf("UID:%d\nDTSTART:20270302T100000Z\n%s\n%s:%s\nRRULE:FREQ=DAILY", n, length(r), pick(r, "RDATE", "EXDATE"), strings.Join(dates, ",")))
	},
	func(r *rand.Rand, n int) string { // parameters, folds and quotes
		return event(fmt.Sprintf("UID:%d\nDTSTART%s:20270302T100000Z\n%s\nX-A:b%s", n, strings.Repeat(pick(r, ";A=b", ";A=\"b:;\"", ";"), r.IntN(2000)), length(r), strings.Repeat("\n c", r.IntN(2000))))
	},
	func(r *rand.Rand, n int) string { // somebody's free and busy times
		return "BEGIN:VFREEBUSY\nFREEBUSY:" + when(r) + "/" + pick(r, "PT1H", "P99999W", "99991231T000000Z") + strings.Repeat(",20270302T100000Z/P1000D", r.IntN(500)) + "\nEND:VFREEBUSY\n"
	},
}
