package seasonfile

import (
	"slices"

	"primaprova/model"
)

// other reads playing that belongs to no programme:
// {title: …, on: [tuesday, 2027-02-03], at: 15:00-17:00, playing: 30 %}, or lasts
// in place of at.
func (r *reader) other(f field, to *model.Other) bool {
	t, ok := r.table(f, "title", "on", "at", "lasts", "playing")
	if ok {
		t.needs("title", "on", "playing")
	}
	var days model.Limits
	t.read("title", func(f field) { ok = r.words(f, &to.Title) && ok })
	t.read("on", func(f field) { r.restDays(f, &days) })
	t.read("at", func(f field) { ok = value(r, f, &to.At, parseSpan) && ok })
	t.read("lasts", func(f field) { ok = r.minutes(f, &to.Lasts) && ok })
	t.read("playing", func(f field) { ok = r.percent(f, &to.Playing) && ok })
	to.Weekdays, to.Dates = days.RestDays, days.RestDates
	_, at := t.fields["at"]
	if _, lasts := t.fields["lasts"]; ok && at == lasts {
		r.wrong(f, "at: 15:00-17:00, or lasts: 120 min", "wants a time or a length, one of them")
		return false
	}
	return ok
}

// excused reads services in which the player does not play: {programme: tide,
// date: 2027-02-03}, or a range of dates. The orchestra's calendar stays as it is.
func (r *reader) excused(f field, s *model.Season) {
	in, _ := r.items(f)
	for _, item := range in {
		var programme string
		var days model.Range
		t, ok := r.table(item, "programme", "date")
		if ok {
			t.needs("programme", "date")
		}
		t.read("programme", func(f field) { ok = r.words(f, &programme) && ok })
		t.read("date", func(f field) { ok = r.dates(f, &days) && ok })
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
