package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"primaprova/io/table"
	"primaprova/model"
)

// idOf gives the id of what a player names: a session by its number on a day's sheet,
// a session, passage or part by its id or by the end of it, as slate/45-61/visit-2,
// where that is one's alone; else the name as it is.
func (w *view) idOf(name string, on model.Date) string {
	if n, err := strconv.Atoi(name); err == nil {
		for _, v := range w.Days[on] {
			if v.Number == n {
				return v.ID
			}
		}
		return name
	}
	var ids []string
	if w.Plan != nil {
		for i := range w.Plan.Sessions {
			ids = append(ids, w.Plan.Sessions[i].ID)
		}
	}
	for _, x := range w.Season.Wanted(w.History) {
		ids = append(ids, x.ID)
	}
	for i := range w.Work {
		p := &w.Work[i]
		ids = append(ids, p.Name)
		for j := range p.Passages {
			ids = append(ids, p.Passages[j].Name)
		}
	}
	if name == "" || slices.Contains(ids, name) {
		return name
	}
	found := ""
	for _, id := range ids {
		if strings.HasSuffix(id, "/"+name) && id != found {
			if found != "" {
				return name // whose it is can't be told
			}
			found = id
		}
	}
	if found == "" {
		return name
	}
	return found
}

// idsOf lists the sessions of a view with their ids: of a day, a week, a part or a
// programme.
func (w *view) idsOf(what string, on model.Date, name string) ([]*model.Session, error) {
	days := model.Range{From: on, To: on}
	var out []*model.Session
	switch what {
	case "day", "week":
		if what == "week" {
			days = w.say.locale.WeekOf(on)
		}
		for d := days.From; d <= days.To; d++ {
			out = append(out, w.Days[d]...)
		}
	case "part":
		p, err := w.findPart(name)
		if err != nil {
			return nil, err
		}
		out = w.OfPart(p.Name)
	case "programme":
		for i := range w.Work {
			if p := &w.Work[i]; p.Programme.ID == name {
				out = append(out, w.OfPart(p.Name)...)
			}
		}
		if len(out) == 0 {
			return nil, wrong("show programme: %q is no programme with sessions", name).then("show programme")
		}
	default:
		return nil, wrong("show %s: --ids is for a day, a week, a part or a programme", what).then("show day --ids")
	}
	return slices.DeleteFunc(slices.Clone(out), func(v *model.Session) bool { return v.Stage == model.WarmUpStage }), nil
}

// sayIDs says what pin, why and record take for each session.
func (w *view) sayIDs(sessions []*model.Session) {
	t := &table.Table{Columns: []table.Column{{Name: "day"}, {Name: itemColumn, Right: true}, {Name: "what", Wraps: true, From: desk}, {Name: "id"}}}
	for _, v := range sessions {
		t.Row(w.say.day(v.Date), fmt.Sprint(v.Number), w.called(v.ID), v.ID)
	}
	if len(t.Rows) == 0 {
		w.say.line("Nothing is planned.")
		return
	}
	w.say.table(t)
}
