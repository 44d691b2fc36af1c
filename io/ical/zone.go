package ical

import (
	"fmt"
	"sort"
	"time"
	_ "time/tzdata" // a machine may have no rules of its own

	ics "github.com/arran4/golang-ical"
)

const localForm = "20060102T150405"

// addZone describes a time zone from one instant to another: the offset in
// force at the first, and each change up to the last. Single changes, and no
// rule for ever, since a zone's rules may change tomorrow.
func addZone(cal *ics.Calendar, zone *time.Location, from, to time.Time) {
	z := cal.AddTimezone(zone.String())
	first := onset(from.In(zone))
	for _, change := range append([]time.Time{first}, changes(zone, first, to)...) {
		name, offset := change.Zone()
		_, before := change.Add(-time.Second).Zone()
		if change.Unix() == 0 {
			before = offset // not a change, but as far back as we look
		}
		var part ics.ComponentBase
		// The moment of change is told in the local time from before it.
		part.AddProperty(ics.ComponentPropertyDtStart, change.UTC().Add(time.Duration(before)*time.Second).Format(localForm))
		part.AddProperty(ics.ComponentProperty(ics.PropertyTzoffsetfrom), utcOffset(before))
		part.AddProperty(ics.ComponentProperty(ics.PropertyTzoffsetto), utcOffset(offset))
		part.AddProperty(ics.ComponentProperty(ics.PropertyTzname), name)
		if change.IsDST() {
			z.Components = append(z.Components, &ics.Daylight{ComponentBase: part})
		} else {
			z.Components = append(z.Components, &ics.Standard{ComponentBase: part})
		}
	}
}

// onset gives the last change at or before an instant, or the beginning of
// 1970 where there was none in the two years before.
func onset(t time.Time) time.Time {
	back := changes(t.Location(), t.AddDate(-2, 0, 0), t)
	if len(back) == 0 {
		return time.Unix(0, 0).In(t.Location())
	}
	return back[len(back)-1]
}

// changes gives the changes of a zone's offset after one instant and up to
// another. It looks at each day, since time.Time.ZoneBounds cannot be relied
// on: beyond a zone's table it names ends of years as changes, and on the last
// day of a leap year an end that has passed (seen in Go 1.26).
func changes(zone *time.Location, after, until time.Time) []time.Time {
	var out []time.Time
	offset := func(t int64) int { _, o := time.Unix(t, 0).In(zone).Zone(); return o }
	const day = 24 * 60 * 60
	for at := after.Unix(); at < until.Unix(); at += day {
		length := min(day, int(until.Unix()-at))
		if now := offset(at); offset(at+int64(length)) != now {
			n := sort.Search(length, func(i int) bool { return offset(at+int64(i)) != now })
			out = append(out, time.Unix(at+int64(n), 0).In(zone))
		}
	}
	return out
}

// utcOffset writes seconds east of UTC as +0130.
func utcOffset(seconds int) string {
	sign := "+"
	if seconds < 0 {
		sign, seconds = "-", -seconds
	}
	s := fmt.Sprintf("%s%02d%02d", sign, seconds/3600, seconds/60%60)
	if seconds%60 != 0 {
		s += fmt.Sprintf("%02d", seconds%60)
	}
	return s
}
