package ical

import (
	"fmt"
	"strings"
	"time"

	ics "github.com/arran4/golang-ical"

	"primaprova/model"
)

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
