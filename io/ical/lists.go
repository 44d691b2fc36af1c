package ical

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"primaprova/model"
)

// longTitle is how many letters of a title are of use in a calendar.
const longTitle = 80

// block is one line for a block: what is in it, part by part; where that is more than
// a line, the parts with their minutes.
func (w *words) block(block []*model.Session) string {
	var parts []string
	above := ""
	var minutes model.Minutes
	for _, s := range block {
		minutes += s.Minutes
		switch {
		case s.Part == "":
			parts = append(parts, "warm-up")
		case s.Part == above:
			parts[len(parts)-1] += ", " + w.what(s)
		default:
			parts = append(parts, w.short(s.Part)+" "+w.what(s))
		}
		above = s.Part
	}
	if t := strings.Join(parts, "; ") + " (" + minutes.String() + ")"; utf8.RuneCountInString(t) <= longTitle {
		return t
	}
	return w.sum(block)
}

// sum is one line for a day: each part with its minutes.
func (w *words) sum(day []*model.Session) string {
	var order []string
	minutes := map[string]model.Minutes{}
	var playing, listening model.Minutes
	for _, s := range day {
		if s.Playing {
			playing += s.Minutes
		} else {
			listening += s.Minutes
		}
		if s.Part == "" {
			continue
		}
		if minutes[s.Part] == 0 {
			order = append(order, s.Part)
		}
		minutes[s.Part] += s.Minutes
	}
	var parts, sums []string
	for _, part := range order {
		parts = append(parts, w.short(part)+" "+minutes[part].String())
	}
	if len(parts) == 0 {
		parts = []string{"warm-up"}
	}
	if playing > 0 {
		sums = append(sums, fmt.Sprintf("%s playing", playing))
	}
	if listening > 0 {
		sums = append(sums, fmt.Sprintf("%s listening", listening))
	}
	return strings.Join(parts, ", ") + " (" + strings.Join(sums, ", ") + ")"
}

// list is sessions, one a line, in the order of the day, and their works.
func (w *words) list(day []*model.Session) string {
	var lines []string
	for _, s := range day {
		line := w.told(s)
		if s.Start != nil {
			line = w.locale.Clock(*s.Start) + " " + line
		}
		lines = append(lines, line)
	}
	if works := w.works(day); len(works) > 0 {
		lines = append(append(lines, ""), works...)
	}
	return strings.Join(lines, "\n")
}
