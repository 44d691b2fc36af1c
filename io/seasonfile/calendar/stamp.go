package calendar

import (
	"strings"
	"time"
)

// stamp is a local time in a zone, or a date. The local time is kept as if it
// were UTC, because recurrence is reckoned on the clock on the wall, and only
// then turned into instants.
type stamp struct {
	wall   time.Time
	zone   *zone
	allDay bool
}

func (s stamp) instant() time.Time { return s.zone.instant(s.wall) }

// in gives the same instant on the clocks of a zone.
func (s stamp) in(z *zone) stamp {
	if s.allDay || s.zone == z {
		return stamp{s.wall, z, s.allDay}
	}
	return stamp{wall: z.wall(s.instant()), zone: z}
}

// after gives the instant some length later: the days on the wall, the time as
// it runs.
func (s stamp) after(n length) time.Time {
	return s.zone.instant(s.wall.AddDate(0, 0, n.days)).Add(n.time)
}

const (
	dateForm  = "20060102"
	timeForm  = "20060102T150405"
	firstYear = 1 // years that are read
	lastYear  = 9999
)

// parseStamp reads a DATE or DATE-TIME value.
func (f *file) parseStamp(l line, value string) (stamp, *Fault) {
	written := strings.TrimSpace(value)
	value = strings.ToUpper(written)
	odd := func() (stamp, *Fault) {
		w := wrong(l.number, written, "%s is not a date and time of iCalendar", l.name)
		return stamp{}, &w
	}
	if t, err := time.Parse(dateForm, value); err == nil {
		return stamp{wall: t, zone: f.own, allDay: true}, nil
	}
	bare, utc := strings.CutSuffix(value, "Z")
	// A leap second is read as the second before it, as 3.3.12 has it.
	if len(bare) == len(timeForm) && strings.HasSuffix(bare, "60") {
		bare = bare[:len(bare)-2] + "59"
	}
	t, err := time.Parse(timeForm, bare)
	if err != nil {
		return odd()
	}
	switch id := l.params["TZID"]; {
	case utc:
		return stamp{wall: t, zone: utcZone}, nil
	case id != "":
		return stamp{wall: t, zone: f.zone(id, t)}, nil
	}
	return stamp{wall: t, zone: f.own}, nil
}

// length is how long an entry takes: whole days on the calendar, then time
// that runs on whatever clocks do (RFC 5545, 3.3.6).
type length struct {
	days int
	time time.Duration
}

// parseDuration reads P1DT2H30M and its like (RFC 5545, 3.3.6). Numbers have
// at most five digits.
func parseDuration(s string) (length, bool) {
	s = strings.ToUpper(strings.TrimSpace(s))
	negative := strings.HasPrefix(s, "-")
	rest, ok := strings.CutPrefix(strings.TrimLeft(s, "+-"), "P")
	var sum length
	n, digits, clock := 0, 0, false
	for i := 0; ok && i < len(rest); i++ {
		c := rest[i]
		if '0' <= c && c <= '9' && digits < 5 {
			n, digits = 10*n+int(c-'0'), digits+1
			continue
		}
		switch {
		case c == 'T' && digits == 0 && !clock && i+1 < len(rest):
			clock = true
			continue
		case digits == 0:
			return length{}, false
		case c == 'W' && !clock:
			sum.days += 7 * n
		case c == 'D' && !clock:
			sum.days += n
		case c == 'H' && clock:
			sum.time += time.Duration(n) * time.Hour
		case c == 'M' && clock:
			sum.time += time.Duration(n) * time.Minute
		case c == 'S' && clock:
			sum.time += time.Duration(n) * time.Second
		default:
			return length{}, false
		}
		n, digits = 0, 0
	}
	if negative {
		sum.days, sum.time = -sum.days, -sum.time
	}
	return sum, ok && digits == 0 && rest != ""
}
