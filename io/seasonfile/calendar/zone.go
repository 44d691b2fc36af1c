package calendar

import (
	"sort"
	"time"
	_ "time/tzdata" // a machine may have no zones of its own
)

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
