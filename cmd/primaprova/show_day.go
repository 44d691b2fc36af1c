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
}

type sessionView struct {
	model.Session
	Work string `json:"work,omitempty"`
	Bars string `json:"bars,omitempty"`
}

type loadView struct {
	Cap       model.Minutes `json:"cap"`
	Services  model.Minutes `json:"services"`
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
	day := w.dayOf(on)
	d := dayView{Date: on, Services: w.servicesOn(on), Sessions: []sessionView{}, Mind: w.mind(on), Next: w.nextRehearsal(on),
		Load: loadView{day.Cap, day.Services, day.WarmUp, day.Planned, 0, day.Rest}}
	for _, s := range w.days[on] {
		v := sessionView{Session: *s}
		if s.Part != "" {
			v.Work = w.title(s.Part)
		}
		if s.Passage != nil {
			v.Bars = w.bars(*s.Passage)
		}
		if !s.Playing {
			d.Load.Listening += s.Minutes
		}
		d.Sessions = append(d.Sessions, v)
	}
	return d
}

func (w *view) servicesOn(on model.Date) []serviceView {
	out := []serviceView{}
	for i := range w.season.Programmes {
		p := &w.season.Programmes[i]
		for _, s := range p.Services {
			if s.Date == on {
				out = append(out, serviceView{p.Title, s.Kind.String(), s.Date, s.Start, s.Lasts, s.PlayingMinutes()})
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
		v.line("%s %s, %s: about %s playing", v.hours(model.Span{From: s.Start, To: s.Start + model.Clock(s.Lasts)}), s.Kind, s.Programme, s.Playing)
	}
	switch {
	case len(d.Sessions) > 0:
		v.space()
		v.table(w.dayTable(d.Sessions))
		v.space()
	case w.season.Limits.OffOn(d.Date):
		v.line("A day off.")
	case d.Load.Rest:
		v.line("A rest day: nothing to play.")
	case len(d.Services) > 0:
		v.line("Nothing is planned besides.")
	default:
		v.line("Nothing is planned.")
	}
	v.line("%s", w.sums(d.Load))
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

func (w *view) sums(l loadView) string {
	var parts []string
	if l.Listening > 0 {
		parts = append(parts, fmt.Sprintf("Listening %s.", l.Listening))
	}
	own := l.WarmUp + l.Planned
	switch {
	case own > 0 && l.Services > 0:
		parts = append(parts, fmt.Sprintf("Playing %s here and %s in services, of %s.", own, l.Services, l.Cap))
	case own > 0:
		parts = append(parts, fmt.Sprintf("Playing %s of %s.", own, l.Cap))
	case l.Services > 0:
		parts = append(parts, fmt.Sprintf("Playing %s in services, of %s.", l.Services, l.Cap))
	default:
		parts = append(parts, "No playing.")
	}
	return strings.Join(parts, " ")
}

func (w *view) ahead(on model.Date, r rehearsalView) string {
	switch n := int(r.Date - on); n {
	case 0:
		return fmt.Sprintf("Today is the first rehearsal of %s.", r.Programme)
	default:
		return fmt.Sprintf("First rehearsal of %s: %s, in %s.", r.Programme, w.say.day(r.Date), several(n, "day", "days"))
	}
}

// dayTable lists sessions in the order they are played.
func (w *view) dayTable(sessions []sessionView) *table.Table {
	if w.say.plain() {
		return w.sessionTable(sessions)
	}
	narrow := w.say.width < phone
	t := &table.Table{Columns: []table.Column{{Name: "min", Right: true}, {Name: "work", Wraps: true}, {Name: "what", Wraps: true}, {Name: "visit"}}}
	if narrow {
		t.Columns = []table.Column{{Name: "min", Right: true}, {Name: "what", Wraps: true}}
	}
	clocked := slices.ContainsFunc(sessions, func(s sessionView) bool { return s.Start != nil })
	if clocked {
		t.Columns = append([]table.Column{{Name: "at"}}, t.Columns...)
	}
	// The numbers are those by which record takes sessions.
	t.Columns = append([]table.Column{{Name: "no", Right: true}}, t.Columns...)
	above := ""
	for i, s := range sessions {
		row := []string{fmt.Sprint(i + 1)}
		if clocked {
			row = append(row, w.hours(s))
		}
		row = append(row, fmt.Sprint(int(s.Minutes)))
		work := "" // the same work going on is not named again
		if s.Part != above && s.Part != "" {
			work = w.shortTitle(s.Part)
		}
		above = s.Part
		what, visit := w.what(s)
		if !narrow {
			t.Row(append(row, work, what, visit)...)
			continue
		}
		if work != "" {
			t.Row(append(make([]string, len(row)), work+":")...)
		}
		t.Row(append(row, join(what, visit))...)
	}
	return t
}

// Below these widths what is needed less gives way: of a day sheet, on a phone,
// the end of a session, and a work has a line of its own.
const (
	phone = 60
	desk  = 76
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
