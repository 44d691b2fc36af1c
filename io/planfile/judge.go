package planfile

import (
	"fmt"

	"primaprova/model"
)

// judge notes what single values cannot show: what entries say of each other.
func (w *walker) judge(p *model.Plan) {
	if p.To < p.From {
		w.faultIn(0, "to", p.To.String(), "lies before from, "+p.From.String())
	}
	seen := map[string]int{}
	for i := range p.Sessions {
		s := &p.Sessions[i]
		say := func(field, value, text string) {
			w.entry("sessions", i, field, value, text)
		}
		w.named("sessions", i, s.ID, seen)
		if s.Date < p.From || s.Date > p.To {
			say("date", s.Date.String(), "lies outside the season, "+model.Range{From: p.From, To: p.To}.String())
		}
		if (s.Start == nil) != (s.Ends == nil) {
			say("ends", "", "start and ends are given together or not at all")
		}
		if s.Start != nil && s.Ends != nil && *s.Ends < *s.Start {
			say("ends", s.Ends.String(), "lies before start, "+s.Start.String())
		}
		if s.Playing != s.Stage.Playing() {
			say("playing", fmt.Sprint(s.Playing), "does not go with stage "+string(s.Stage))
		}
		passage := s.Stage == model.PassageStage
		if passage != (s.Passage != nil) || passage != (s.Visit != nil) || passage != (s.Visits != nil) {
			say("passage", "", "passage, visit and visits are given for passages and for nothing else")
		} else if passage && (*s.Visit < 1 || *s.Visits < *s.Visit) {
			say("visit", fmt.Sprint(*s.Visit), fmt.Sprintf("is not one of %d visits", *s.Visits))
		}
	}
	for i, u := range p.Unplaced {
		w.named("unplaced", i, u.ID, seen)
	}
	for i, c := range p.Cancelled {
		w.named("cancelled", i, c.ID, seen)
	}
	days := map[model.Date]bool{}
	for i, d := range p.Days {
		if days[d.Date] {
			w.entry("days", i, "date", d.Date.String(), "is given twice")
		}
		days[d.Date] = true
	}
}

// named notes an entry whose id is empty or taken. What is cancelled may well
// be unplaced now: the two lists are told apart.
func (w *walker) named(list string, i int, id string, seen map[string]int) {
	key := id
	if list == "cancelled" {
		key = "cancelled\x00" + id
	}
	if id == "" {
		w.entry(list, i, "id", "", "is empty")
	} else if at, ok := seen[key]; ok {
		w.entry(list, i, "id", id, fmt.Sprintf("is taken by line %d", w.line(at)))
	}
	seen[key] = w.items[list][i]
}

func (w *walker) entry(list string, i int, field, value, text string) {
	w.faultIn(w.items[list][i], fmt.Sprintf("%s[%d].%s", list, i, field), value, text)
}
