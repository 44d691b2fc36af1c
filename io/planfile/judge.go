package planfile

import (
	"fmt"
	"slices"

	"github.com/go-json-experiment/json/jsontext"

	"primaprova/model"
)

// judge gives what a plan that could be read says and no plan can: absurd values, and
// entries that go against each other.
func (d *document) judge(p *model.Plan) Error {
	var out Error
	at := func(steps ...any) (p jsontext.Pointer) {
		for _, s := range steps {
			p = p.AppendToken(fmt.Sprint(s))
		}
		return p
	}
	say := func(value, text string, steps ...any) { out = append(out, d.fault(at(steps...), value, text)) }
	for _, x := range []struct {
		key string
		day model.Date
	}{{"from", p.From}, {"to", p.To}} {
		if x.day.IsZero() {
			say("is", "a date is wanted", x.key)
		}
	}
	if p.To < p.From {
		say(p.To.String(), "lies before from, "+p.From.String(), "to")
	}
	switch p.Provenance.Status {
	case model.Proven, model.NotProven, model.CutShort, model.FirstPlan:
	default:
		say("is", "is no status of a plan", "provenance", "status")
	}
	seen := map[string]jsontext.Pointer{}
	named := func(list string, i int, id string) {
		key := id
		if list == "cancelled" { // what is cancelled may well be unplaced now
			key = "cancelled\x00" + id
		}
		if id == "" {
			say("", "is empty", list, i, "id")
		} else if first, ok := seen[key]; ok {
			line, _ := d.place(first)
			say(id, fmt.Sprintf("is taken by line %d", line), list, i, "id")
		}
		seen[key] = at(list, i)
	}
	sized := func(list string, i int, m model.Minutes) {
		if m < 0 || m > 24*60 {
			say("is", "0 to 1440 minutes are wanted", list, i, "minutes")
		}
	}
	staged := func(list string, i int, s model.Stage) {
		if !slices.Contains(stages, s) {
			say("is", "is no stage of the work", list, i, "stage")
		}
	}
	for i := range p.Sessions {
		s := &p.Sessions[i]
		named("sessions", i, s.ID)
		sized("sessions", i, s.Minutes)
		staged("sessions", i, s.Stage)
		if s.Date < p.From || s.Date > p.To {
			say(s.Date.String(), "lies outside the season, "+model.Range{From: p.From, To: p.To}.String(), "sessions", i, "date")
		}
		if (s.Start == nil) != (s.Ends == nil) {
			say("", "start and ends are given together or not at all", "sessions", i, "ends")
		}
		if s.Start != nil && s.Ends != nil && *s.Ends < *s.Start {
			say(s.Ends.String(), "lies before start, "+s.Start.String(), "sessions", i, "ends")
		}
		if s.Playing != s.Stage.Playing() {
			say("is", "does not go with stage "+string(s.Stage), "sessions", i, "playing")
		}
		passage := s.Stage == model.PassageStage
		if passage != (s.Passage != nil) || passage != (s.Visit != nil) || passage != (s.Visits != nil) {
			say("", "passage, visit and visits are given for passages and for nothing else", "sessions", i, "passage")
		} else if passage && (*s.Visit < 1 || *s.Visits < *s.Visit) {
			say("is", fmt.Sprintf("is not one of %d visits", *s.Visits), "sessions", i, "visit")
		}
	}
	for i, u := range p.Unplaced {
		named("unplaced", i, u.ID)
		sized("unplaced", i, u.Minutes)
		staged("unplaced", i, u.Stage)
	}
	for i, c := range p.Cancelled {
		named("cancelled", i, c.ID)
		sized("cancelled", i, c.Minutes)
	}
	days := map[model.Date]bool{}
	for i, x := range p.Days {
		if x.Date.IsZero() {
			say("is", "a date is wanted", "days", i, "date")
		} else if days[x.Date] {
			say(x.Date.String(), "is given twice", "days", i, "date")
		}
		days[x.Date] = true
	}
	return out
}

var stages = []model.Stage{model.ListeningStage, model.RecordingsStage, model.WarmUpStage, model.ReadStage, model.PassageStage}
