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
