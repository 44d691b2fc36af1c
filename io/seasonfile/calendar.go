package seasonfile

import (
	"fmt"
	"sort"
	"strings"
	"time"

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
