package seasonfile

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"primaprova/io/seasonfile/calendar"
	"primaprova/model"
)

// announced is something that the orchestra announces: an entry of a calendar
// or a row of a table.
type announced struct {
	place     Place
	title     string
	words     string // what rules look for their words in: title, categories, description, lower case
	kind      string // in lower case, of a column for it, or a calendar's categories
	programme string // of a column for it; empty where there is none
	date      model.Date
	last      model.Date // of whole days
	start     model.Clock
	lasts     model.Minutes
	timed     bool
	playing   int         // percent; -1 where it says nothing
	level     model.Level // 0 where it says nothing
}

// announcements reads the calendar or the table of a source, by time. What is
// cancelled is none.
func (r *reader) announcements(src *source, s *model.Season) ([]announced, bool) {
	if strings.HasSuffix(strings.ToLower(src.file.written()), ".csv") {
		return r.serviceTable(src, s)
	}
	found, ok := r.happenings(src, s)
	words := map[*calendar.Entry]string{} // of one entry that happens often, once
	var out []announced
	for i := range found {
		o := &found[i]
		if o.Cancelled {
			continue
		}
		a := announced{place: Place{File: src.path, Line: o.Line, Column: 1, Offset: -1, End: -1}, title: o.Title, playing: -1,
			kind: strings.ToLower(o.Categories)}
		var known bool
		if a.words, known = words[o.Entry]; !known {
			a.words = strings.ToLower(o.Title + "\n" + o.Categories + "\n" + o.Description)
			words[o.Entry] = a.words
		}
		if o.AllDay {
			a.date, a.last = dates(o, src)
		} else {
			local := o.From.In(src.zone)
			a.timed = true
			a.date = model.DateIn(o.From, src.zone)
			a.last = a.date
			a.start = model.Clock(60*local.Hour() + local.Minute())
			a.lasts = model.Minutes((o.To.Sub(o.From) + 30*time.Second) / time.Minute)
		}
		out = append(out, a)
	}
	return out, ok
}

// selection is what a programme takes from the orchestra's calendar.
type selection struct {
	containing string      // only what has this text in title, categories or description; any case
	dates      model.Range // only what begins in these days
	playing    int         // percent of a service
	travel     model.Minutes
}

// services reads a programme's services_from: a file name, or {file: …,
// containing: …, from: …, to: …, time_zone: …, playing: …, travel: …}.
//
// An entry is a rehearsal when its CATEGORIES, or else its title, hold the word
// "rehearsal"; otherwise it is a concert when they hold "concert" or
// "performance". Any case will do, and "dress rehearsal for the concert" is a
// rehearsal. What is neither, or without a time of day, is no service, and is
// said in a warning.
func (r *reader) services(f field, s *model.Season, p *model.Programme) {
	sel := selection{dates: model.Range{From: s.From, To: s.To}, playing: s.Habits.ServicePlaying, travel: s.Habits.ServiceTravel}
	src, _, ok := r.source(f, s,
		opt("containing", &sel.containing, r.words),
		opt("from", &sel.dates.From, r.date),
		opt("to", &sel.dates.To, r.date),
		opt("playing", &sel.playing, r.percent),
		opt("travel", &sel.travel, r.minutes),
	)
	services := parent(f.path) + ".services"
	if !ok {
		r.spoil(services)
		return
	}
	list, ok := r.announcements(&src, s)
	if !ok {
		r.spoil(services)
		return
	}
	before, out := len(p.Services), unmatched{r: r, path: src.path}
	wanted := strings.ToLower(sel.containing)
	for i := range list {
		a := &list[i]
		if !strings.Contains(a.words, wanted) || !sel.dates.Holds(a.date) || !s.Holds(a.date) {
			continue
		}
		kind, known := a.itsKind()
		if !known {
			out.add(a, "is neither rehearsal nor concert and is left out")
			continue
		}
		r.addService(a, kind, sel.playing, sel.travel, 0, services, p, &out)
	}
	out.warn("")
	if len(p.Services) == before {
		r.spoil(services)
		r.wrong(src.file, "", "holds no rehearsal and no concert of this programme")
	}
}

// addService enters one service of a programme, unless it has no time of day.
func (r *reader) addService(a *announced, kind model.ServiceKind, playing int, travel model.Minutes, level model.Level, path string, p *model.Programme, out *unmatched) {
	if !a.timed || a.lasts <= 0 {
		out.add(a, fmt.Sprintf("is a %v without a time of day or an end and is left out", kind))
		return
	}
	if a.playing >= 0 {
		playing = a.playing
	}
	if a.level > 0 {
		level = a.level
	}
	if len(p.Services) > mostServices {
		return
	}
	v := model.Service{Kind: kind, Date: a.date, Start: a.start, Lasts: a.lasts, Playing: playing, Travel: travel, Level: level}
	if slices.ContainsFunc(p.Services, func(o model.Service) bool {
		return o.Kind == v.Kind && o.Date == v.Date && o.Start == v.Start && o.Lasts == v.Lasts
	}) {
		return // announced twice
	}
	if len(p.Services) == mostServices {
		r.faults = append(r.faults, Fault{File: a.place.File, Line: a.place.Line, Path: path,
			Text: fmt.Sprintf("are more than %d services of one programme", mostServices)})
	}
	r.places[fmt.Sprintf("%s[%d]", path, len(p.Services))] = a.place
	p.Services = append(p.Services, v)
}

// mostServices is how many services a programme takes from calendars and tables.
const mostServices = 500

// itsKind tells a rehearsal from a concert by the words used for them.
func (a *announced) itsKind() (model.ServiceKind, bool) {
	if kind, ok := serviceKind(a.kind); ok {
		return kind, true
	}
	return serviceKind(strings.ToLower(a.title))
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

func parent(path string) string { return path[:strings.LastIndexByte(path, '.')] }

// unmatched collects what was left out, by title and reason.
type unmatched struct {
	r    *reader
	path string
	rows []*leftOut
	by   map[[2]string]*leftOut // the same by title and reason
}

type leftOut struct {
	title, text string
	line, n     int
	first, last model.Date
}

func (u *unmatched) add(a *announced, text string) {
	if l := u.by[[2]string{a.title, text}]; l != nil {
		l.n++
		l.first, l.last = min(l.first, a.date), max(l.last, a.date)
		return
	}
	if u.by == nil {
		u.by = map[[2]string]*leftOut{}
	}
	l := &leftOut{title: a.title, text: text, line: a.place.Line, n: 1, first: a.date, last: a.date}
	u.rows, u.by[[2]string{a.title, text}] = append(u.rows, l), l
}

// mostLeftOut is how many titles are listed of one file.
const mostLeftOut = 60

// warn says what was left out, a line for each title, with advice once.
func (u *unmatched) warn(advice string) {
	for i, l := range u.rows {
		text := fmt.Sprintf("%s (%s)", l.text, runs(l.first, l.last))
		if l.n > 1 {
			text = fmt.Sprintf("%s (%d times, %s)", l.text, l.n, runs(l.first, l.last))
		}
		if i == mostLeftOut {
			n := 0
			for _, rest := range u.rows[i:] {
				n += rest.n
			}
			u.r.faults = append(u.r.faults, Fault{File: u.path, Line: l.line, Warning: true,
				Text: fmt.Sprintf("so are %d more, of %d titles, from here on", n, len(u.rows)-i)})
			return
		}
		u.r.faults = append(u.r.faults, Fault{File: u.path, Line: l.line, Value: l.title, Text: text, Advice: advice, Warning: true})
		advice = ""
	}
}
