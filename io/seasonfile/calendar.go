package seasonfile

import (
	"bytes"
	"errors"
	"fmt"
	"sort"
	"strings"
	"time"

	ics "github.com/arran4/golang-ical"

	"primaprova/model"
)

// selection is what a programme takes from the orchestra's calendar.
type selection struct {
	file       field
	containing string         // only events with this text in summary, categories or description; any case
	dates      model.Range    // only events in these days
	zone       *time.Location // for times without a zone, and for zones with a name that is not known
	given      bool           // whether the player named that zone
	playing    int            // percent of a service
}

// calendar reads services_from: a file name, or {file: …, containing: …, from:
// …, to: …, time_zone: …, playing: …}.
//
// An event is a rehearsal when its CATEGORIES, or else its SUMMARY, hold the
// word "rehearsal"; otherwise it is a concert when they hold "concert" or
// "performance". Any case will do, and "dress rehearsal for the concert" is a
// rehearsal. What is neither, cancelled, or without a time of day is no
// service; what is left out for want of a kind or a time is said in a warning.
func (r *reader) calendar(f field, s *model.Season, p *model.Programme) {
	zone, err := time.LoadLocation(s.TimeZone)
	if err != nil || s.TimeZone == "" || s.From == 0 || s.To < s.From {
		return // reported where it stands; without it no event can be placed
	}
	sel := selection{file: f, dates: model.Range{From: s.From, To: s.To}, zone: zone, playing: s.Habits.ServicePlaying}
	if f.kind() != "a single value" {
		t, ok := r.table(f, "file", "containing", "from", "to", "time_zone", "playing")
		if !ok {
			return
		}
		t.needs("file")
		t.read("containing", func(f field) { r.words(f, &sel.containing) })
		t.read("from", func(f field) { r.date(f, &sel.dates.From) })
		t.read("to", func(f field) { r.date(f, &sel.dates.To) })
		t.read("playing", func(f field) { r.percent(f, &sel.playing) })
		t.read("time_zone", func(f field) {
			var name string
			if r.timeZone(f, &name); name != "" {
				sel.zone, _ = time.LoadLocation(name)
				sel.given = true
			}
		})
		if sel.file, ok = t.fields["file"]; !ok {
			return
		}
	}
	path, b, ok := r.named(sel.file)
	if !ok {
		r.spoil(parent(f.path) + ".services")
		return
	}
	events, ok := r.events(path, b, sel)
	if !ok {
		r.spoil(parent(f.path) + ".services")
		return
	}
	found := services(events, sel, model.Range{From: s.From, To: s.To}, zone)
	for _, v := range found {
		r.places[fmt.Sprintf("%s.services[%d]", parent(f.path), len(p.Services))] = v.place
		p.Services = append(p.Services, v.Service)
	}
	r.leftOut(path, events, sel)
	if len(found) == 0 {
		r.spoil(parent(f.path) + ".services")
		r.wrong(sel.file, "", "holds no rehearsal and no concert of this programme")
	}
}

func parent(path string) string { return path[:strings.LastIndexByte(path, '.')] }

// event is one VEVENT.
type event struct {
	place     Place
	uid       string
	kind      model.ServiceKind
	known     bool // whether it has a kind
	start     stamp
	lasts     model.Minutes
	rule      string // RRULE; empty when it does not recur
	more      []stamp
	except    []stamp
	replaces  *stamp // RECURRENCE-ID
	cancelled bool
	selected  bool
}

// events reads the VEVENTs of a calendar.
func (r *reader) events(path string, b []byte, sel selection) ([]event, bool) {
	ok := true
	wrong := func(line int, value, text, advice string) {
		ok = false
		r.faults = append(r.faults, Fault{File: path, Line: line, Value: value, Text: text, Advice: advice})
	}
	lines, f := contentLines(b)
	if f != nil {
		wrong(f.Line, f.Value, f.Text, "")
		return nil, false
	}
	cal, err := ics.ParseCalendar(bytes.NewReader(bytes.TrimPrefix(b, []byte(byteOrderMark))))
	if err != nil {
		wrong(0, "", "is not an iCalendar file: "+err.Error(), "")
		return nil, false
	}
	var out []event
	for i, v := range cal.Events() {
		line := 0
		if i < len(lines) {
			line = lines[i]
		}
		e, err := readEvent(v, sel)
		if err != nil {
			var a valued
			errors.As(err, &a)
			wrong(line, a.value, err.Error(), a.advice)
			continue
		}
		e.place = Place{File: path, Line: line, Column: 1, Offset: -1, End: -1}
		out = append(out, e)
	}
	return out, ok
}

// contentLines gives the lines where events begin. The library tells neither
// those nor the line of a fault, so the commonest faults of a calendar are
// found here: another kind of file, a line cut in two, an end cut off.
func contentLines(b []byte) (events []int, wrong *Fault) {
	last := ""
	for i, l := range strings.Split(strings.TrimPrefix(string(b), byteOrderMark), "\n") {
		l = strings.TrimRight(l, "\r")
		switch {
		case i == 0 && !strings.EqualFold(l, "BEGIN:VCALENDAR"):
			return nil, &Fault{Line: 1, Value: l, Text: "is not an iCalendar file: it does not begin with BEGIN:VCALENDAR"}
		case l == "" || l[0] == ' ' || l[0] == '\t':
			continue // nothing, or the line before goes on
		case !strings.Contains(l, ":"):
			return nil, &Fault{Line: i + 1, Value: l, Text: "is no line of iCalendar: it has no colon"}
		case strings.EqualFold(l, "BEGIN:VEVENT"):
			events = append(events, i+1)
		}
		last = l
	}
	if !strings.EqualFold(last, "END:VCALENDAR") {
		return nil, &Fault{Text: "is cut off: it does not end with END:VCALENDAR"}
	}
	return events, nil
}

// valued is a fault of a property's value.
type valued struct{ value, text, advice string }

func (v valued) Error() string { return v.text }

func readEvent(v *ics.VEvent, sel selection) (event, error) {
	text := func(p ics.ComponentProperty) string {
		var all []string
		for _, q := range v.GetProperties(p) {
			all = append(all, q.Value)
		}
		return strings.ToLower(strings.Join(all, " "))
	}
	summary, categories := text(ics.ComponentPropertySummary), text(ics.ComponentPropertyCategories)
	e := event{uid: v.Id(), cancelled: text(ics.ComponentPropertyStatus) == "cancelled"}
	e.selected = strings.Contains(summary+"\n"+categories+"\n"+text(ics.ComponentPropertyDescription), strings.ToLower(sel.containing))
	if e.kind, e.known = serviceKind(categories); !e.known {
		e.kind, e.known = serviceKind(summary)
	}
	start := v.GetProperty(ics.ComponentPropertyDtStart)
	if start == nil {
		return e, valued{text: "this event has no DTSTART"}
	}
	var err error
	if e.start, err = readStamp(start, sel); err != nil {
		return e, err
	}
	if e.lasts, err = duration(v, e.start, sel); err != nil {
		return e, err
	}
	if p := v.GetProperty(ics.ComponentPropertyRrule); p != nil {
		e.rule = p.Value
	}
	if e.more, err = stamps(v, ics.ComponentPropertyRdate, sel); err != nil {
		return e, err
	}
	if e.except, err = stamps(v, ics.ComponentPropertyExdate, sel); err != nil {
		return e, err
	}
	if p := v.GetProperty(ics.ComponentPropertyRecurrenceId); p != nil {
		if len(p.ICalParameters["RANGE"]) > 0 {
			return e, valued{text: "a change of this and all later events (RANGE) is not read here"}
		}
		at, err := readStamp(p, sel)
		if err != nil {
			return e, err
		}
		e.replaces = &at
	}
	if e.rule != "" {
		// Faults of the rule are found here, so that they are reported once
		// and with the others.
		if _, err := recurrence(e); err != nil {
			return e, err
		}
	}
	return e, nil
}

func serviceKind(text string) (model.ServiceKind, bool) {
	switch {
	case strings.Contains(text, "rehearsal"):
		return model.Rehearsal, true
	case strings.Contains(text, "concert"), strings.Contains(text, "performance"):
		return model.Concert, true
	}
	return 0, false
}

// dated is a service with the place of its event.
type dated struct {
	model.Service
	place Place
}

// services gives the services of the season in the selection, by time.
func services(events []event, sel selection, season model.Range, zone *time.Location) []dated {
	replaced := map[string]bool{}
	for _, e := range events {
		if e.replaces != nil {
			replaced[e.uid+"\n"+e.replaces.instant().String()] = true
		}
	}
	var out []dated
	for _, e := range events {
		if e.cancelled || !e.known || !e.selected || e.start.allDay || e.lasts <= 0 {
			continue
		}
		for _, at := range e.days(season) {
			if e.replaces == nil && replaced[e.uid+"\n"+at.instant().String()] {
				continue
			}
			local := at.instant().In(zone)
			d := model.DateIn(local, zone)
			if !season.Holds(d) || !sel.dates.Holds(d) {
				continue
			}
			out = append(out, dated{model.Service{Kind: e.kind, Date: d, Start: model.Clock(60*local.Hour() + local.Minute()),
				Lasts: e.lasts, Playing: sel.playing}, e.place})
		}
	}
	sort.SliceStable(out, func(i, j int) bool {
		if out[i].Date != out[j].Date {
			return out[i].Date < out[j].Date
		}
		return out[i].Start < out[j].Start
	})
	return out
}

// leftOut warns of events in the selection that might have been meant as
// services, once for each reason.
func (r *reader) leftOut(path string, events []event, sel selection) {
	warn := func(text string, odd func(event) bool) {
		n, first := 0, 0
		for _, e := range events {
			d := e.start.date()
			if !e.cancelled && e.selected && odd(e) && (e.rule != "" || sel.dates.Holds(d)) {
				if n == 0 {
					first = e.place.Line
				}
				n++
			}
		}
		if n > 0 {
			r.faults = append(r.faults, Fault{File: path, Line: first, Warning: true, Text: fmt.Sprintf("%s, from here on: %d", text, n)})
		}
	}
	warn("events that are neither rehearsal nor concert are left out", func(e event) bool { return !e.known })
	warn("rehearsals and concerts without a time of day or an end are left out", func(e event) bool {
		return e.known && (e.start.allDay || e.lasts <= 0)
	})
}
