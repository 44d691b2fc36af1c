package calendar

import (
	"strings"
)

// parser keeps where in the nested components the reader stands.
type parser struct {
	f      *file
	open   []string // components that are open, the outermost first
	event  *entry
	zoneID string
	about  *description // the VTIMEZONE at hand
	seen   bool         // some VCALENDAR
}

// line takes one content line, and tells whether to go on.
func (p *parser) line(l line) bool {
	value := strings.ToUpper(strings.TrimSpace(l.value))
	if !p.seen && (l.name != "BEGIN" || value != "VCALENDAR") {
		w := wrong(l.number, l.name, "is not an iCalendar file: it does not begin with BEGIN:VCALENDAR")
		if strings.Contains(l.value, "\r") {
			w = wrong(l.number, "", "ends its lines with carriage returns alone; iCalendar has a line feed after each")
		}
		p.f.fault(&w)
		return false
	}
	switch l.name {
	case "BEGIN":
		p.seen = true
		return p.begin(l, value)
	case "END":
		if len(p.open) == 0 || p.open[len(p.open)-1] != value {
			w := wrong(l.number, l.value, "ends what is not open here")
			p.f.fault(&w)
			return false
		}
		p.open = p.open[:len(p.open)-1]
		return p.close(l, value)
	}
	if len(p.open) == 0 && strings.HasPrefix(l.name, "X-") {
		return true // a comment of whoever sent the file
	}
	if len(p.open) == 0 {
		w := wrong(l.number, l.name, "stands outside BEGIN:VCALENDAR and END:VCALENDAR")
		return p.f.fault(&w)
	}
	return p.property(l)
}

func (p *parser) begin(l line, name string) bool {
	const deepest = 20
	if (name == "VCALENDAR") != (len(p.open) == 0) || len(p.open) >= deepest {
		w := wrong(l.number, l.value, "does not belong here: what stands before it is not ended")
		p.f.fault(&w)
		return false
	}
	p.open = append(p.open, name)
	switch name {
	case "VCALENDAR":
		p.f.method, p.f.cancels = false, false
	case "VEVENT":
		if w := p.f.full(l.number); w != nil {
			p.f.fault(w)
			return false
		}
		p.event = &entry{Entry: Entry{Line: l.number}}
	case "VTIMEZONE":
		p.zoneID, p.about = "", &description{line: l.number}
	case "STANDARD", "DAYLIGHT":
		if p.about != nil {
			p.about.list = append(p.about.list, observance{line: l.number})
		}
	}
	return true
}

func (p *parser) close(l line, name string) bool {
	switch name {
	case "VEVENT":
		e := p.event
		p.event = nil
		e.Cancelled = e.Cancelled || p.f.cancels
		if e.odd {
			return true // said already
		}
		if w := e.finish(p.f); w != nil {
			return p.f.fault(w)
		}
		if !e.started {
			return true // it takes no time
		}
		p.f.entries = append(p.f.entries, e)
	case "VTIMEZONE":
		if p.zoneID != "" {
			p.f.described[strings.ToLower(p.zoneID)] = p.about
		}
		if len(p.f.described) > mostZones {
			w := wrong(l.number, "", "the calendar describes more than %d time zones", mostZones)
			p.f.fault(&w)
			return false
		}
		p.about = nil
	}
	return true
}

// within tells what the line stands in: the innermost component.
func (p *parser) within() string { return p.open[len(p.open)-1] }

func (p *parser) property(l line) bool {
	switch p.within() {
	case "VCALENDAR":
		if l.name == "METHOD" {
			p.f.method = true
			p.f.cancels = strings.EqualFold(strings.TrimSpace(l.value), "CANCEL")
		}
	case "VEVENT":
		w := p.event.read(p.f, l)
		p.event.odd = p.event.odd || w != nil
		return p.f.fault(w)
	case "VFREEBUSY":
		if l.name == "FREEBUSY" && !strings.EqualFold(l.params["FBTYPE"], "FREE") {
			return p.f.fault(p.f.freeBusy(l))
		}
	case "VTIMEZONE":
		switch l.name {
		case "TZID":
			p.zoneID = zoneName(l.value)
		case "X-LIC-LOCATION":
			if p.about != nil {
				p.about.location = zoneName(l.value)
			}
		}
	case "STANDARD", "DAYLIGHT":
		if p.about != nil && len(p.about.list) > 0 {
			p.about.list[len(p.about.list)-1].read(p.f, l)
		}
	}
	return true
}

// end judges the end of the file.
func (p *parser) end() {
	switch {
	case len(p.f.faults) > 0 && !p.f.options.Without:
	case !p.seen:
		p.f.broken = true
		p.f.fault(&Fault{Text: "is not an iCalendar file: it is empty"})
	case len(p.open) > 0:
		p.f.broken = true
		w := wrong(0, "", "is cut off: it does not end with END:VCALENDAR")
		p.f.fault(&w)
	}
}
