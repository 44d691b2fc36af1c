package main

import (
	"fmt"
	"slices"
	"strings"

	"primaprova/io/table"
	"primaprova/model"
)

// weekView is a week for programs.
type weekView struct {
	Week string     `json:"week"` // ISO 8601, like 2027-W02: the one that most of its days lie in
	From model.Date `json:"from"`
	To   model.Date `json:"to"`
	Days []dayView  `json:"days"`

	Noise *model.Noise `json:"noise,omitempty"` // in services; none where none has a level
}

func showWeek(w *view, on model.Date, _ string) (func(), any, error) {
	year, week := w.say.locale.ISOWeekOf(on)
	days := w.say.locale.WeekOf(on)
	v := weekView{Week: fmt.Sprintf("%d-W%02d", year, week),
		From: max(days.From, w.Season.From), To: min(days.To, w.Season.To)}
	for d := v.From; d <= v.To; d++ {
		v.Days = append(v.Days, w.pointing(d))
	}
	v.Noise = w.Season.Noise(model.Range{From: v.From, To: v.To})
	return func() { w.sayWeek(v) }, v, nil
}

func (w *view) sayWeek(week weekView) {
	v := w.say
	v.title("Week %s, %s to %s", week.Week, v.day(week.From), v.day(week.To))
	t := &table.Table{Columns: []table.Column{{Name: "day"}, {Name: "services", Right: true, From: phone}, {Name: "planned", Right: true},
		{Name: "most", Right: true, From: phone}, {Name: "listening", Right: true, From: phone}, {Name: "what (×: visits)", Wraps: true}}}
	if v.plain() {
		t.Columns[0].Name, t.Columns[5].Name = "date", "what"
	}
	for _, d := range week.Days {
		l := d.Load
		t.Row(v.day(d.Date), v.min(l.Services+l.Other), v.min(l.WarmUp+l.Planned), v.min(l.Most), v.min(l.Listening), w.inShort(d, 0))
	}
	v.space()
	v.table(t)
	v.space()
	sum := w.Loads().During(model.Range{From: week.From, To: week.To})
	v.line("%s Listening %s.", sum.Said(model.Minutes.Hours), sum.Listening.Hours())
	if next := w.nextRehearsal(week.From); next != nil {
		v.line("%s of %s: %s.", capital(next.Is), next.Programme, v.day(next.Date))
	}
	w.sayNoise(week.Noise)
}

// inShort says a day in a line: services, then what is worked at of each work
// and how many visits it gets; of so many works at most (0: all).
func (w *view) inShort(d dayView, most int) string {
	var out []string
	of := map[string]int{}
	var kinds []string
	for _, s := range d.Services {
		if of[s.Kind]++; of[s.Kind] == 1 {
			kinds = append(kinds, s.Kind)
		}
	}
	for _, kind := range kinds {
		out = append(out, strings.TrimPrefix(several(of[kind], kind, kind+"s"), "1 "))
	}
	var parts []string
	stages, visits := map[string]string{}, map[string]int{}
	for _, s := range d.Sessions {
		if s.Part == "" {
			continue
		}
		if !slices.Contains(parts, s.Part) {
			parts = append(parts, s.Part)
		}
		if s.Stage == model.PassageStage {
			visits[s.Part]++
		} else {
			stages[s.Part] = join(stages[s.Part], string(s.Stage))
		}
	}
	for i, part := range parts {
		if most > 0 && i == most && len(parts) > most+1 {
			out = append(out, several(len(parts)-most, "more work", "more works"))
			break
		}
		text := w.ShortTitle(part)
		text += inAWord(stages[part], visits[part])
		out = append(out, text)
	}
	if free := w.Season.RestWord(d.Date, w.History); free != "" {
		out = append([]string{free}, out...)
	} else if body := w.Season.RoomOn(d.Date).Marks.Brief(); body != nil {
		out = append(body[:1:1], out...)
	}
	return strings.Join(out, "; ")
}

// inAWord says what a work gets: " ×3" for visits alone, ": listening, ×3" where
// there is more, so that the number is no stage's.
func inAWord(stages string, visits int) string {
	out := ""
	if stages != "" {
		out = ": " + stages
	}
	if visits > 0 && stages != "" {
		out += ","
	}
	if visits > 0 {
		out += fmt.Sprintf(" ×%d", visits)
	}
	return out
}
