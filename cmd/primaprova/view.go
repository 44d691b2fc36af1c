package main

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"primaprova/model"
)

// view is a season and its plan, looked up by names and days. A plan may be
// older than its season: what it plans for a part that is gone keeps its name.
type view struct {
	say      *voice
	season   *model.Season
	plan     *model.Plan
	history  *model.History
	most     model.Minutes // most playing of a day that the player would ever do; 0: the caps
	sheets   *model.Sheets
	loads    *model.Loads
	stands   map[string]*model.Stand
	work     []model.PartWork
	parts    map[string]*model.PartWork
	passages map[string]*model.PassageWork
	days     map[model.Date][]*model.Session
	byPart   map[string][]*model.Session
	leftOut  map[string][]*model.Unplaced // by part, what it lacks
	recorded map[model.SessionDay]string  // what the record says of sessions, where that is known
}

// know takes in what the record says of sessions.
func (w *view) know(events []model.Event) {
	w.recorded = map[model.SessionDay]string{}
	for _, e := range model.Counting(model.Standing(events)) {
		if e.Session != "" {
			w.recorded[e.Key()] = outcome(&e)
		}
	}
}

// newView looks at a season with its record and its plan; both may be nil.
func newView(say *voice, s *model.Season, p *model.Plan, h *model.History) *view {
	sheets := s.Sheets(p, h)
	v := &view{say: say, season: s, plan: p, history: h, sheets: sheets, loads: s.Loads(p), work: sheets.Work(), stands: map[string]*model.Stand{},
		parts: map[string]*model.PartWork{}, passages: map[string]*model.PassageWork{},
		byPart: map[string][]*model.Session{}, leftOut: map[string][]*model.Unplaced{}}
	for i := range v.work {
		w := &v.work[i]
		v.parts[w.Name] = w
		for j := range w.Passages {
			v.passages[w.Passages[j].Name] = &w.Passages[j]
		}
	}
	if p == nil {
		return v
	}
	v.days = p.ByDate()
	for _, d := range slices.Sorted(maps.Keys(v.days)) {
		for _, s := range v.days[d] {
			v.byPart[s.Part] = append(v.byPart[s.Part], s)
		}
	}
	stands := s.Stands(p, h)
	for i := range stands {
		t := &stands[i]
		v.stands[t.Part] = t
		for j := range t.Lacks {
			u := t.Lacks[j].LeftOut()
			v.leftOut[t.Part] = append(v.leftOut[t.Part], &u)
		}
	}
	return v
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

func (w *view) title(part string) string {
	if p := w.parts[part]; p != nil {
		return p.Part.Work
	}
	return part
}

// shortTitle gives the title of a part's work without what stands in brackets.
func (w *view) shortTitle(part string) string {
	return model.ShortTitle(w.title(part))
}

// bars names a passage for the player.
func (w *view) bars(passage string) string {
	if p := w.passages[passage]; p != nil {
		return p.Passage.Where()
	}
	return passage[strings.LastIndexByte(passage, '/')+1:]
}

var hardness = [4]string{"", "easy", "", "hard"}

// nature tells a passage's difficulty where it is not the ordinary one, and
// whether it is exposed.
func (w *view) nature(passage string) string {
	p := w.passages[passage]
	if p == nil || p.Passage.Unnamed {
		return ""
	}
	s := hardness[p.Passage.Hard]
	if p.Passage.Exposed {
		s = join(s, "exposed")
	}
	return s
}

// several writes "1 visit", "3 visits".
func several(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
