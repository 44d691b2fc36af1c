package ical

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"primaprova/model"
)

// caution stands in the calendar's description and once with each day's playing. It gives no figures: those are the player's and the physician's.
const caution = "This plan promises no safety. Stop when it hurts and rest between blocks; " +
	"for pain that stays see a physician or a physiotherapist."

// words names sessions as a player would, from the season: parts by their short
// names, the ids of the season file, so that what differs comes first in a small cell.
type words struct {
	*model.View
	locale model.Locale
	lines  map[string]model.SheetLine // by session
}

func newWords(s *model.Season, p *model.Plan, h *model.History, l model.Locale) *words {
	w := &words{s.View(p, h), l, map[string]model.SheetLine{}}
	for d := range w.Days {
		for _, line := range w.Sheet(d).Lines {
			if line.Session != nil {
				w.lines[line.Session.ID] = line
			}
		}
	}
	return w
}

func (w *words) programme(part string) *model.Programme {
	if p := w.Parts[part]; p != nil {
		return p.Programme
	}
	return nil
}

// programmeTitle gives a programme's title, or its id when it has none.
func (w *words) programmeTitle(id string) string {
	if p, _ := w.Programme(id); p != nil {
		return cmp.Or(p.Title, id)
	}
	return id
}

// short gives a part's own name, or the part's name when the season no longer has
// it.
func (w *words) short(part string) string {
	if p := w.Parts[part]; p != nil {
		return p.Part.ID
	}
	return part
}

// title is one line for a session.
func (w *words) title(s *model.Session) string {
	if s.Part == "" {
		return "Warm-up"
	}
	t := w.short(s.Part) + " " + w.what(s)
	if rung := w.lines[s.ID].Tempo; rung != nil {
		t += ", at " + rung.String()
	}
	if s.Visit != nil && s.Visits != nil {
		t += fmt.Sprintf(" (%d/%d)", *s.Visit, *s.Visits)
	}
	return t
}

// what says the passage or the stage.
func (w *words) what(s *model.Session) string {
	if s.Stage == model.PassageStage {
		return strings.TrimPrefix(w.place(s), "bars ")
	}
	return s.Word()
}

// place names a passage within its part. Passages found since the season file
// was written are known by their id alone, which by default is the bars.
func (w *words) place(s *model.Session) string {
	if s.Passage == nil {
		return "passage"
	}
	bars := strings.TrimPrefix(*s.Passage, s.Part+"/")
	if ps := w.Passages[*s.Passage]; ps != nil && ps.Passage.Bars != "" {
		bars = ps.Passage.Bars
	}
	if n, unnamed := strings.CutPrefix(bars, "unnamed-"); unnamed {
		return "unnamed passage " + n
	}
	if bars != "" && bars[0] >= '0' && bars[0] <= '9' {
		return "bars " + bars
	}
	return bars
}

// about is what else an event says of a session.
func (w *words) about(s *model.Session) string {
	lines := []string{w.told(s)}
	if s.Visit != nil && s.Visits != nil && *s.Visit == *s.Visits {
		lines = append(lines, "Does it stick? Record it when it does not.")
	}
	return strings.Join(append(lines, w.works([]*model.Session{s})...), "\n")
}

// told says what a session is and what to do in it, on one line.
func (w *words) told(s *model.Session) string {
	line := w.lines[s.ID]
	out := w.title(s)
	for _, x := range []struct {
		is   bool
		word string
	}{{line.Hard == 1, "easy"}, {line.Hard == 3, "hard"}, {line.Exposed, "exposed"}} {
		if x.is {
			out += ", " + x.word
		}
	}
	out += ", " + s.Minutes.String()
	if do := w.locale.Doing(&line); do != "" {
		out += ": " + do
	}
	return out
}

// works says which works the short names of some sessions stand for, and when they
// are rehearsed first.
func (w *words) works(sessions []*model.Session) []string {
	var out, seen []string
	for _, s := range sessions {
		if s.Part == "" || slices.Contains(seen, s.Part) {
			continue
		}
		seen = append(seen, s.Part)
		line := w.short(s.Part) + " = " + w.Title(s.Part)
		if p := w.programme(s.Part); p != nil {
			_, look := w.Programme(p.ID)
			line += "; " + look.Letter + " " + p.Title
			if first := p.FirstRehearsal(); !first.IsZero() {
				line += ", " + p.FirstIs() + " on " + w.locale.Day(first)
			}
		}
		out = append(out, line+".")
	}
	return out
}

// titleOf names a session of which no more than the id is left.
func (w *words) titleOf(id string) string {
	steps := strings.Split(id, "/")
	if steps[0] == string(model.WarmUpStage) && len(steps) == 2 {
		return "Warm-up"
	}
	if len(steps) < 3 {
		return id
	}
	rest := strings.Join(steps[2:], ", ")
	return w.Title(model.PartName(steps[0], steps[1])) + ", " + strings.ReplaceAll(rest, "visit-", "visit ")
}

// service is one line for a service.
func (w *words) service(p *model.Programme, v model.Service) string {
	kind := v.Kind.String()
	if v.Kind.Rehearses() && v.Date == p.FirstRehearsal() {
		kind = "first " + kind
	}
	title := p.Title
	if title == "" {
		title = p.ID
	}
	if v.Missed {
		title += " (not played)"
	}
	return strings.ToUpper(kind[:1]) + kind[1:] + ": " + title
}

// aboutService says what is played.
func (w *words) aboutService(p *model.Programme, v model.Service) string {
	var works []string
	for i := range p.Parts {
		works = append(works, w.Title(model.PartName(p.ID, p.Parts[i].ID)))
	}
	return strings.Join(append(works, fmt.Sprintf("%s, %s of them playing.", v.Lasts, v.PlayingMinutes())), "\n")
}

// plain takes out what iCalendar text may not hold: control characters other
// than tab and line feed (RFC 5545, section 3.1).
func plain(s string) string {
	s = strings.ReplaceAll(s, "\r\n", "\n")
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\r':
			return '\n'
		case r < ' ' && r != '\n' && r != '\t', r == 0x7f:
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, "\ufffd"))
}
