package ical

import (
	"time"

	"primaprova/model"
)

// Instant gives the instant of a local date and time by the rule of RFC 5545,
// section 3.3.5: a local time that happens twice means the first, one that
// never happens takes the offset from before the gap. Both times that is the
// offset from before the change. Package time promises neither. A clock of
// 24:00 is midnight at the end of the day.
func Instant(d model.Date, c model.Clock, zone *time.Location) time.Time {
	meant, before := readings(d, c, zone)
	if len(meant) == 0 {
		return before
	}
	return meant[0]
}

// readings gives the instants at which clocks show a local time, none, one or
// two, in order; and the one that the offset from before a change would make.
//
// No offset reaches two days, nor does any change of one, not even where the
// date line moved (Samoa left out a whole day in 2011); and no zone changes
// twice within four days. So the offsets two days before and two days after
// are all that can matter.
func readings(d model.Date, c model.Clock, zone *time.Location) (meant []time.Time, before time.Time) {
	wall := d.Time().Add(time.Duration(c) * time.Minute) // the local time, as if it were UTC
	at := func(offset int) time.Time { return wall.Add(-time.Duration(offset) * time.Second).In(zone) }
	_, earlier := wall.Add(-48 * time.Hour).In(zone).Zone()
	_, later := wall.Add(48 * time.Hour).In(zone).Zone()
	before = at(earlier)
	if _, now := before.Zone(); now == earlier {
		meant = append(meant, before)
	}
	if later != earlier {
		after := at(later)
		if _, now := after.Zone(); now == later {
			meant = append(meant, after)
		}
	}
	return meant, before
}

// clear tells whether an instant's local time happens once: readers differ on
// which of two they take.
func clear(t time.Time, zone *time.Location) bool {
	t = t.In(zone)
	meant, _ := readings(model.DateIn(t, zone), model.Clock(60*t.Hour()+t.Minute()), zone)
	return len(meant) == 1 && meant[0].Equal(t)
}
