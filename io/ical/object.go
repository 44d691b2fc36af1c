package ical

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"

	ics "github.com/arran4/golang-ical"

	"primaprova/model"
)

// Object is one entry as a calendar server keeps it: a calendar of its own with
// one event in it (RFC 4791, section 4.1).
type Object struct {
	Name  string // of the resource; ends in .ics
	Title string // what it is and when, for people
	Data  []byte
	Sum   string // changes with every change of the entry
}

// Prefix begins the names of all objects of a season's plans, and of no others.
func Prefix(season *model.Season, plan *model.Plan) string {
	key := plan.Calendar
	if key == "" {
		key = season.CalendarKey()
	}
	return Family + key + "-"
}

// Objects gives a plan's entries one by one. What is cancelled is left out: a
// server is told to remove it. Errors are those of Write.
func Objects(season *model.Season, plan *model.Plan, o Options) ([]Object, error) {
	o.NoCancelled = true
	c, err := gather(season, plan, o)
	if err != nil {
		return nil, err
	}
	zone := &ics.Calendar{}
	c.describeZone(zone)
	prefix := Prefix(season, plan)
	var out []Object
	for _, e := range c.events {
		bare, err := serialized(alone(e))
		if err != nil {
			return nil, err
		}
		shown, err := appearance(bare)
		if err != nil {
			return nil, fmt.Errorf("an entry of our own cannot be read: %w", err)
		}
		sum := digest(string(bare))
		e.AddProperty(sealProperty, shown+"-"+sum)
		cal := alone(e)
		if strings.Contains(string(bare), "TZID=") {
			cal.Components = slices.Concat(zone.Components, cal.Components)
		}
		data, err := serialized(cal)
		if err != nil {
			return nil, err
		}
		out = append(out, Object{Name: prefix + e.Id() + ".ics", Title: titled(e), Data: data, Sum: sum})
	}
	return out, nil
}

// Family begins the names of the objects of all seasons.
const Family = "primaprova-"

// Twins tells whether what a calendar holds shows what one of the objects does:
// the same title at the same time.
func Twins(objects []Object) func(data []byte) bool {
	shown := map[string]bool{}
	for _, o := range objects {
		shown[o.Title] = true
	}
	return func(data []byte) bool {
		e, err := soleEvent(data)
		if err != nil {
			return false
		}
		start, summary := e.GetProperty(ics.ComponentPropertyDtStart), e.GetProperty(ics.ComponentPropertySummary)
		return start != nil && len(start.Value) >= 8 && summary != nil && shown[titled(e)]
	}
}

func alone(e *ics.VEvent) *ics.Calendar {
	cal := &ics.Calendar{Components: []ics.Component{e}}
	cal.SetVersion("2.0")
	cal.SetProductId(product)
	cal.SetCalscale("GREGORIAN")
	return cal
}

// titled names an event for people: 2027-03-25 09:30 Warm-up.
func titled(e *ics.VEvent) string {
	start := e.GetProperty(ics.ComponentPropertyDtStart).Value
	when := start[:4] + "-" + start[4:6] + "-" + start[6:8]
	if len(start) >= 13 {
		when += " " + start[9:11] + ":" + start[11:13]
	}
	return when + " " + e.GetProperty(ics.ComponentPropertySummary).Value
}

// The seal tells an object that a server keeps as it was written from one that
// was edited in a calendar: it holds a digest of what the calendar shows, and
// Object.Sum. Servers may write the bytes anew, in another order and with notes
// of their own, so those can't be compared.
const sealProperty = "X-PRIMAPROVA-SEAL"

// Untouched tells whether an object that Objects once gave shows what it
// showed then, and gives its Sum.
func Untouched(data []byte) (sum string, ok bool) {
	e, err := soleEvent(data)
	if err != nil {
		return "", false
	}
	p := e.GetProperty(sealProperty)
	if p == nil {
		return "", false
	}
	shown, sum, _ := strings.Cut(p.Value, "-")
	now, err := appearance(data)
	return sum, err == nil && shown == now
}

func soleEvent(data []byte) (*ics.VEvent, error) {
	cal, err := ics.ParseCalendar(bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	if n := len(cal.Events()); n != 1 {
		return nil, fmt.Errorf("%d events", n)
	}
	return cal.Events()[0], nil
}

// notes are properties that calendars and servers keep for themselves, and
// values that mean the same as nothing.
var notes = []string{"DTSTAMP", "CREATED", "LAST-MODIFIED", "SEQUENCE", "CLASS:PUBLIC", "PRIORITY:0", "TRANSP:OPAQUE"}

// appearance is a digest of what a calendar shows of an object: the event's
// properties but for notes, and when alarms ring. A calendar that has rung or
// been put off writes that into the alarm, or adds one related to it (RFC
// 9074); neither is an edit.
func appearance(data []byte) (string, error) {
	e, err := soleEvent(data)
	if err != nil {
		return "", err
	}
	var lines, categories []string
	for _, p := range e.Properties {
		name := strings.ToUpper(p.IANAToken)
		line := name + zoneOf(p.ICalParameters) + ":" + p.Value
		switch {
		case strings.HasPrefix(name, "X-"), slices.Contains(notes, name), slices.Contains(notes, line):
		case name == "CATEGORIES":
			// Several lines of one, or one of several: the same.
			categories = append(categories, strings.Split(p.Value, ",")...)
		default:
			lines = append(lines, line)
		}
	}
	for _, a := range e.Alarms() {
		if t := a.GetProperty(ics.ComponentPropertyTrigger); t != nil && a.GetProperty("RELATED-TO") == nil {
			lines = append(lines, "TRIGGER:"+t.Value)
		}
	}
	slices.Sort(lines)
	slices.Sort(categories)
	return digest(strings.Join(lines, "\n") + "\n" + strings.Join(categories, ",")), nil
}

func zoneOf(parameters map[string][]string) string {
	if z := parameters["TZID"]; len(z) == 1 {
		return ";" + z[0]
	}
	return ""
}

func digest(s string) string {
	sum := sha256.Sum256([]byte(s))
	return hex.EncodeToString(sum[:12])
}
