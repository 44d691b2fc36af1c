package calendar

import (
	"slices"
	"strconv"
	"strings"
	"time"
)

// Entry is what a calendar says of something that happens once or often.
type Entry struct {
	Line        int // of its BEGIN
	UID         string
	Title       string // SUMMARY
	Categories  string // with blanks between
	Description string
	Location    string
	Cancelled   bool // STATUS:CANCELLED, or the whole file is a METHOD:CANCEL
	Transparent bool // takes no time
}

// entry is a VEVENT as it stands in the file.
type entry struct {
	Entry
	sequence int
	start    stamp
	end      *stamp
	length   *length
	rules    []ruleText
	but      []ruleText // EXRULE, of RFC 2445
	more     []period
	except   []stamp
	replaces *stamp // RECURRENCE-ID
	onwards  bool   // RANGE=THISANDFUTURE
	started  bool   // DTSTART was there
	odd      bool   // with a fault
}

// ruleText is a rule as it is written, with its line.
type ruleText struct {
	line int
	text string
}

// period is an RDATE: its start, and where it gives them its end or length.
type period struct {
	start  stamp
	end    *stamp
	length *length
}

// read enters a property of an event.
func (e *entry) read(f *file, l line) *Fault {
	twice := func() *Fault {
		w := wrong(l.number, l.value, "%s is given twice in one event", l.name)
		return &w
	}
	join := func(to *string, s string) {
		if *to != "" && s != "" {
			s = " " + s
		}
		// Some programs write a text in several properties; what no longer fits is
		// left away.
		if room := mostText - len(*to); room >= len(s) {
			*to += s
		}
	}
	var fault *Fault
	switch l.name {
	case "UID":
		e.UID = l.text()
	case "SUMMARY":
		join(&e.Title, l.text())
	case "CATEGORIES":
		join(&e.Categories, strings.ReplaceAll(l.text(), ",", " "))
	case "DESCRIPTION":
		join(&e.Description, l.text())
	case "LOCATION":
		join(&e.Location, l.text())
	case "STATUS":
		e.Cancelled = strings.EqualFold(strings.TrimSpace(l.value), "CANCELLED")
	case "TRANSP":
		e.Transparent = strings.EqualFold(strings.TrimSpace(l.value), "TRANSPARENT")
	case "SEQUENCE":
		e.sequence, _ = strconv.Atoi(strings.TrimSpace(l.value))
	case "DTSTART":
		if e.started {
			return twice()
		}
		e.started = true
		e.start, fault = f.parseStamp(l, l.value)
	case "DTEND":
		if e.end != nil {
			return twice()
		}
		var s stamp
		s, fault = f.parseStamp(l, l.value)
		e.end = &s
	case "DURATION":
		if e.length != nil {
			return twice()
		}
		n, ok := parseDuration(l.value)
		if !ok {
			w := wrong(l.number, l.value, "DURATION is not a duration of iCalendar")
			return &w
		}
		e.length = &n
	case "RRULE":
		if strings.TrimSpace(l.value) == "" {
			break
		}
		e.rules = append(e.rules, ruleText{l.number, l.value})
	case "EXRULE":
		e.but = append(e.but, ruleText{l.number, l.value})
	case "RDATE":
		var list []period
		list, fault = f.periods(l)
		e.more = append(e.more, list...)
	case "EXDATE":
		var list []period
		list, fault = f.periods(l)
		for _, p := range list {
			e.except = append(e.except, p.start)
		}
	case "RECURRENCE-ID":
		if e.replaces != nil {
			return twice()
		}
		var s stamp
		s, fault = f.parseStamp(l, l.value)
		e.replaces = &s
		e.onwards = strings.EqualFold(l.params["RANGE"], "THISANDFUTURE")
	}
	return fault
}

// periods reads dates, times and periods, parted by commas. An empty list is
// none; some programs write one.
func (f *file) periods(l line) ([]period, *Fault) {
	var out []period
	for _, value := range strings.Split(l.value, ",") {
		if strings.TrimSpace(value) == "" {
			continue
		}
		if f.dates++; f.dates > mostDates {
			w := wrong(l.number, "", "the calendar holds more than %d dates of exceptions and additions", mostDates)
			return nil, &w
		}
		start, end, two := strings.Cut(value, "/")
		s, fault := f.parseStamp(l, start)
		if fault != nil {
			return nil, fault
		}
		p := period{start: s}
		if n, ok := parseDuration(end); two && ok {
			p.length = &n
		} else if two {
			e, fault := f.parseStamp(l, end)
			if fault != nil {
				return nil, fault
			}
			p.end = &e
		}
		out = append(out, p)
	}
	return out, nil
}

// finish judges an event that is read whole.
func (e *entry) finish(f *file) *Fault {
	odd := func(form string, args ...any) *Fault {
		w := wrong(e.Line, e.Title, form, args...)
		return &w
	}
	switch {
	case !e.started && !f.method: // without a METHOD it has to have one (RFC 5545, 3.6.1)
		return odd("this event has no DTSTART")
	case e.length != nil && (e.length.days < 0 || e.length.time < 0):
		return odd("this event ends before it begins")
	case e.end != nil && e.end.allDay == e.start.allDay && e.end.zone == e.start.zone && e.end.wall.Before(e.start.wall):
		// Undefined by the RFC. The time between the two is all that it can mean.
		e.start, *e.end = *e.end, e.start
	}
	for _, r := range slices.Concat(e.rules, e.but) {
		if _, w := parseRule(r.line, r.text, e.start.wall, e.start.allDay); w != nil {
			return w
		}
	}
	return nil
}

// ends gives the instant at which an occurrence that starts so is over.
func (e *entry) ends(s stamp) time.Time {
	switch {
	case s.allDay:
		return s.zone.instant(s.wall.AddDate(0, 0, e.wholeDays()))
	case e.end != nil && !e.end.allDay && !e.start.allDay:
		return s.instant().Add(max(0, e.end.instant().Sub(e.start.instant())))
	case e.end != nil: // a date in the one and a time in the other
		return s.instant().Add(max(0, e.end.wall.Sub(e.start.wall)))
	case e.length != nil:
		return s.after(*e.length)
	case e.start.allDay:
		return s.after(length{days: 1})
	}
	return s.instant()
}

// wholeDays gives the days that an all-day occurrence takes, one at least.
func (e *entry) wholeDays() int {
	n := 1
	switch {
	case e.end != nil:
		n = days(midnight(e.end.wall).Sub(midnight(e.start.wall)))
		if !e.end.allDay && !e.end.wall.Equal(midnight(e.end.wall)) {
			n++
		}
	case e.length != nil:
		n = e.length.days + days(e.length.time+24*time.Hour-time.Second)
	}
	return max(1, n)
}
