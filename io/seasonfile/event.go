package seasonfile

import (
	"bytes"
	"errors"
	"strings"

	ics "github.com/arran4/golang-ical"

	"primaprova/model"
)

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
