package seasonfile

import (
	"errors"
	"fmt"
	"slices"

	"primaprova/model"
)

// Edits that let a season grow: programmes, services, passages, and what a part
// takes once it was read. AddPart is in edit.go.

// AddProgramme gives the season with one more programme, after the others.
// Without an id it gets one made of its title.
func (f *File) AddProgramme(p model.Programme) (*File, error) {
	if p.ID == "" {
		p.ID = idOf(p.Title, "programme", programmeIDs(f.Season))
	}
	e := f.editor()
	want := *f.Season
	want.Programmes = append(slices.Clone(want.Programmes), p)
	list := e.get(e.root, "programmes")
	item := newProgramme(&p, &f.Season.Habits)
	if list != nil && len(list.Content) == 0 && e.root.Style == 0 {
		newline := e.lineBreak(e.start(list))
		from := e.end(e.root.Content[e.key(e.root, "programmes")]) + 1 // behind the colon
		return f.edited([]change{{from, e.end(list), newline + "  - " + item.block("    ", newline)}}, &want)
	}
	return f.edited(e.add(e.root, "programmes", list, item), &want)
}

// AddServices gives the season with more services of a programme, after those that
// the season file lists there.
func (f *File) AddServices(programme string, all []model.Service) (*File, error) {
	for _, v := range all {
		i, err := f.programme(programme)
		if err != nil {
			return nil, err
		}
		e := f.editor()
		owner := e.get(e.get(e.root, "programmes"), i)
		list := e.get(owner, "services")
		want := f.parts(i)
		g := &want.Programmes[i]
		v.Missed = slices.ContainsFunc(g.Services, func(o model.Service) bool { return o.Date == v.Date && o.Missed })
		g.Services = slices.Insert(slices.Clone(g.Services), length(list), v)
		if f, err = f.edited(e.add(owner, "services", list, newService(&v, &f.Season.Habits)), want); err != nil {
			return nil, err
		}
	}
	return f, nil
}

// AddPassages gives the season with more passages of a part, after those that the
// season file lists there. The part is named programme/part.
func (f *File) AddPassages(part string, all []model.Passage) (*File, error) {
	for _, q := range all {
		at, err := f.find(part)
		if err != nil {
			return nil, err
		}
		e, owner, err := f.partNode(at)
		if err != nil {
			return nil, err
		}
		list := e.get(owner, "passages")
		want := f.parts(at.programme)
		p := &want.Programmes[at.programme].Parts[at.part]
		if slices.ContainsFunc(p.Passages, func(o model.Passage) bool { return o.Bars == q.Bars }) {
			return nil, f.refusal(q.Bars, "is a passage of "+part+" already", "")
		}
		p.Passages = slices.Insert(slices.Clone(p.Passages), length(list), q)
		nameByBars(p.Passages)
		if f, err = f.edited(e.add(owner, "passages", list, newPassage(&q)), want); err != nil {
			return nil, err
		}
	}
	return f, nil
}

// Reestimate gives the season with another estimate of all visits of a part, whose
// passages stay.
func (f *File) Reestimate(part string, m model.Minutes) (*File, error) {
	at, err := f.find(part)
	if err != nil {
		return nil, err
	}
	path := fmt.Sprintf("programmes[%d].parts[%d].estimate", at.programme, at.part)
	want := f.parts(at.programme)
	want.Programmes[at.programme].Parts[at.part].Estimate = m
	if _, written := f.Places[path]; written {
		return f.set(path, m.String(), want, func(p Place) Errors { return f.layout(p, path) })
	}
	e, owner, err := f.partNode(at)
	if err != nil {
		return nil, err
	}
	return f.edited(e.addKeys(owner, pair{"estimate", m.String()}), want)
}

// programme finds a programme by its id.
func (f *File) programme(id string) (int, error) {
	i := slices.IndexFunc(f.Season.Programmes, func(p model.Programme) bool { return p.ID == id })
	if i < 0 {
		return i, f.refusal(id, "no programme has this id", Nearest(id, programmeIDs(f.Season)))
	}
	return i, nil
}

// NewID makes an id of a work's title that no part of the season has.
func (f *File) NewID(work string) string {
	var taken []string
	for _, p := range f.Season.Programmes {
		for _, q := range p.Parts {
			taken = append(taken, q.ID)
		}
	}
	return idOf(work, "part", taken)
}

// ServiceKind reads a kind of service as a table of a season has it.
func ServiceKind(s string) (model.ServiceKind, error) {
	k, err := parseKind(s)
	var a advised
	if errors.As(err, &a) && a.advice != "" {
		return k, fmt.Errorf("%s: %s", a.text, a.advice)
	}
	return k, err
}

// LastService gives the last service of a kind of a programme, or else of the whole
// season, without what is its alone; one by the habits where there is none.
func (f *File) LastService(programme string, kind model.ServiceKind) model.Service {
	out := model.Service{Kind: kind, Playing: f.Season.Habits.ServicePlaying, Travel: f.Season.Habits.ServiceTravel}
	own := false
	for i := range f.Season.Programmes {
		p := &f.Season.Programmes[i]
		for _, v := range p.Services {
			if v.Kind == kind && (!own || p.ID == programme) {
				own = p.ID == programme
				out.Lasts, out.Playing, out.Travel = v.Lasts, v.Playing, v.Travel
			}
		}
	}
	return out
}

// Pin gives the season with a session pinned to a day, in the place of a pin
// that it has already.
func (f *File) Pin(session string, d model.Date) (*File, error) {
	want := *f.Season
	want.Pins = slices.Clone(want.Pins)
	var changes []change
	known := false
	for i := range want.Pins {
		if want.Pins[i].Session != session {
			continue
		}
		known = true
		if want.Pins[i].Date != d {
			want.Pins[i].Date = d
			c, err := f.scalar(fmt.Sprintf("pins[%d].date", i), d.String())
			if err != nil {
				return nil, err
			}
			changes = append(changes, c)
		}
	}
	if known && len(changes) == 0 {
		return f, nil
	}
	if !known {
		e := f.editor()
		pin := model.Pin{Session: session, Date: d}
		want.Pins = append(want.Pins, pin)
		changes = e.add(e.root, "pins", e.get(e.root, "pins"), entryOf([]pair{{"session", plainText(session)}, {"date", d.String()}}))
	}
	return f.edited(changes, &want)
}

// Unpin gives the season without the pins of a session.
func (f *File) Unpin(session string) (*File, error) {
	out, err := f.withoutPins(func(pinned string) bool { return pinned == session })
	if err != nil {
		return nil, err
	}
	if out == f {
		var pinned []string
		for _, p := range f.Season.Pins {
			pinned = append(pinned, p.Session)
		}
		return nil, f.refusal(session, "is not pinned", Nearest(session, pinned))
	}
	return out, nil
}

// withoutPins gives the season without the pins of some sessions.
func (f *File) withoutPins(of func(session string) bool) (*File, error) {
	for i := len(f.Season.Pins) - 1; i >= 0; i-- {
		if !of(f.Season.Pins[i].Session) {
			continue
		}
		want := *f.Season
		want.Pins = slices.Delete(slices.Clone(want.Pins), i, i+1)
		e, err := f.editor(), error(nil)
		if f, err = f.edited(e.remove(e.root, "pins", i), &want); err != nil {
			return nil, err
		}
	}
	return f, nil
}
