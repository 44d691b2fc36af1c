package calendar

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"time"
)

// frequency is how often a rule comes round.
type frequency int

const (
	yearly frequency = iota
	monthly
	weekly
	daily
	hourly
	minutely
	secondly
)

var frequencies = []string{"YEARLY", "MONTHLY", "WEEKLY", "DAILY", "HOURLY", "MINUTELY", "SECONDLY"}

// nthDay is a weekday, or the nth of its month or year: 2MO, -1SU.
type nthDay struct {
	n   int // 0: every one
	day time.Weekday
}

// rule is an RRULE (RFC 5545, 3.3.10), with what it leaves to DTSTART filled in.
type rule struct {
	freq     frequency
	interval int
	count    int       // 0: no end by number
	until    time.Time // zero: no end by date
	untilUTC bool      // until is an instant, not a local time

	second, minute, hour                  []int
	day                                   []nthDay
	monthDay, yearDay, week, month, place []int
	weekStart                             time.Weekday

	skip string // what becomes of days that a month lacks (RFC 7529): OMIT, BACKWARD, FORWARD; empty: OMIT

	excepts bool // an EXRULE
	weight  int  // of the work that one day is
}

var dayNames = []string{"SU", "MO", "TU", "WE", "TH", "FR", "SA"}

// numberParts are the parts of a rule that are lists of numbers, with their
// bounds; below zero they count from the end.
var numberParts = map[string]struct {
	least, most int
	to          func(*rule) *[]int
}{
	"BYSECOND":   {0, 60, func(r *rule) *[]int { return &r.second }},
	"BYMINUTE":   {0, 59, func(r *rule) *[]int { return &r.minute }},
	"BYHOUR":     {0, 23, func(r *rule) *[]int { return &r.hour }},
	"BYMONTHDAY": {-31, 31, func(r *rule) *[]int { return &r.monthDay }},
	"BYYEARDAY":  {-366, 366, func(r *rule) *[]int { return &r.yearDay }},
	"BYWEEKNO":   {-53, 53, func(r *rule) *[]int { return &r.week }},
	"BYMONTH":    {1, 12, func(r *rule) *[]int { return &r.month }},
	"BYSETPOS":   {-366, 366, func(r *rule) *[]int { return &r.place }},
}

// parseRule reads a rule of an event that starts at a local time; of an event
// of whole days, if so told, for which parts of the clock mean nothing.
func parseRule(number int, text string, start time.Time, allDay bool) (*rule, *Fault) {
	r := &rule{freq: -1, interval: 1, weekStart: time.Monday}
	odd := func(form string, args ...any) (*rule, *Fault) {
		w := wrong(number, text, form, args...)
		return nil, &w
	}
	seen := map[string]bool{}
	for _, part := range strings.Split(strings.Trim(strings.TrimSpace(text), ";"), ";") {
		name, value, _ := strings.Cut(part, "=")
		name, value = strings.ToUpper(strings.TrimSpace(name)), strings.ToUpper(strings.TrimSpace(value))
		if seen[name] {
			return odd("RRULE gives %s twice", shown(name))
		}
		seen[name] = true
		if p, ok := numberParts[name]; ok {
			for _, s := range strings.Split(value, ",") {
				n, err := strconv.Atoi(strings.TrimPrefix(strings.TrimSpace(s), "+"))
				if err != nil || n < p.least || n > p.most || n == 0 && p.least < 0 {
					return odd("RRULE: %s=%s is not a rule of iCalendar", shown(name), shown(value))
				}
				*p.to(r) = append(*p.to(r), n)
			}
			continue
		}
		ok := true
		switch name {
		case "FREQ":
			i := slices.Index(frequencies, value)
			r.freq, ok = frequency(i), i >= 0
		case "INTERVAL":
			r.interval, ok = positive(value)
		case "COUNT":
			r.count, ok = positive(value)
		case "UNTIL":
			ok = r.readUntil(value)
		case "WKST":
			i := slices.Index(dayNames, value)
			r.weekStart, ok = time.Weekday(i), i >= 0
		case "BYDAY":
			for _, s := range strings.Split(value, ",") {
				var d nthDay
				d, ok = parseDay(strings.TrimSpace(s))
				if !ok {
					break
				}
				r.day = append(r.day, d)
			}
		case "RSCALE": // RFC 7529; Gregorian is what is meant without it
			ok = value == "GREGORIAN"
		case "SKIP":
			r.skip, ok = value, value == "OMIT" || value == "BACKWARD" || value == "FORWARD"
		default:
			ok = strings.HasPrefix(name, "X-")
		}
		if !ok {
			return odd("RRULE: %s=%s is not a rule of iCalendar", shown(name), shown(value))
		}
	}
	if r.freq < 0 {
		return odd("RRULE has no FREQ")
	}
	r.complete(start, allDay)
	return r, nil
}

func positive(s string) (int, bool) {
	n, err := strconv.Atoi(s)
	return n, err == nil && n > 0 && n <= 1<<30
}

func (r *rule) readUntil(s string) bool {
	if t, err := time.Parse(dateForm, s); err == nil {
		r.until = t.Add(24*time.Hour - time.Second) // a date: its whole day
		return true
	}
	bare, utc := strings.CutSuffix(s, "Z")
	t, err := time.Parse(timeForm, bare)
	r.until, r.untilUTC = t, utc
	return err == nil
}

func parseDay(s string) (nthDay, bool) {
	if len(s) < 2 {
		return nthDay{}, false
	}
	i := slices.Index(dayNames, s[len(s)-2:])
	d := nthDay{day: time.Weekday(i)}
	if n := strings.TrimPrefix(s[:len(s)-2], "+"); n != "" {
		var err error
		if d.n, err = strconv.Atoi(n); err != nil || d.n == 0 || d.n < -53 || d.n > 53 {
			return d, false
		}
	}
	return d, i >= 0
}

// complete takes from DTSTART what the rule does not say (3.3.10, near its end).
func (r *rule) complete(start time.Time, allDay bool) {
	if allDay {
		r.second, r.minute, r.hour = nil, nil, nil
	}
	for i, s := range r.second {
		r.second[i] = min(s, 59) // a leap second is read as the second before it
	}
	set := func(to *[]int, from frequency, n int) {
		if len(*to) == 0 && r.freq < from {
			*to = []int{n}
		}
	}
	set(&r.second, secondly, start.Second())
	set(&r.minute, minutely, start.Minute())
	set(&r.hour, hourly, start.Hour())
	noDays := len(r.day)+len(r.monthDay)+len(r.yearDay) == 0
	switch {
	case !noDays:
	case r.freq == yearly && len(r.week) > 0, r.freq == weekly:
		r.day = []nthDay{{0, start.Weekday()}}
	case r.freq == yearly:
		if len(r.month) == 0 {
			r.month = []int{int(start.Month())}
		}
		r.monthDay = []int{start.Day()}
	case r.freq == monthly:
		r.monthDay = []int{start.Day()}
	}
	// A list may name the same number again and again.
	r.weight = 8
	for _, p := range numberParts {
		to := p.to(r)
		slices.Sort(*to)
		*to = slices.Compact(*to)
		r.weight += len(*to)
	}
	slices.SortFunc(r.day, func(a, b nthDay) int { return cmp.Or(a.n-b.n, int(a.day-b.day)) })
	r.day = slices.Compact(r.day)
	r.weight = (r.weight+len(r.day)-len(r.place))/8 + 4*min(1, len(r.week))
}

// holdsOther asks the parts that come after the day of the month.
func (r *rule) holdsOther(t time.Time) bool {
	y, m, d := t.Date()
	inMonth := daysIn(y, m)
	inYear, yearDay := 365+leap(y), t.YearDay()
	if len(r.yearDay) > 0 && !slices.Contains(r.yearDay, yearDay) && !slices.Contains(r.yearDay, yearDay-inYear-1) {
		return false
	}
	if len(r.week) > 0 {
		n, of := r.weekOf(t)
		if !slices.Contains(r.week, n) && !slices.Contains(r.week, n-of-1) {
			return false
		}
	}
	if len(r.day) == 0 {
		return true
	}
	// nth of the month, or of the year: the notes 1 and 2 of 3.3.10.
	at, of := d, inMonth
	if r.freq == yearly && len(r.month) == 0 {
		at, of = yearDay, inYear
	}
	for _, w := range r.day {
		if w.day != t.Weekday() {
			continue
		}
		if w.n == 0 || r.freq > monthly || w.n == (at-1)/7+1 || -w.n == (of-at)/7+1 {
			return true
		}
	}
	return false
}
