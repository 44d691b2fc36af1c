package main

import (
	"fmt"

	"primaprova/io/table"
	"primaprova/model"
)

// urgentView is the dispatch list of today, for programs.
type urgentView struct {
	Date     model.Date    `json:"date"`
	Planned  model.Minutes `json:"planned"` // playing, as all of these
	Played   model.Minutes `json:"played"`
	Pace     model.Minutes `json:"pace"`
	Most     model.Minutes `json:"most"`
	Sessions []urgentOne   `json:"sessions"` // what can wait least first
}

type urgentOne struct {
	sessionView
	Until   model.Date  `json:"can_wait_until"`
	Planned *model.Date `json:"planned"`        // null: it was left out
	Spared  int         `json:"minutes_spared"` // that must be left of the day when it is begun
	forward bool        // it comes forward
}

func showUrgent(w *view, on model.Date, _ string) (func(), any, error) {
	d := w.Season.Dispatch(w.Plan, w.History)
	if on != d.Date && (w.History == nil || on != w.History.Today) { // before the season its first day is shown
		other := wrong("show urgent: --on %s: it goes by what has happened, so it is of today alone", on)
		if !w.Season.Holds(on) {
			return nil, nil, other.then("show urgent")
		}
		return nil, nil, other.then("show --on %s", on)
	}
	v := urgentView{Date: d.Date, Planned: d.Planned, Played: d.Done, Pace: d.Pace, Most: d.Most, Sessions: []urgentOne{}}
	for i := range d.Sessions {
		x := &d.Sessions[i]
		one := urgentOne{sessionView: w.dispatched(x, d.Date), Until: x.Last, Spared: int(d.Spared(x)), forward: d.Forward(x)}
		if x.Stands != 0 {
			one.Planned = &x.Stands
		}
		v.Sessions = append(v.Sessions, one)
	}
	return func() { w.sayUrgent(v) }, v, nil
}

func (w *view) sayUrgent(d urgentView) {
	v := w.say
	v.title("%s: what can wait least", v.longDay(d.Date))
	v.space()
	if len(d.Sessions) == 0 {
		v.line("Nothing is planned today, and nothing has to come forward.")
		return
	}
	t := &table.Table{Columns: []table.Column{{Name: "min", Right: true}, {Name: "what", Wraps: true}, {Name: "visit", From: phone}, {Name: "waits till", From: phone}, {Name: "planned"}}}
	if v.plain() {
		t.Columns = append(t.Columns, table.Column{Name: "id"})
	}
	more := false
	for i := range d.Sessions {
		x := &d.Sessions[i]
		what, visit := w.what(x.sessionView)
		planned := "today"
		switch {
		case x.Planned == nil:
			planned = "left out"
		case x.forward:
			planned = v.day(*x.Planned)
		}
		more = more || x.forward
		row := []string{fmt.Sprint(int(x.Minutes)), w.ShortTitle(x.Part) + ", " + what, visit, v.day(x.Until), planned}
		if v.plain() {
			row = append(row, x.ID)
		}
		t.Row(row...)
	}
	v.table(t)
	v.space()
	v.line("Planned today %s of playing, played %s. About %s keep the dates ahead, with something to spare for what runs over, is lost or fails; the day holds %s.", d.Planned, d.Played, d.Pace, d.Most)
	if more {
		v.line("What is not planned for today comes forward: begin it only with a quarter more than its minutes left, and stop at the cap. Fuller days are harder on the body: let no week rise suddenly.")
	} else {
		v.line("Nothing has to come forward.")
	}
	v.line("%s", model.OnPain)
}
