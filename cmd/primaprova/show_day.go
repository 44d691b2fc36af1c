package main

import (
	"fmt"
	"slices"
	"strings"

	"primaprova/io/table"
	"primaprova/model"
)

// dayView is a day sheet for programs.
type dayView struct {
	Date     model.Date     `json:"date"`
	Services []serviceView  `json:"services"`
	Sessions []sessionView  `json:"sessions"`
	Rests    []restView     `json:"rests"`
	Load     loadView       `json:"load"`
	Mind     []string       `json:"mind"`
	Next     *rehearsalView `json:"next_first_rehearsal"`
}

type serviceView struct {
	Programme string        `json:"programme"`
	Kind      string        `json:"kind"`
	Date      model.Date    `json:"date"`
	Start     model.Clock   `json:"start"`
	Lasts     model.Minutes `json:"lasts"`
	Playing   model.Minutes `json:"playing"`
	Missed    bool          `json:"missed,omitempty"` // it takes place without the player
}

type sessionView struct {
	model.Session
	Work  string      `json:"work,omitempty"`
	Bars  string      `json:"bars,omitempty"`
	Do    string      `json:"do"`
	Tempo *model.Rung `json:"tempo,omitempty"`

	Recorded string `json:"recorded,omitempty"` // what the record says of it: done, not done, did not hold
}

// restView is a rest after so many of the day's sessions.
type restView struct {
	After   int           `json:"after"`
	Start   *model.Clock  `json:"start,omitempty"`
	Minutes model.Minutes `json:"minutes"`
	Do      string        `json:"do"`
}

type loadView struct {
	Cap       model.Minutes `json:"cap"`
	Most      model.Minutes `json:"most"` // what the limits allow: the cap, and on rest days and days off services alone
	Services  model.Minutes `json:"services"`
	Other     model.Minutes `json:"other,omitempty"` // beside services and what is planned
	WarmUp    model.Minutes `json:"warm_up"`
	Planned   model.Minutes `json:"planned"`
	Listening model.Minutes `json:"listening"`
	Rest      bool          `json:"rest"`
}

type rehearsalView struct {
	Programme string     `json:"programme"`
	Date      model.Date `json:"date"`
}

func showDay(w *view, on model.Date, _ string) (func(), any, error) {
	d := w.sheet(on)
	return func() { w.sayDay(d) }, d, nil
}

// sheet gathers all that a day holds.
func (w *view) sheet(on model.Date) dayView {
	room, load := w.season.RoomOn(on), w.loads.On(on)
	sheet := w.sheets.On(on)
	d := dayView{Date: on, Services: w.servicesOn(on), Sessions: []sessionView{}, Rests: []restView{}, Mind: sheet.Mind, Next: w.nextRehearsal(on),
		Load: loadView{room.Cap, load.Most, load.InServices(), load.Other, load.WarmUp, load.Planned, load.Listening, room.Rest}}
	for _, l := range sheet.Lines {
		if l.Session == nil {
			d.Rests = append(d.Rests, restView{len(d.Sessions), l.From, l.Rest, l.Do})
			continue
		}
		d.Sessions = append(d.Sessions, sessionView{*l.Session, l.Work, l.Bars, l.Do, l.Tempo, w.recorded[l.Session.Key()]})
	}
	return d
}

func (w *view) servicesOn(on model.Date) []serviceView {
	out := []serviceView{}
	for i := range w.season.Programmes {
		p := &w.season.Programmes[i]
		for _, s := range p.Services {
			if s.Date == on {
				out = append(out, serviceView{p.Title, s.Kind.String(), s.Date, s.Start, s.Lasts, s.PlayingMinutes(), s.Missed})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b serviceView) int { return int(a.Start - b.Start) })
	return out
}

// nextRehearsal gives the first rehearsal that comes next, today's included.
func (w *view) nextRehearsal(on model.Date) *rehearsalView {
	var next *rehearsalView
	for i := range w.season.Programmes {
		p := &w.season.Programmes[i]
		if first := p.FirstRehearsal(); first >= on && (next == nil || first < next.Date) {
			next = &rehearsalView{p.Title, first}
		}
	}
	return next
}

func (w *view) sayDay(d dayView) {
	v := w.say
	v.title("%s", v.longDay(d.Date))
	for _, s := range d.Services {
		span := v.hours(model.Span{From: s.Start, To: s.Start + model.Clock(s.Lasts)})
		if s.Missed {
			v.line("%s %s, %s: not played", span, s.Kind, s.Programme)
			continue
		}
		v.line("%s %s, %s: about %s playing", span, s.Kind, s.Programme, s.Playing)
	}
	for _, o := range w.season.OtherOn(d.Date) {
		at := ""
		if o.At.To > 0 {
			at = v.hours(o.At) + " "
		}
		v.line("%s%s: about %s playing", at, o.Title, o.PlayingMinutes())
	}
	switch {
	case len(d.Sessions) > 0 || v.form == inCSV: // which has its heading, whatever follows
		v.space()
		v.table(w.dayTable(d))
		v.space()
	case freeWords[w.season.RestWord(d.Date, w.history)] != "":
		v.line("%s", freeWords[w.season.RestWord(d.Date, w.history)])
		if note := w.history.Noted(d.Date); note != "" {
			v.line("Noted: %s.", note)
		}
	case len(d.Services) > 0:
		v.line("Nothing is planned besides.")
	default:
		v.line("Nothing is planned.")
	}
	v.line("%s", w.sums(d.Load))
	if s := w.marked(d.Date); s != "" {
		v.line("%s", s)
	}
	if d.Next != nil {
		v.line("%s", w.ahead(d.Date, *d.Next))
	}
	if len(d.Mind) > 0 {
		v.space()
		for _, l := range d.Mind {
			v.line("%s", l)
		}
	}
}

// freeWords says of a day without sessions why there are none.
var freeWords = map[string]string{
	"lost":        "A lost day: nothing is planned.",
	"day of pain": "A day of pain: nothing more is planned.",
	"day off":     "A day off.",
	"rest day":    "A rest day: nothing is planned.",
}

func (w *view) sums(l loadView) string {
	var parts []string
	if l.Listening > 0 {
		parts = append(parts, fmt.Sprintf("Listening %s.", l.Listening))
	}
	own := l.WarmUp + l.Planned
	switch {
	case l.Other > 0:
		what := join(join(said(own, "here"), said(l.Services, "in services")), said(l.Other, "otherwise"))
		parts = append(parts, fmt.Sprintf("Playing %s, of %s.", what, l.Most))
	case own > 0 && l.Services > 0:
		parts = append(parts, fmt.Sprintf("Playing %s here and %s in services, of %s.", own, l.Services, l.Most))
	case own > 0:
		parts = append(parts, fmt.Sprintf("Playing %s of %s.", own, l.Most))
	case l.Services > 0 && l.Services == l.Most:
		parts = append(parts, fmt.Sprintf("Playing %s in services.", l.Services))
	case l.Services > 0:
		parts = append(parts, fmt.Sprintf("Playing %s in services, of %s.", l.Services, l.Most))
	default:
		parts = append(parts, "No playing.")
	}
	return strings.Join(parts, " ")
}

// said writes minutes with where they are played, nothing where there are none.
func said(m model.Minutes, where string) string {
	if m == 0 {
		return ""
	}
	return m.String() + " " + where
}

func (w *view) ahead(on model.Date, r rehearsalView) string {
	switch n := int(r.Date - on); n {
	case 0:
		return fmt.Sprintf("Today is the first rehearsal of %s.", r.Programme)
	default:
		return fmt.Sprintf("First rehearsal of %s: %s, in %s.", r.Programme, w.say.day(r.Date), several(n, "day", "days"))
	}
}

// dayTable lists sessions in the order they are played, with the rests between.
// What to do stands in a column of its own where there is room, else below.
func (w *view) dayTable(d dayView) *table.Table {
	if w.say.plain() {
		return w.sessionTable(d.Sessions, true)
	}
	narrow, wide := w.say.width < phone, w.say.width >= hall
	// The numbers are those by which record takes sessions.
	t := &table.Table{Columns: []table.Column{{Name: itemColumn, Right: true}}}
	clocked := slices.ContainsFunc(d.Sessions, func(s sessionView) bool { return s.Start != nil })
	if clocked {
		t.Columns = append(t.Columns, table.Column{Name: "at"})
	}
	t.Columns = append(t.Columns, table.Column{Name: "min", Right: true})
	first := len(t.Columns) // the first column of words
	if wide {
		t.Columns = append(t.Columns, table.Column{Name: "work", Wraps: true})
	}
	t.Columns = append(t.Columns, table.Column{Name: "what", Wraps: true})
	if !narrow {
		t.Columns = append(t.Columns, table.Column{Name: "visit"})
	}
	if wide {
		paced := table.Column{Name: "tempo", From: 1 << 16} // no screen is as wide: it is empty
		if slices.ContainsFunc(d.Sessions, func(s sessionView) bool { return s.Tempo != nil }) {
			paced.From = 0
		}
		t.Columns = append(t.Columns, paced, table.Column{Name: "to do", Wraps: true})
	}
	row := func(no, at string, minutes model.Minutes, words ...string) {
		cells := []string{no}
		if clocked {
			cells = append(cells, at)
		}
		if minutes == 0 {
			t.Row(append(append(cells, ""), words...)...)
			return
		}
		t.Row(append(append(cells, fmt.Sprint(int(minutes))), words...)...)
	}
	rests, above := d.Rests, ""
	for i, s := range d.Sessions {
		for ; len(rests) > 0 && rests[0].After == i; rests = rests[1:] {
			r, at := rests[0], ""
			if r.Start != nil {
				at = w.hours(sessionView{Session: model.Session{Start: r.Start, Ends: ends(*r.Start, r.Minutes)}})
			}
			if wide {
				row("", at, r.Minutes, "", "rest", "", "", r.Do)
			} else {
				row("", at, r.Minutes, "rest")
			}
		}
		work := "" // the same work going on is not named again
		if s.Part != above && s.Part != "" {
			work = w.shortTitle(s.Part)
		}
		above = s.Part
		what, visit := w.what(s)
		visit = join(visit, s.Recorded)
		tempo := ""
		if s.Tempo != nil {
			tempo = s.Tempo.String()
		}
		below := s.Do
		if tempo != "" {
			below = tempo + ": " + s.Do
		}
		no, at := fmt.Sprint(s.Number), w.hours(s)
		switch {
		case wide:
			row(no, at, s.Minutes, work, what, visit, tempo, s.Do)
		case !narrow:
			if work != "" {
				what = work + ", " + what
			}
			row(no, at, s.Minutes, what, visit)
			row("", "", 0, below)
		default:
			if work != "" {
				t.Row(append(make([]string, first), work+":")...)
			}
			row(no, at, s.Minutes, join(what, visit))
			row("", "", 0, below)
		}
	}
	return t
}

func ends(from model.Clock, m model.Minutes) *model.Clock {
	to := from + model.Clock(m)
	return &to
}

// Below these widths what is needed less gives way: of a day sheet, on a phone,
// the end of a session, and a work has a line of its own. From hall on there is
// room for what to do beside it.
const (
	phone = 60
	desk  = 76
	hall  = 110
)

func (w *view) hours(s sessionView) string {
	switch {
	case s.Start == nil:
		return ""
	case s.Ends == nil || w.say.width < phone:
		return w.say.locale.Clock(*s.Start)
	}
	return w.say.hours(model.Span{From: *s.Start, To: *s.Ends})
}
