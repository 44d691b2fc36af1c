package main

import (
	"fmt"
	"strings"

	"primaprova/model"
)

// view is a season with its plan and its record, and a voice to say it.
type view struct {
	*model.View
	say      *voice
	path     string                      // of the season file, where hints name it
	recorded map[model.SessionDay]string // what the record says of sessions, where that is known
}

// know takes in what the record says of sessions.
func (w *view) know(events []model.Event) {
	w.Know(events)
	w.recorded = map[model.SessionDay]string{}
	for k, e := range w.Recorded {
		w.recorded[k] = outcome(e)
	}
}

// newView looks at a season with its record and its plan; both may be nil.
func newView(say *voice, s *model.Season, p *model.Plan, h *model.History) *view {
	return &view{View: s.View(p, h), say: say}
}

// day writes a date: short for people, ISO 8601 for programs.
func (v *voice) day(d model.Date) string {
	if d == 0 {
		return ""
	}
	if v.plain() {
		return d.String()
	}
	return v.locale.Day(d)
}

// longDay writes a date with its year, for headings.
func (v *voice) longDay(d model.Date) string {
	if v.plain() {
		return d.String()
	}
	return v.locale.Long(d)
}

// clock writes a time of day: as the reader likes it, or ISO 8601 for programs.
func (v *voice) clock(c model.Clock) string {
	if v.plain() {
		return c.String()
	}
	return v.locale.Clock(c)
}

// hours writes a run of clock time likewise.
func (v *voice) hours(s model.Span) string {
	if v.plain() {
		return s.String()
	}
	return v.locale.Hours(s)
}

// min writes minutes: hours and minutes for people, a number for programs.
func (v *voice) min(m model.Minutes) string {
	if v.plain() {
		return fmt.Sprint(int(m))
	}
	return m.Hours()
}

// nature tells what is not ordinary of a passage.
func (w *view) nature(passage string) string {
	if p := w.Passages[passage]; p != nil {
		return p.Passage.Nature()
	}
	return ""
}

// capital writes the first letter of an English text large.
func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// several writes "1 visit", "3 visits".
func several(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
