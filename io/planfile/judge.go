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
	j := &judging{d: d, seen: map[string]jsontext.Pointer{}}
	if p.From.IsZero() {
		j.say("is", "a date is wanted", "from")
	}
	if p.To.IsZero() {
		j.say("is", "a date is wanted", "to")
	}
	if p.To < p.From {
		j.say(p.To.String(), "lies before from, "+p.From.String(), "to")
	}
	switch p.Provenance.Status {
	case model.Proven, model.NotProven, model.CutShort, model.FirstPlan:
	default:
		j.say("is", "is no status of a plan", "provenance", "status")
	}
	for i := range p.Sessions {
		s := &p.Sessions[i]
		j.entry("sessions", i, s.ID, s.Minutes, s.Stage)
		j.session(i, s, model.Range{From: p.From, To: p.To})
	}
	for i, u := range p.Unplaced {
		j.entry("unplaced", i, u.ID, u.Minutes, u.Stage)
	}
	for i, c := range p.Cancelled {
		j.entry("cancelled", i, c.ID, c.Minutes, stages[0]) // it has none
	}
	days := map[model.Date]bool{}
	for i, x := range p.Days {
		if x.Date.IsZero() {
			j.say("is", "a date is wanted", "days", i, "date")
		} else if days[x.Date] {
			j.say(x.Date.String(), "is given twice", "days", i, "date")
		}
		days[x.Date] = true
	}
	return j.out
}

// judging is a plan's document while it is judged.
type judging struct {
	d    *document
	seen map[string]jsontext.Pointer // where an id stood first
	out  Error
}

func at(steps ...any) (p jsontext.Pointer) {
	for _, s := range steps {
		p = p.AppendToken(fmt.Sprint(s))
	}
	return p
}

func (j *judging) say(value, text string, steps ...any) {
	j.out = append(j.out, j.d.fault(at(steps...), value, text))
}

// entry judges what all entries of lists have: an id of their own, minutes, a stage.
func (j *judging) entry(list string, i int, id string, m model.Minutes, s model.Stage) {
	key := id
	if list == "cancelled" { // what is cancelled may well be unplaced now
		key = "cancelled\x00" + id
	}
	if id == "" {
		j.say("", "is empty", list, i, "id")
	} else if first, ok := j.seen[key]; ok {
		line, _ := j.d.place(first)
		j.say(id, fmt.Sprintf("is taken by line %d", line), list, i, "id")
	}
	j.seen[key] = at(list, i)
	if m < 0 || m > 24*60 {
		j.say("is", "0 to 1440 minutes are wanted", list, i, "minutes")
	}
	if !slices.Contains(stages, s) {
		j.say("is", "is no stage of the work", list, i, "stage")
	}
}

func (j *judging) session(i int, s *model.Session, season model.Range) {
	if !season.Holds(s.Date) {
		j.say(s.Date.String(), "lies outside the season, "+season.String(), "sessions", i, "date")
	}
	if (s.Start == nil) != (s.Ends == nil) {
		j.say("", "start and ends are given together or not at all", "sessions", i, "ends")
	}
	if s.Start != nil && s.Ends != nil && *s.Ends < *s.Start {
		j.say(s.Ends.String(), "lies before start, "+s.Start.String(), "sessions", i, "ends")
	}
	if s.Playing != s.Stage.Playing() {
		j.say("is", "does not go with stage "+string(s.Stage), "sessions", i, "playing")
	}
	passage := s.Stage == model.PassageStage
	if passage != (s.Passage != nil) || passage != (s.Visit != nil) || passage != (s.Visits != nil) {
		j.say("", "passage, visit and visits are given for passages and for nothing else", "sessions", i, "passage")
	} else if passage && (*s.Visit < 1 || *s.Visits < *s.Visit) {
		j.say("is", fmt.Sprintf("is not one of %d visits", *s.Visits), "sessions", i, "visit")
	}
}

var stages = []model.Stage{model.ListeningStage, model.RecordingsStage, model.WarmUpStage, model.ReadStage, model.PassageStage}
