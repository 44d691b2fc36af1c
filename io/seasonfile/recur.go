package seasonfile

import (
	"strings"
	"time"

	ics "github.com/arran4/golang-ical"
	"github.com/teambition/rrule-go"

	"primaprova/model"
)

// stamp is a local time in a zone. The local time is kept as if it were UTC,
// because recurrence is reckoned on the clock on the wall, and only then
// turned into instants.
type stamp struct {
	wall   time.Time
	zone   *time.Location
	allDay bool
}

func (s stamp) date() model.Date { return model.DateIn(s.wall, time.UTC) }

// instant turns the local time into an instant by the rule of RFC 5545, 3.3.5:
// a time that happens twice means the first, one that never happens is read
// with the offset before the gap. (time.Date promises neither.)
func (s stamp) instant() time.Time {
	offset := func(t time.Time) time.Duration {
		_, seconds := t.In(s.zone).Zone()
		return time.Duration(seconds) * time.Second
	}
	before, after := offset(s.wall.Add(-24*time.Hour)), offset(s.wall.Add(24*time.Hour))
	first, second := s.wall.Add(-before), s.wall.Add(-after)
	if offset(first) != before && offset(second) == after {
		return second
	}
	return first
}

// readStamp reads DTSTART and its like.
func readStamp(p *ics.IANAProperty, sel selection) (stamp, error) {
	return parseStamp(p, p.Value, sel)
}

func parseStamp(p *ics.IANAProperty, value string, sel selection) (stamp, error) {
	name := p.IANAToken
	if t, err := time.Parse("20060102", value); err == nil {
		return stamp{wall: t, zone: sel.zone, allDay: true}, nil
	}
	if t, err := time.Parse("20060102T150405Z", value); err == nil {
		return stamp{wall: t, zone: time.UTC}, nil
	}
	t, err := time.Parse("20060102T150405", value)
	if err != nil {
		return stamp{}, valued{value: value, text: name + " is not a date and time of iCalendar"}
	}
	zone := sel.zone
	if id := p.ICalParameters["TZID"]; len(id) > 0 {
		known, ok := zoneOf(id[0])
		switch {
		case ok:
			zone = known
		case !sel.given:
			return stamp{}, valued{id[0], name + " is in a time zone that is not in the IANA database",
				"services_from: {file: …, time_zone: Europe/Oslo}, which stands in for it"}
		}
	}
	return stamp{wall: t, zone: zone}, nil
}

// zoneOf finds a zone by TZID. Some programs put a path before the name.
func zoneOf(id string) (*time.Location, bool) {
	words := strings.Split(strings.Trim(id, "/"), "/")
	for i := range words {
		name := strings.Join(words[i:], "/")
		if name == "" || name == "Local" {
			continue
		}
		if zone, err := time.LoadLocation(name); err == nil {
			return zone, true
		}
	}
	return nil, false
}

// stamps reads a property that may come several times and hold several values.
func stamps(v *ics.VEvent, name ics.ComponentProperty, sel selection) ([]stamp, error) {
	var out []stamp
	for _, p := range v.GetProperties(name) {
		for _, value := range strings.Split(p.Value, ",") {
			// A period (start/end) is taken by its start: services keep the
			// event's length.
			start, _, _ := strings.Cut(value, "/")
			s, err := parseStamp(p, start, sel)
			if err != nil {
				return nil, err
			}
			out = append(out, s)
		}
	}
	return out, nil
}

// duration gives the length of an event, 0 when it has none. Where both ends
// are in one zone it is the difference on the clock.
func duration(v *ics.VEvent, start stamp, sel selection) (model.Minutes, error) {
	var length time.Duration
	if p := v.GetProperty(ics.ComponentPropertyDtEnd); p != nil {
		end, err := readStamp(p, sel)
		if err != nil {
			return 0, err
		}
		length = end.wall.Sub(start.wall)
		if end.zone.String() != start.zone.String() {
			length = end.instant().Sub(start.instant())
		}
	} else if p := v.GetProperty(ics.ComponentPropertyDuration); p != nil {
		d, ok := parseDuration(p.Value)
		if !ok {
			return 0, valued{value: p.Value, text: "DURATION is not a duration of iCalendar"}
		}
		length = d
	}
	return model.Minutes((length + 30*time.Second) / time.Minute), nil
}

// parseDuration reads P1DT2H30M and its like (RFC 5545, 3.3.6), without sign:
// no service takes less than nothing. Numbers have at most five digits.
func parseDuration(s string) (time.Duration, bool) {
	rest, ok := strings.CutPrefix(strings.TrimPrefix(s, "+"), "P")
	units := map[byte]time.Duration{'W': 7 * 24 * time.Hour, 'D': 24 * time.Hour}
	var sum time.Duration
	n, digits, clock := 0, 0, false
	for i := 0; ok && i < len(rest); i++ {
		switch c := rest[i]; {
		case c == 'T' && digits == 0 && !clock:
			clock = true
			units = map[byte]time.Duration{'H': time.Hour, 'M': time.Minute, 'S': time.Second}
		case '0' <= c && c <= '9' && digits < 5:
			n, digits = 10*n+int(c-'0'), digits+1
		case units[c] > 0 && digits > 0:
			sum += time.Duration(n) * units[c]
			n, digits = 0, 0
		default:
			return 0, false
		}
	}
	return sum, ok && digits == 0 && rest != ""
}

// mostRepeats bounds the events of one rule, counted from its first: three
// hundred years of days.
const mostRepeats = 110_000

// recurrence makes the rule of an event, on the clock on the wall.
func recurrence(e event) (*rrule.RRule, error) {
	wrong := func(text string) error { return valued{value: e.rule, text: text} }
	option, err := rrule.StrToROption(e.rule)
	if err != nil {
		return nil, wrong("RRULE is not a rule of iCalendar")
	}
	if option.Freq > rrule.DAILY {
		return nil, wrong("RRULE recurs more than once a day, which no service does")
	}
	option.Dtstart = e.start.wall
	switch until := strings.ToUpper(e.rule); {
	case option.Until.IsZero():
	case e.start.zone != time.UTC && strings.Contains(until, "T") && strings.HasSuffix(untilValue(until), "Z"):
		// UNTIL is an instant; the rule runs on the wall clock.
		t := option.Until.In(e.start.zone)
		option.Until = time.Date(t.Year(), t.Month(), t.Day(), t.Hour(), t.Minute(), t.Second(), 0, time.UTC)
	case !strings.Contains(untilValue(until), "T"):
		option.Until = option.Until.Add(24*time.Hour - time.Second) // a date: its whole day
	}
	rule, err := rrule.NewRRule(*option)
	if err != nil {
		return nil, wrong("RRULE is not a rule of iCalendar")
	}
	return rule, nil
}

func untilValue(rule string) string {
	_, after, _ := strings.Cut(rule, "UNTIL=")
	value, _, _ := strings.Cut(after, ";")
	return value
}

// days gives the times at which an event begins that may lie in the season.
func (e event) days(season model.Range) []stamp {
	at := func(t time.Time) stamp { return stamp{wall: t, zone: e.start.zone} }
	all := append([]stamp{e.start}, e.more...)
	if rule, err := recurrence(e); e.rule != "" && err == nil {
		all = e.more
		next := rule.Iterator()
		// A day on both sides: the zones may differ.
		for i := 0; i < mostRepeats; i++ {
			t, ok := next()
			if !ok || model.DateIn(t, time.UTC) > season.To+1 {
				break
			}
			if model.DateIn(t, time.UTC) >= season.From-1 {
				all = append(all, at(t))
			}
		}
	}
	var out []stamp
	for _, s := range all {
		out = appendNew(out, s, e.except)
	}
	return out
}

// appendNew adds a time unless it is excepted or there already.
func appendNew(to []stamp, s stamp, except []stamp) []stamp {
	for _, list := range [][]stamp{to, except} {
		for _, x := range list {
			if x.instant().Equal(s.instant()) || x.allDay && x.date() == s.date() {
				return to
			}
		}
	}
	return append(to, s)
}
