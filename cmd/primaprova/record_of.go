package main

import (
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strconv"
	"strings"

	"primaprova/io/recordfile"
	"primaprova/model"
)

func isMissing(err error) bool { return errors.Is(err, fs.ErrNotExist) }

// sessionsOf gives the events of the sessions named.
func (b *book) sessionsOf(o *sayings, e model.Event, r *recordfile.Record) ([]model.Event, error) {
	e.Kind = model.Done
	if o.notDone {
		e.Kind = model.NotDone
	} else if o.notHeld {
		e.Kind = model.DidNotHold
	}
	var out []model.Event
	for _, word := range o.what {
		if word == "all" && b.plan != nil && len(b.view.Days[e.Date]) == 0 {
			continue
		}
		sessions, err := b.named(word, e.Date)
		if err != nil {
			return nil, err
		}
		for _, v := range sessions {
			if word == "all" && saying(model.Counting(model.Standing(r.Events)), v.Key()) != nil {
				continue // it stays as it was recorded
			}
			if o.notHeld && v.Stage != model.PassageStage {
				return nil, fmt.Errorf("%s: only a passage's visit can fail to hold", v.ID)
			}
			if o.tempo != 0 {
				if err := b.paced(v, model.Tempo(o.tempo)); err != nil {
					return nil, err
				}
				e.Tempo = model.Tempo(o.tempo)
			}
			e.Session, e.Planned, e.Took = v.ID, v.Minutes, model.Minutes(o.minutes)
			if !slices.ContainsFunc(out, func(x model.Event) bool { return x.Key() == e.Key() }) {
				out = append(out, e)
			}
		}
	}
	switch {
	case o.minutes != 0 && len(out) > 1:
		return nil, fmt.Errorf("--minutes is said of one session at a time, not of %d", len(out))
	case o.tempo != 0 && len(out) > 1:
		return nil, fmt.Errorf("--tempo is said of one session at a time, not of %d", len(out))
	case len(out) == 0 && !slices.Contains(o.what, "all"):
		return nil, fmt.Errorf("nothing but a warm-up is named, and that goes with its day")
	}
	return out, nil
}

// paced tells why a tempo cannot be said of a session: its ladder would not know
// where to go.
func (b *book) paced(v *model.Session, t model.Tempo) error {
	scale := model.Metronome()
	switch {
	case v.Stage != model.PassageStage:
		return fmt.Errorf("--tempo: %s is no visit of a passage", v.ID)
	case t < scale[0] || t > scale[len(scale)-1]:
		return fmt.Errorf("--tempo: %d is not between %d and %d", t, scale[0], scale[len(scale)-1])
	}
	if p := b.view.Passages[*v.Passage]; p == nil || p.Passage.Tempo.Goal == 0 {
		return fmt.Errorf("--tempo: %s has no goal; give it one in the season file, like tempo: {goal: %d}", *v.Passage, t)
	}
	return nil
}

// named gives the sessions that a word stands for: all, a number, a range, an
// id. Warm-ups are left out; they are numbered, since the day sheet has them.
func (b *book) named(word string, on model.Date) ([]*model.Session, error) {
	if strings.Contains(word, "/") {
		v, err := b.byID(word)
		return []*model.Session{v}, err
	}
	if b.plan == nil {
		return nil, fmt.Errorf("%s: there is no plan yet, so sessions have no numbers", word)
	}
	day := b.view.Days[on]
	if len(day) == 0 {
		return nil, fmt.Errorf("%s: nothing is planned on %v", word, on)
	}
	from, to := 1, 0
	for _, v := range day {
		to = max(to, v.Number)
	}
	last := to
	if word != "all" {
		lo, hi, isRange := strings.Cut(word, "-")
		if !isRange {
			hi = lo
		}
		var err1, err2 error
		from, err1 = strconv.Atoi(lo)
		to, err2 = strconv.Atoi(hi)
		if err1 != nil || err2 != nil {
			return nil, fmt.Errorf("%q is no number, range, all, or id of a session", word)
		}
		if from < 1 || to > last || to < from {
			return nil, fmt.Errorf("%s: the sessions of %v have the numbers 1 to %d", word, on, last)
		}
	}
	var out []*model.Session
	for n := from; n <= to; n++ {
		at := slices.IndexFunc(day, func(v *model.Session) bool { return v.Number == n })
		switch {
		case at < 0 && from == to:
			return nil, fmt.Errorf("%s: no session of %v has the number any more", word, on)
		case at >= 0 && day[at].Stage != model.WarmUpStage:
			out = append(out, day[at])
		}
	}
	return out, nil
}

// byID finds a session of the plan, wherever it stands, or one that the plan
// leaves out and that was done all the same.
func (b *book) byID(id string) (*model.Session, error) {
	id = b.view.idOf(id, b.happened.today)
	if b.plan != nil {
		for i := range b.plan.Sessions {
			if v := &b.plan.Sessions[i]; v.ID == id && v.Stage != model.WarmUpStage {
				return v, nil
			}
		}
	}
	for _, w := range b.happened.season.Wanted(b.happened.history) {
		if w.ID == id {
			v := w.On(b.happened.today)
			return &v, nil
		}
	}
	return nil, fmt.Errorf("%s: neither the plan nor the season has such a session", id)
}

// foundBy gives the event of a passage found.
func (b *book) foundBy(o *sayings, e model.Event) (model.Event, error) {
	q, err := passageOf("--found", o.found)
	if err != nil {
		return e, err
	}
	if q.Bars != o.found { // as --passage has it
		more := *o
		o = &more
		o.found, o.exposed, o.minutes = q.Bars, o.exposed || q.Exposed, max(o.minutes, int(q.Minutes))
		if q.Hard != 2 {
			o.hard = q.Hard
		}
	}
	e.Kind, e.Bars, e.Hard, e.Exposed, e.Took, e.Heard = model.Found, strings.Join(strings.Fields(o.found), "-"), o.hard, o.exposed, model.Minutes(o.minutes), o.heard
	if o.due != "" {
		if e.Due, err = b.a.saidDay(o.due, b.happened.today); err != nil {
			return e, fmt.Errorf("--due: %v", err)
		}
	}
	if o.part == "" {
		return e, fmt.Errorf("--found: in which part? Add --part NAME")
	}
	if meant := model.Backwards(o.found); meant != "" {
		return e, fmt.Errorf("--found: bars %s run backwards; say %s", o.found, meant)
	}
	w, err := b.partCalled(o.part)
	if err != nil {
		return e, err
	}
	e.Part = w.Name
	if e.Date < w.Part.Arrives {
		return e, fmt.Errorf("--found: %s is there from %v only; say --on DATE, or late where it came earlier", e.Part, w.Part.Arrives)
	}
	if slices.ContainsFunc(w.Passages, func(p model.PassageWork) bool { return p.Passage.ID == e.Bars }) {
		return e, fmt.Errorf("--found: %s has the passage %s already", e.Part, e.Bars)
	}
	if e.Due == 0 && w.Programme.NextService(e.Date) == 0 {
		return e, fmt.Errorf("--found: no service of %s comes after %v; say --due DATE", w.Programme.Title, e.Date)
	}
	e.Entry = 1 // any: only the fields are looked at
	if faults := e.Check(); len(faults) > 0 {
		return e, fmt.Errorf("--found: %s", faults[0])
	}
	return e, nil
}

// partCalled finds a part by programme/part, or by its own id where only one
// programme has it.
func (b *book) partCalled(name string) (*model.PartWork, error) {
	switch found := b.view.Season.PartsCalled(name); len(found) {
	case 1:
		return b.view.Parts[found[0]], nil
	case 0:
		var names []string
		for i := range b.view.Work {
			names = append(names, b.view.Work[i].Name)
		}
		return nil, fmt.Errorf("--part: %q is no part; the parts are %s", name, strings.Join(names, ", "))
	default:
		return nil, fmt.Errorf("--part: %q is a part of several programmes; say programme/part", name)
	}
}

// passageCalled finds a passage by its name.
func (b *book) passageCalled(name string) (string, error) {
	name = b.view.idOf(name, b.happened.today)
	if b.view.Passages[name] != nil {
		return name, nil
	}
	return "", fmt.Errorf("--no-longer-needed: %q is no passage; a name is like %s", name, b.example())
}

func (b *book) example() string {
	for i := range b.view.Work {
		for _, p := range b.view.Work[i].Passages {
			return p.Name
		}
	}
	return "tide/slate/45-61"
}
