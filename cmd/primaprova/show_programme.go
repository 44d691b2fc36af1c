package main

import (
	"fmt"
	"slices"
	"strings"

	"primaprova/io/table"
	"primaprova/model"
)

// programmeView is one programme for programs.
type programmeView struct {
	ID       string        `json:"id"`
	Title    string        `json:"title"`
	First    model.Date    `json:"first_rehearsal"`
	Services []serviceView `json:"services"`
	Parts    []standView   `json:"parts"`
	is       string        // first rehearsal, or what there is where nothing is rehearsed
}

// standView says when a part stands ready.
type standView struct {
	Part    string     `json:"part"`
	Work    string     `json:"work"`
	Arrives model.Date `json:"arrives"`
	Listen  model.Date `json:"listening"`
	Read    model.Date `json:"read_through"`
	ReadyBy model.Date `json:"ready_by"`
	Ready   model.Date `json:"ready"`     // its last visit; empty while it lacks visits, reading or listening
	For     *forView   `json:"ready_for"` // the date that it is ready for; null where something of it is not worked at, or all dates are over
	LeftOut int        `json:"left_out"`  // sessions that it lacks
	Over    bool       `json:"over"`      // its dates are over
}

// forView is a date that a part is ready for.
type forView struct {
	Kind  string     `json:"kind"`
	Date  model.Date `json:"date"`
	First bool       `json:"first"`
}

func viewFor(f model.For) *forView {
	if f.Date == 0 {
		return nil
	}
	return &forView{f.Kind.String(), f.Date, f.First}
}

func showProgramme(w *view, _ model.Date, name string) (func(), any, error) {
	if name == "" {
		all := w.programmes()
		return func() { w.sayProgrammes(all) }, all, nil
	}
	for i := range w.Season.Programmes {
		if p := &w.Season.Programmes[i]; p.ID == name {
			v := w.programme(p)
			return func() { w.sayProgramme(v) }, v, nil
		}
	}
	var known []string
	for i := range w.Season.Programmes {
		known = append(known, w.Season.Programmes[i].ID)
	}
	return nil, nil, wrong("show programme: %q is no programme of the season; it has %s", name, strings.Join(known, ", ")).then("show programme %s", known[0])
}

func (w *view) programmes() []programmeView {
	out := []programmeView{}
	for i := range w.Season.Programmes {
		out = append(out, w.programme(&w.Season.Programmes[i]))
	}
	return out
}

// programmesAhead gives the programmes of which something lies ahead.
func (w *view) programmesAhead() []programmeView {
	return slices.DeleteFunc(w.programmes(), func(p programmeView) bool { return p.over() })
}

func (w *view) programme(p *model.Programme) programmeView {
	v := programmeView{ID: p.ID, Title: p.Title, First: p.FirstRehearsal(), Services: []serviceView{}, Parts: []standView{}, is: p.FirstIs()}
	for _, s := range p.Services {
		v.Services = append(v.Services, serviceView{p.Title, s.Kind.String(), s.Date, s.Start, s.Lasts, s.PlayingMinutes(), s.Missed})
	}
	for i := range w.Work {
		if w.Work[i].Programme == p {
			v.Parts = append(v.Parts, w.stand(&w.Work[i]))
		}
	}
	return v
}

// everyPart says of each part when it stands ready.
func (w *view) everyPart() []standView {
	out := []standView{}
	for i := range w.Work {
		out = append(out, w.stand(&w.Work[i]))
	}
	return out
}

func (w *view) stand(part *model.PartWork) standView {
	s := standView{Part: part.Name, Work: part.Part.Work, Arrives: part.Part.Arrives, ReadyBy: part.Ready,
		LeftOut: len(w.LeftOut(part.Name))}
	if t := w.Stand(part.Name); t != nil {
		s.Ready, s.For, s.Over = t.Ready, viewFor(t.For), t.Over
	}
	for _, session := range w.OfPart(part.Name) {
		switch session.Stage {
		case model.ListeningStage:
			s.Listen = session.Date
		case model.ReadStage:
			s.Read = session.Date
		}
	}
	return s
}

// together sums a programme up: the day all its parts are ready, zero where one
// is not, and how many sessions they lack.
func (w *view) together(p *programmeView) (ready model.Date, lacks int) {
	var stands []model.Stand
	for _, s := range p.Parts {
		if t := w.Stand(s.Part); t != nil {
			stands = append(stands, *t)
		}
	}
	return model.Together(stands)
}

// over tells whether nothing of a programme lies ahead.
func (p *programmeView) over() bool {
	return len(p.Parts) > 0 && !slices.ContainsFunc(p.Parts, func(s standView) bool { return !s.Over })
}

// readyOn writes the day on which something stands ready; where it does not, that
// there is none.
func (v *voice) readyOn(d model.Date) string {
	if d == 0 && !v.plain() {
		return "-"
	}
	return v.day(d)
}

func (w *view) sayProgrammes(all []programmeView) {
	w.say.title("%s", w.Season.Title)
	w.say.space()
	w.say.table(w.programmesTable(all))
}

func (w *view) programmesTable(all []programmeView) *table.Table {
	v := w.say
	var is []string
	for i := range all {
		is = append(is, all[i].is)
	}
	t := &table.Table{Columns: []table.Column{{Name: "programme", Wraps: true}, {Name: "parts", Right: true, From: desk}, {Name: "stands ready", From: phone},
		{Name: v.firstColumn(is)}, {Name: "days before", Right: true, From: desk}, {Name: "left out", Right: true}}}
	if v.plain() {
		t.Columns = append([]table.Column{{Name: "id"}}, t.Columns...)
	}
	for _, p := range all {
		ready, out := w.together(&p)
		row := []string{p.Title, fmt.Sprint(len(p.Parts)), v.readyOn(ready), v.day(p.First), "", fmt.Sprint(out)}
		if ready != 0 && ready < p.First {
			row[4] = fmt.Sprint(int(p.First - ready))
		}
		if v.plain() {
			row = append([]string{p.ID}, row...)
		}
		t.Row(row...)
	}
	return t
}

// firstColumn heads the dates on which programmes have to be ready.
func (v *voice) firstColumn(each []string) string {
	const rehearsal = "first rehearsal"
	if !v.plain() && slices.ContainsFunc(each, func(is string) bool { return is != rehearsal }) {
		return "first service"
	}
	return rehearsal
}

func (w *view) sayProgramme(p programmeView) {
	v := w.say
	v.title("%s (%s)", p.Title, p.ID)
	for _, s := range p.Services {
		played := fmt.Sprintf("about %s playing", s.Playing)
		if s.Missed {
			played = "not played"
		}
		v.line("%s %s, %s, %s: %s", v.day(s.Date), v.clock(s.Start), s.Kind, s.Lasts, played)
	}
	v.space()
	t := &table.Table{Columns: []table.Column{{Name: "part", Wraps: true}, {Name: "arrives", From: desk}, {Name: "read", From: desk},
		{Name: "ready"}, {Name: "ready by", From: phone}, {Name: "left out", Right: true}}}
	if v.plain() {
		t.Columns = append([]table.Column{{Name: "name"}}, t.Columns...)
		t.Columns[1].Name = "work"
	}
	for _, s := range p.Parts {
		row := []string{s.Work, v.day(s.Arrives), v.day(s.Read), v.readyOn(s.Ready), v.day(s.ReadyBy), fmt.Sprint(s.LeftOut)}
		if v.plain() {
			row = append([]string{s.Part}, row...)
		}
		t.Row(row...)
	}
	v.table(t)
	w.sayReadyFor([]programmeView{p})
	if _, out := w.together(&p); out > 0 {
		v.space()
	}
	for _, s := range p.Parts {
		if s.LeftOut > 0 {
			v.line("Left out of %s: %s.", s.Work, w.leftOutInShort(w.LeftOut(s.Part)))
		}
	}
}
