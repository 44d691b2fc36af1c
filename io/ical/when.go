package ical

import (
	"fmt"
	"strings"
	"time"

	ics "github.com/arran4/golang-ical"

	"primaprova/model"
)

// describeZone writes the rules of the time zone where some time needs them.
func (c *writer) describeZone(cal *ics.Calendar) {
	if !c.local {
		return
	}
	from, to := c.plan.From, c.plan.To
	for _, g := range c.plan.Cancelled { // the season may have been longer once
		from, to = min(from, g.Date), max(to, g.Date)
	}
	if c.o.Services {
		for _, p := range c.season.Programmes {
			for _, v := range p.Services {
				from, to = min(from, v.Date), max(to, v.Date)
			}
		}
	}
	addZone(cal, c.zone, Instant(from, 0, c.zone), Instant(to+2, 0, c.zone))
}

// when says when an event is: from start to ends, or all day when start is nil.
// What takes no definite time of the day keeps nobody from other appointments.
func (c *writer) when(e *ics.VEvent, d model.Date, start, ends *model.Clock, minutes model.Minutes) {
	if start == nil {
		const day = "20060102"
		e.AddProperty(ics.ComponentPropertyDtStart, d.Time().Format(day), ics.WithValue("DATE"))
		e.AddProperty(ics.ComponentPropertyDtEnd, (d + 1).Time().Format(day), ics.WithValue("DATE")) // exclusive
		e.SetTimeTransparency(ics.TransparencyTransparent)
		return
	}
	length := max(model.Minutes(*ends-*start), minutes, 1)
	from := Instant(d, *start, c.zone)
	to := Instant(d, *start+model.Clock(length), c.zone)
	if !to.After(from) {
		// It begins in a gap: what the clock says next lies before it.
		to = from.Add(time.Duration(length) * time.Minute)
	}
	c.time(e, ics.ComponentPropertyDtStart, from)
	c.time(e, ics.ComponentPropertyDtEnd, to)
}

// time writes an instant as local time, so that a calendar shows what the
// player planned wherever it is opened. A time in a gap thus becomes the time
// that clocks will show. One that happens twice is written in UTC: the rule of
// RFC 5545 is plain, but not every reader keeps it.
func (c *writer) time(e *ics.VEvent, p ics.ComponentProperty, t time.Time) {
	if !clear(t, c.zone) || c.zone.String() == "UTC" {
		e.AddProperty(p, t.UTC().Format(localForm)+"Z")
		return
	}
	e.AddProperty(p, t.In(c.zone).Format(localForm), ics.WithTZID(c.zone.String()))
	c.local = true
}

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

// alarm makes a calendar call the player before an entry begins, or, where it
// takes all day, at a time of that day. The trigger is told from the entry's
// start (RFC 5545, section 3.8.6.3), which every calendar knows how to move.
func (c *writer) alarm(e *ics.VEvent, d model.Date, start *model.Clock, text string) {
	var before time.Duration
	switch {
	case start != nil && c.o.Alarm != nil:
		before = time.Duration(*c.o.Alarm) * time.Minute
	case start == nil && c.o.DayAlarm != nil:
		// Durations are of time that passes, so on a day on which the clocks
		// change they are not what the clock says.
		before = -Instant(d, *c.o.DayAlarm, c.zone).Sub(Instant(d, 0, c.zone))
	default:
		return
	}
	trigger := duration(before)
	if before > 0 {
		trigger = "-" + trigger
	}
	a := e.AddAlarm()
	a.SetAction(ics.ActionDisplay)
	a.SetDescription(plain(text))
	a.SetTrigger(trigger)
}

// duration writes a length of time, without its sign, in the one form that
// most programs would give it (RFC 5545, section 3.3.6).
func duration(d time.Duration) string {
	d = d.Abs().Round(time.Minute)
	if d == 0 {
		return "PT0S"
	}
	var b strings.Builder
	b.WriteString("P")
	if days := d / (24 * time.Hour); days > 0 {
		fmt.Fprintf(&b, "%dD", days)
		d -= days * 24 * time.Hour
	}
	if d > 0 {
		b.WriteString("T")
	}
	if h := d / time.Hour; h > 0 {
		fmt.Fprintf(&b, "%dH", h)
	}
	if m := d % time.Hour / time.Minute; m > 0 {
		fmt.Fprintf(&b, "%dM", m)
	}
	return b.String()
}
