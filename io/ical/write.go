package ical

import (
	"bytes"
	"fmt"
	"io"
	"regexp"
	"strings"
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
	Blocks                  // an event for each run of sessions without a rest in it; all-day when they have no times
	Days                    // an all-day entry for each day with a session
)

// Options is what may be asked of a calendar.
type Options struct {
	Entries     Entries
	Color       string         // a colour's CSS name, for calendars that use it (RFC 7986); empty: none
	ByProgramme bool           // each programme's entries have a colour of their own
	NoCancelled bool           // leave out what is cancelled, for a calendar that took in no earlier plan
	Services    bool           // rehearsals and concerts too
	Alarm       *model.Minutes // so long before practice begins; nil: none
	DayAlarm    *model.Clock   // at this time of the day of an all-day entry; nil: none
	Refresh     time.Duration  // how often who subscribes should look again; 0: once a day
	Only        Only
	Locale      model.Locale   // how days and hours are written in descriptions
	History     *model.History // says where tempos stand; may be nil
}

// Only narrows a calendar. Its zero value leaves everything in. What is
// narrowed to some dates is a picture of them: it can't call back an entry that
// has moved out of them.
type Only struct {
	Programme string     // an id; what belongs to no programme is left out then
	Part      string     // programme/part; services and warm-ups are left out then
	From, To  model.Date // both included; zero: no end
}

func (o Only) dated(d model.Date) bool {
	return (o.From == 0 || d >= o.From) && (o.To == 0 || d <= o.To)
}

// holds tells whether a session of a part, or of none, on a date is wanted.
func (o Only) holds(part string, d model.Date) bool {
	programme, _, _ := strings.Cut(part, "/")
	return o.dated(d) && (o.Part == "" || o.Part == part) && (o.Programme == "" || o.Programme == programme)
}

// product names this program as the maker of the file.
const product = "-//primaprova//primaprova//EN"

var cssName = regexp.MustCompile(`^[a-z]*$`)

// Write writes a plan of a season. It fails where the season's time zone is
// unknown, where the colour is no name, and where w fails; w gets all in one
// piece.
func Write(w io.Writer, season *model.Season, plan *model.Plan, o Options) error {
	c, err := gather(season, plan, o)
	if err != nil {
		return err
	}
	b, err := serialized(c.calendar())
	if err != nil {
		return err
	}
	_, err = w.Write(b)
	return err
}

func serialized(cal *ics.Calendar) ([]byte, error) {
	var b bytes.Buffer
	err := cal.SerializeTo(&b, ics.WithNewLine("\r\n"), ics.WithLineLength(75))
	return b.Bytes(), err
}

// gather makes the entries.
func gather(season *model.Season, plan *model.Plan, o Options) (*writer, error) {
	zone, err := time.LoadLocation(season.TimeZone)
	if err != nil || season.TimeZone == "" || season.TimeZone == "Local" {
		return nil, fmt.Errorf("time_zone: %q: is no time zone with a name like Europe/Oslo", season.TimeZone)
	}
	if !cssName.MatchString(o.Color) {
		return nil, fmt.Errorf("colour: %q: is no CSS name like steelblue", o.Color)
	}
	if o.Entries == Fitting {
		o.Entries = Days
		if season.HasHours() {
			o.Entries = Sessions
		}
	}
	c := &writer{season: season, plan: plan, o: o, zone: zone, words: newWords(season, plan, o.History, o.Locale), loads: season.Loads(plan), namespace: namespace(season, plan)}
	c.days = map[model.Date][]*model.Session{}
	for d, day := range plan.ByDate() {
		for _, s := range day {
			if o.Only.holds(s.Part, d) {
				c.days[d] = append(c.days[d], s)
			}
		}
	}
	switch o.Entries {
	case Days:
		c.addDays()
	case Blocks:
		c.addBlocks()
	default:
		c.addSessions()
	}
	if o.Services {
		c.addServices()
	}
	return c, nil
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
	o         Options
	zone      *time.Location
	words     *words
	loads     *model.Loads
	namespace uuid.UUID
	days      map[model.Date][]*model.Session // those wanted
	events    []*ics.VEvent
	ids       []string   // of the events
	local     bool       // some time is told in local time
	cautioned model.Date // the day whose playing had its caution last
}

func (c *writer) calendar() *ics.Calendar {
	cal := &ics.Calendar{}
	cal.SetVersion("2.0")
	cal.SetProductId(product)
	cal.SetCalscale("GREGORIAN")
	cal.SetName(plain(c.name()))
	cal.SetDescription(caution)
	if c.o.Color != "" {
		cal.SetColor(c.o.Color)
	}
	refresh := "P1D" // who subscribes need not look more often
	if c.o.Refresh > 0 {
		refresh = duration(c.o.Refresh)
	}
	cal.SetRefreshInterval(refresh)
	cal.SetXPublishedTTL(refresh) // the name that older programs know it by
	c.describeZone(cal)
	for _, e := range c.events {
		cal.Components = append(cal.Components, e)
	}
	return cal
}

// name is the calendar's: that of the season, and of what it is narrowed to.
func (c *writer) name() string {
	only := c.o.Only
	switch {
	case only.Part != "":
		return c.season.Title + ": " + c.words.Title(only.Part)
	case only.Programme != "":
		return c.season.Title + ": " + c.words.programmeTitle(only.Programme)
	}
	return c.season.Title
}

// narrowed tells entries that hold only some of a day's sessions from those
// that hold all.
func (c *writer) narrowed() string {
	if c.o.Only.Part != "" {
		return "/" + c.o.Only.Part
	}
	if c.o.Only.Programme != "" {
		return "/" + c.o.Only.Programme
	}
	return ""
}

// entry begins an event.
func (c *writer) entry(id string, sequence int) *ics.VEvent {
	e := ics.NewEvent(uuid.NewSHA1(c.namespace, []byte(id)).String())
	e.SetDtStampTime(c.plan.From.Time().Add(time.Duration(sequence) * time.Second))
	e.SetSequence(sequence)
	e.AddProperty("X-PRIMAPROVA-ID", plain(id))
	c.events, c.ids = append(c.events, e), append(c.ids, id)
	return e
}
