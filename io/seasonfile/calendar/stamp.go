package calendar

import (
	"sort"
	"strings"
	"time"
	_ "time/tzdata" // a machine may have no zones of its own
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

// zone is a time zone: of the IANA database, or described in the file. One that
// is neither is unknown; its times are read as if they were UTC until it is
// clear whether they matter.
type zone struct {
	id      string
	known   bool
	iana    *time.Location
	changes []change // of a zone described in the file, by instant
	before  int      // its offset before the first of them
	said    bool     // that it is unknown

	named bool      // some time is in it
	first time.Time // the earliest of them
	fault *Fault    // of the file's own description, where it is needed
}

// change is an instant from which a zone has another offset, in seconds east.
type change struct {
	at int64 // seconds since 1970
	to int
}

var utcZone = &zone{id: "UTC", known: true, iana: time.UTC}

// offset gives the seconds east of UTC at an instant.
func (z *zone) offset(t time.Time) int {
	if z.iana != nil {
		_, seconds := t.In(z.iana).Zone()
		return seconds
	}
	at := t.Unix()
	i := sort.Search(len(z.changes), func(i int) bool { return z.changes[i].at > at })
	if i == 0 {
		return z.before
	}
	return z.changes[i-1].to
}

// wall gives the clock on the wall at an instant, kept as if it were UTC.
func (z *zone) wall(t time.Time) time.Time {
	return t.UTC().Add(time.Duration(z.offset(t)) * time.Second)
}

// instant turns a local time into an instant by the rule of RFC 5545, 3.3.5: a
// time that happens twice means the first, one that never happens is read with
// the offset before the gap. (time.Date promises neither.)
//
// Every offset in use lies within a day of UTC, so the offsets a day before
// and a day after are those around a change, if there is one.
func (z *zone) instant(wall time.Time) time.Time {
	const day = 24 * time.Hour
	before, after := z.offset(wall.Add(-day)), z.offset(wall.Add(day))
	first, second := wall.Add(-time.Duration(before)*time.Second), wall.Add(-time.Duration(after)*time.Second)
	if z.offset(first) != before && z.offset(second) == after {
		return second
	}
	return first
}

// Instant turns a local time, kept as if it were UTC, into an instant by the
// rule of RFC 5545, 3.3.5.
func Instant(wall time.Time, in *time.Location) time.Time {
	z := zone{iana: in}
	return z.instant(wall)
}
