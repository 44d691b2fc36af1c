package seasonfile

import (
	"fmt"
	"slices"
	"time"

	"primaprova/io/seasonfile/calendar"
	"primaprova/model"
)

// busy reads what other calendars take of the hours: a list of files, each a
// name or {file: …, time_zone: …, before: …, after: …, whole_days: …}.
//
// Entries take time unless they are cancelled or transparent, or take none
// (RFC 5545, 3.8.2.7: opaque unless it says otherwise). Entries of whole days
// take the whole days; whole_days: free has them take none. Where the player says
// neither, those that take free hours are listed: birthdays are often among
// them.
func (r *reader) busy(f field, s *model.Season) {
	in, ok := r.items(f)
	if !ok {
		r.spoil("busy")
		return
	}
	for _, item := range in {
		if !r.busyFile(item, s) {
			r.spoil("busy")
		}
	}
	slices.SortStableFunc(s.Busy, byTime)
	s.Busy = slices.Compact(s.Busy)
}

func (r *reader) busyFile(f field, s *model.Season) bool {
	var before, after model.Minutes
	free, playing := false, 0
	src, t, ok := r.source(f, s,
		opt("playing", &playing, r.percent),
		opt("before", &before, r.around),
		opt("after", &after, r.around),
		opt("whole_days", &free, by(r, parseWholeDays)),
	)
	if !ok {
		return false
	}
	src.spare = true
	found, ok := r.happenings(&src, s)
	if !ok {
		return false
	}
	_, said := t.fields["whole_days"]
	whole := unmatched{r: r, path: src.path}
	for i := range found {
		o := &found[i]
		if !o.Busy() || o.AllDay && free {
			continue
		}
		if o.AllDay && !said {
			first, last := dates(o, &src)
			for d := max(first, s.From); d <= min(last, s.To); d++ {
				if len(s.Hours.On(d)) > 0 {
					whole.add(&announced{title: o.Title, place: Place{Line: o.Line}, date: d}, "takes the whole day")
				}
			}
		}
		title := shorten(o.Title)
		for _, w := range taken(o, &src, before, after, s) {
			if playing > 0 && !s.HasHours() {
				break // it is played, whenever
			}
			s.Busy = append(s.Busy, model.Busy{Date: w.date, Span: w.span, Title: title})
		}
		if playing > 0 && !o.AllDay {
			for _, w := range taken(o, &src, 0, 0, s) {
				s.Other = append(s.Other, model.Other{Title: title, Dates: []model.Range{{From: w.date, To: w.date}}, Lasts: w.span.Length(), Playing: playing})
			}
		}
		if len(s.Busy) > mostBusy {
			r.faults = append(r.faults, tooBusy(src.path, o.Line))
			return false
		}
	}
	whole.warn("whole_days: free in busy, where such entries take none; whole_days: busy where they do")
	return true
}

// mostBusy is how many parts of days other calendars may take.
const mostBusy = 50_000

func tooBusy(path string, line int) Fault {
	return Fault{File: path, Line: line, Text: fmt.Sprintf("takes more than %d parts of days, with the calendars before it", mostBusy)}
}

// taken gives the parts of the season's days that an occurrence takes. A whole
// day is that day wherever the player is.
func taken(o *calendar.Occurrence, src *source, before, after model.Minutes, s *model.Season) (out []when) {
	if !o.AllDay {
		return spread(o.From.Add(-time.Duration(before)*time.Minute), o.To.Add(time.Duration(after)*time.Minute), src.zone, s)
	}
	first, last := dates(o, src)
	for d := max(first, s.From); d <= min(last, s.To); d++ {
		out = append(out, when{d, model.Span{From: 0, To: 24 * 60}})
	}
	return out
}

// dates gives the days of an entry of whole days.
func dates(o *calendar.Occurrence, src *source) (first, last model.Date) {
	return model.DateIn(o.From, src.reader()), model.DateIn(o.To.Add(-time.Minute), src.reader())
}

// around reads the minutes that go with each entry.
func (r *reader) around(f field, to *model.Minutes) bool {
	const most = 12 * 60
	var m model.Minutes
	if !r.minutes(f, &m) {
		return false
	}
	if m > most {
		r.wrong(f, fmt.Sprintf("at most %v", model.Minutes(most)), "is longer than half a day")
		return false
	}
	*to = m
	return true
}

func parseWholeDays(s string) (free bool, err error) {
	switch s {
	case "busy":
		return false, nil
	case "free":
		return true, nil
	}
	return false, advised{text: "is not busy or free"}
}

// other reads playing that belongs to no programme:
// {title: …, on: [tuesday, 2027-02-03], at: 15:00-17:00, playing: 30 %}, or lasts
// in place of at.
func (r *reader) other(f field, to *model.Other) bool {
	var days model.Limits
	t := r.table(f,
		must("title", &to.Title, r.words),
		must("on", &days, r.restDays),
		opt("at", &to.At, by(r, parseSpan)),
		opt("lasts", &to.Lasts, r.minutes),
		must("playing", &to.Playing, r.percent),
	)
	to.Weekdays, to.Dates = days.RestDays, days.RestDates
	_, at := t.fields["at"]
	if _, lasts := t.fields["lasts"]; t.good && at == lasts {
		r.wrong(f, "at: 15:00-17:00, or lasts: 120 min", "wants a time or a length, one of them")
		return false
	}
	return t.good
}

// excused reads services in which the player does not play: {programme: tide,
// date: 2027-02-03}, or a range of dates. The orchestra's calendar stays as it is.
func (r *reader) excused(f field, s *model.Season) {
	in, _ := r.items(f)
	for _, item := range in {
		var programme string
		var days model.Range
		ok := r.table(item, must("programme", &programme, r.words), must("date", &days, r.dates)).good
		if !ok || programme == "" || days.From == 0 {
			continue
		}
		n := slices.IndexFunc(s.Programmes, func(p model.Programme) bool { return p.ID == programme })
		found := false
		if n >= 0 {
			for k := range s.Programmes[n].Services {
				if v := &s.Programmes[n].Services[k]; days.Holds(v.Date) {
					v.Missed, found = true, true
				}
			}
		}
		if !found {
			r.wrong(item, "", "%s has no service on %v", programme, days)
		}
	}
}
