package ical

import (
	"primaprova/model"
	"time"

	ics "github.com/arran4/golang-ical"
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
