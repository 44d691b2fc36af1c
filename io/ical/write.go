package ical

import (
	"bytes"
	"fmt"
	"io"
	"regexp"
	"slices"
	"time"

	ics "github.com/arran4/golang-ical"
	"github.com/google/uuid"

	"primaprova/model"
)

// Entries says what one entry of the calendar is.
type Entries int

// The kinds of entry.
const (
	Fitting  Entries = iota // sessions when the season gives hours, days when not
	Sessions                // an event for each session; all-day when it has no times
	Days                    // an all-day entry for each day with a session
)

// Options is what may be asked of a calendar.
type Options struct {
	Entries     Entries
	Color       string // a colour's CSS name, for calendars that use it (RFC 7986); empty: none
	NoCancelled bool   // leave out what is cancelled, for a calendar that took in no earlier plan
}

// product names this program as the maker of the file.
const product = "-//primaprova//primaprova//EN"

var cssName = regexp.MustCompile(`^[a-z]*$`)

// Write writes a plan of a season. It fails where the season's time zone is
// unknown, where the colour is no name, and where w fails; w gets all in one
// piece.
func Write(w io.Writer, season *model.Season, plan *model.Plan, o Options) error {
	zone, err := time.LoadLocation(season.TimeZone)
	if err != nil || season.TimeZone == "" || season.TimeZone == "Local" {
		return fmt.Errorf("time_zone: %q: is no time zone with a name like Europe/Oslo", season.TimeZone)
	}
	if !cssName.MatchString(o.Color) {
		return fmt.Errorf("colour: %q: is no CSS name like steelblue", o.Color)
	}
	if o.Entries == Fitting {
		o.Entries = Days
		if season.HasHours() {
			o.Entries = Sessions
		}
	}
	c := &writer{season: season, plan: plan, zone: zone, words: newWords(season), namespace: namespace(season, plan)}
	if o.Entries == Days {
		c.days(!o.NoCancelled)
	} else {
		c.sessions(!o.NoCancelled)
	}
	var b bytes.Buffer
	if err := c.calendar(o).SerializeTo(&b, ics.WithNewLine("\r\n"), ics.WithLineLength(75)); err != nil {
		return err
	}
	_, err = w.Write(b.Bytes())
	return err
}

// namespace keeps the ids of one season apart from those of all others.
func namespace(season *model.Season, plan *model.Plan) uuid.UUID {
	key := plan.Calendar
	if key == "" {
		key = season.CalendarKey()
	}
	return uuid.NewSHA1(uuid.NameSpaceDNS, []byte(key+".primaprova.invalid"))
}

// writer gathers the entries of one calendar.
type writer struct {
	season    *model.Season
	plan      *model.Plan
	zone      *time.Location
	words     *words
	namespace uuid.UUID
	events    []*ics.VEvent
	local     bool // some time is told in local time
}

func (c *writer) calendar(o Options) *ics.Calendar {
	cal := &ics.Calendar{}
	cal.SetVersion("2.0")
	cal.SetProductId(product)
	cal.SetCalscale("GREGORIAN")
	cal.SetName(plain(c.season.Title))
	cal.SetDescription(caution)
	if o.Color != "" {
		cal.SetColor(o.Color)
	}
	cal.SetRefreshInterval("P1D") // who subscribes need not look more often
	if c.local {
		from, to := c.plan.From, c.plan.To
		for _, g := range c.plan.Cancelled { // the season may have been longer once
			from, to = min(from, g.Date), max(to, g.Date)
		}
		addZone(cal, c.zone, Instant(from, 0, c.zone), Instant(to+2, 0, c.zone))
	}
	for _, e := range c.events {
		cal.Components = append(cal.Components, e)
	}
	return cal
}

// sessions makes an event of each session, day by day in the order of the day.
func (c *writer) sessions(cancelled bool) {
	days := c.plan.ByDate()
	for _, d := range sorted(days) {
		for _, s := range days[d] {
			e := c.entry(s.ID, s.Sequence)
			title := c.words.title(s)
			if s.Start == nil {
				title += fmt.Sprintf(" (%s)", s.Minutes)
			}
			e.SetSummary(plain(title))
			e.SetDescription(plain(c.words.about(s)))
			e.SetStatus(ics.ObjectStatusConfirmed)
			e.AddCategory(string(s.Stage))
			if p := c.words.programme(s.Part); p != nil && p.Title != "" {
				e.AddCategory(plain(p.Title))
			}
			ends := s.Start
			if s.Ends != nil {
				ends = s.Ends
			}
			c.when(e, d, s.Start, ends, s.Minutes)
		}
	}
	if !cancelled {
		return
	}
	for _, g := range c.plan.Cancelled {
		e := c.entry(g.ID, g.Sequence)
		e.SetSummary(plain("Cancelled: " + c.words.titleOf(g.ID)))
		e.SetStatus(ics.ObjectStatusCancelled)
		c.when(e, g.Date, g.Start, g.Start, g.Minutes)
	}
}

// dayID names a day's entry. No session has such an id: those of parts have
// more steps and the warm-up's begins otherwise.
func dayID(d model.Date) string { return "day/" + d.String() }

// days makes an entry of each day that has a session.
func (c *writer) days(cancelled bool) {
	sequence := map[model.Date]int{}
	for _, d := range c.plan.ChangedDays {
		sequence[d.Date] = d.Sequence
	}
	days := c.plan.ByDate()
	for _, d := range sorted(days) {
		e := c.entry(dayID(d), sequence[d])
		e.SetSummary(plain(c.words.sum(days[d])))
		e.SetDescription(plain(c.words.list(days[d])))
		e.SetStatus(ics.ObjectStatusConfirmed)
		c.when(e, d, nil, nil, 0)
	}
	if !cancelled {
		return
	}
	for _, g := range c.plan.ChangedDays {
		if len(days[g.Date]) > 0 {
			continue
		}
		e := c.entry(dayID(g.Date), g.Sequence)
		e.SetSummary("Cancelled: practice")
		e.SetStatus(ics.ObjectStatusCancelled)
		c.when(e, g.Date, nil, nil, 0)
	}
}

func sorted(days map[model.Date][]*model.Session) []model.Date {
	var out []model.Date
	for d := range days {
		out = append(out, d)
	}
	slices.Sort(out)
	return out
}

// entry begins an event.
func (c *writer) entry(id string, sequence int) *ics.VEvent {
	e := ics.NewEvent(uuid.NewSHA1(c.namespace, []byte(id)).String())
	e.SetDtStampTime(c.plan.From.Time().Add(time.Duration(sequence) * time.Second))
	e.SetSequence(sequence)
	e.AddProperty("X-PRIMAPROVA-ID", plain(id))
	c.events = append(c.events, e)
	return e
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
