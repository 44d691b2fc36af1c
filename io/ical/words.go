package ical

import (
	"fmt"
	"slices"
	"strings"

	"primaprova/model"
)

// caution stands in the calendar's description and where an entry speaks of a
// day's playing. It gives no figures: those are the player's and the physician's.
const caution = "This plan promises no safety. Stop when it hurts and rest between blocks; " +
	"for pain that stays see a physician or a physiotherapist."

// hints says how each stage is meant; common practice, no source.
var hints = map[model.Stage]string{
	model.ListeningStage:  "Instrument in its case. Mark tempos and exposed places in the part.",
	model.RecordingsStage: "Instrument in its case. Listen again with the marked part.",
	model.WarmUpStage:     "Short, easy and under tempo. " + caution,
	model.ReadStage:       "At tempo. Mark what does not work.",
}

// words names sessions as a player would, from the season.
type words struct {
	locale     model.Locale
	programmes map[string]*model.Programme // by part name
	parts      map[string]*model.Part
	passages   map[string]*model.Passage
}

func newWords(s *model.Season, l model.Locale) *words {
	w := &words{l, map[string]*model.Programme{}, map[string]*model.Part{}, map[string]*model.Passage{}}
	for i := range s.Programmes {
		p := &s.Programmes[i]
		for j := range p.Parts {
			name := model.PartName(p.ID, p.Parts[j].ID)
			w.programmes[name], w.parts[name] = p, &p.Parts[j]
			for k := range p.Parts[j].Passages {
				ps := &p.Parts[j].Passages[k]
				w.passages[model.PassageName(name, ps.ID)] = ps
			}
		}
	}
	return w
}

func (w *words) programme(part string) *model.Programme { return w.programmes[part] }

// programmeTitle gives a programme's title, or its id when it has none.
func (w *words) programmeTitle(id string) string {
	for _, p := range w.programmes {
		if p.ID == id && p.Title != "" {
			return p.Title
		}
	}
	return id
}

// work gives a part's work, or the part's name when the season no longer has it.
func (w *words) work(part string) string {
	if p := w.parts[part]; p != nil && p.Work != "" {
		return p.Work
	}
	return part
}

// title is one line for a session.
func (w *words) title(s *model.Session) string {
	switch s.Stage {
	case model.WarmUpStage:
		return "Warm-up"
	case model.ListeningStage:
		return "Listening: " + w.work(s.Part)
	case model.RecordingsStage:
		return "Recordings again: " + w.work(s.Part)
	case model.ReadStage:
		return "Read-through: " + w.work(s.Part)
	}
	t := w.work(s.Part) + ", " + w.place(s)
	if s.Visit == nil || s.Visits == nil {
		return t
	}
	t += fmt.Sprintf(": visit %d of %d", *s.Visit, *s.Visits)
	if *s.Visit == *s.Visits {
		t += ", check"
	}
	return t
}

// place names a passage within its part. Passages found since the season file
// was written are known by their id alone, which by default is the bars.
func (w *words) place(s *model.Session) string {
	if s.Passage == nil {
		return "passage"
	}
	bars := strings.TrimPrefix(*s.Passage, s.Part+"/")
	if ps := w.passages[*s.Passage]; ps != nil && ps.Bars != "" {
		bars = ps.Bars
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
	lines := []string{fmt.Sprintf("%s.", s.Minutes)}
	if p := w.programmes[s.Part]; p != nil {
		lines[0] = fmt.Sprintf("%s for %s.", s.Minutes, p.Title)
		if first := p.FirstRehearsal(); !first.IsZero() {
			lines = append(lines, fmt.Sprintf("First rehearsal on %s.", w.locale.Day(first)))
		}
	}
	if s.Passage != nil {
		if ps := w.passages[*s.Passage]; ps != nil && ps.Exposed {
			lines = append(lines, "Exposed.")
		}
		if s.Visit != nil && s.Visits != nil && *s.Visit == *s.Visits {
			lines = append(lines, "Does it stick? Record it when it does not.")
		}
	}
	if h := hints[s.Stage]; h != "" {
		lines = append(lines, h)
	}
	return strings.Join(lines, "\n")
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
	return w.work(model.PartName(steps[0], steps[1])) + ", " + strings.ReplaceAll(rest, "visit-", "visit ")
}

// block is one line for a block: the work in place of "Practice" where it holds
// only one, and a warm-up at most besides.
func (w *words) block(block []*model.Session) string {
	var works []string
	for _, s := range block {
		if s.Part != "" && !slices.Contains(works, w.work(s.Part)) {
			works = append(works, w.work(s.Part))
		}
	}
	sum := w.sum(block)
	if len(works) != 1 {
		return sum
	}
	return works[0] + strings.TrimPrefix(sum, "Practice")
}

// sum is one line for a day.
func (w *words) sum(day []*model.Session) string {
	var playing, listening model.Minutes
	for _, s := range day {
		if s.Playing {
			playing += s.Minutes
		} else {
			listening += s.Minutes
		}
	}
	var parts []string
	if playing > 0 {
		parts = append(parts, fmt.Sprintf("%s playing", playing))
	}
	if listening > 0 {
		parts = append(parts, fmt.Sprintf("%s listening", listening))
	}
	return "Practice: " + strings.Join(parts, ", ")
}

// list is a day's sessions, one a line, in the order of the day.
func (w *words) list(day []*model.Session) string {
	var b strings.Builder
	playing := false
	for _, s := range day {
		if s.Start != nil {
			fmt.Fprintf(&b, "%s ", w.locale.Clock(*s.Start))
		}
		fmt.Fprintf(&b, "%s · %s\n", s.Minutes, w.title(s))
		playing = playing || s.Playing
	}
	if playing {
		b.WriteString("\n" + caution)
	}
	return strings.TrimSuffix(b.String(), "\n")
}

// service is one line for a rehearsal or a concert.
func (w *words) service(p *model.Programme, v model.Service) string {
	kind := "Concert"
	if v.Kind == model.Rehearsal {
		kind = "Rehearsal"
		if v.Date == p.FirstRehearsal() {
			kind = "First rehearsal"
		}
	}
	title := p.Title
	if title == "" {
		title = p.ID
	}
	return kind + ": " + title
}

// aboutService says what is played.
func (w *words) aboutService(p *model.Programme, v model.Service) string {
	var works []string
	for i := range p.Parts {
		works = append(works, w.work(model.PartName(p.ID, p.Parts[i].ID)))
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
