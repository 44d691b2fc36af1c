package main

import (
	"fmt"
	"slices"

	"primaprova/io/table"
	"primaprova/model"
)

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
			work = w.ShortTitle(s.Part)
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
