package model

import (
	"slices"
	"strconv"
	"strings"
)

// PartWork is one part with everything that is to be planned for it: what the
// season file says, with the estimate turned into unnamed passages and the
// record taken off. Solver and audit both start from here.
type PartWork struct {
	Name      string // programme/part
	Programme *Programme
	Part      *Part
	Due       Date  // the date that it is read for; see due.go
	Window    Range // days of listening, read-through and recordings; may be empty
	Ready     Date  // the ready-by date
	Passages  []PassageWork
	Sittings  []Sitting // of its listening
	// What the record says was done, zero while it lies ahead.
	Listened, Read, Recorded Date
	// Over: its date has come, so that it was read there if not before. Of its
	// stages nothing is wanted any more, so nothing of them is planned, left out or
	// warned of; Unread where Read is that date. RecOver is the same for the return to
	// the recordings, which may have days after it.
	Over, Unread, RecOver bool
	GivesWay              bool // see give_way.go
}

// PassageWork is one passage with its recipe and days.
type PassageWork struct {
	Name     string // programme/part/passage
	Passage  Passage
	Recipe   []Visit
	Deadline Date   // first day that is too late
	Ready    Date   // last day on which its last visit costs nothing
	Fresh    Date   // first day on which its last visit costs nothing
	Over     bool   // no date is left for it: nothing of it is wanted any more
	Done     []Date // days of the visits that the record says were done, in order
}

// Passage gives a passage by its name, nil where the part has none of that name.
func (w *PartWork) Passage(name string) *PassageWork {
	for i := range w.Passages {
		if w.Passages[i].Name == name {
			return &w.Passages[i]
		}
	}
	return nil
}

// ReadyDays gives the days by which a part's ready-by lies before the date it is for.
func (s *Season) ReadyDays(part *Part) int {
	if part.ReadyDays != nil {
		return *part.ReadyDays
	}
	return s.Habits.ReadyDays
}

// Work gives the parts in the order of the season file. The history may be nil.
func (s *Season) Work(h *History) []PartWork {
	var out []PartWork
	for i := range s.Programmes {
		p := &s.Programmes[i]
		for j := range p.Parts {
			out = append(out, s.partWork(p, &p.Parts[j], h))
		}
	}
	if s.Habits.WholeParts {
		s.giveWay(out, h)
	}
	return out
}

func (s *Season) partWork(p *Programme, part *Part, h *History) PartWork {
	u := due{s: s, today: s.Today(h), dates: p.Dates(part.ID)}
	at := u.part(part)
	w := PartWork{
		Name:      PartName(p.ID, part.ID),
		Programme: p,
		Part:      part,
		Due:       at,
		Window:    Range{max(part.Arrives, s.From), min(at-1, s.To)},
		Ready:     at - Date(s.ReadyDays(part)),
	}
	if h != nil {
		w.Part = h.scaled(part, s)
		w.Read, w.Recorded = h.stageDays(w.Name)
		if w.Over = h.Today > w.Window.To; w.Over && w.Read == 0 && at <= h.Today {
			w.Read, w.Unread = at, true
		}
	}
	w.sit(s, part, h)
	over := [4]int{} // by difficulty: what is left over of what was learnt
	for _, ps := range s.passages(part, h, w.Name) {
		pw := PassageWork{Name: PassageName(w.Name, ps.ID), Passage: ps, Recipe: s.comeBack(&ps, s.Recipe(&ps), s.span(p, part, &ps))}
		if h != nil {
			left, e := over[ps.Hard], Effort{PassageStage, ps.Hard}
			if h.Scaled {
				over[ps.Hard] = h.Learnt.over(e, pw.Recipe, s.Habits.Step, left)
			}
			h.apply(&pw, s, left)
		}
		u.passage(&w, &pw)
		w.Passages = append(w.Passages, pw)
	}
	w.RecOver = h != nil && h.Today > w.RecordingDays(&s.Habits).To
	u.upkeep(&w, h)
	return w
}

// passages gives the named passages and, of what the estimate leaves, unnamed
// ones. What was found later takes the place of unnamed ones, since the estimate
// spoke of it.
func (s *Season) passages(part *Part, h *History, name string) []Passage {
	out := slices.Clone(part.Passages)
	if h != nil {
		out = withFound(part.Passages, h.found(name))
	}
	if part.Estimate == 0 {
		return out
	}
	left := part.estimated()
	for i := range out {
		left -= RecipeMinutes(s.Recipe(&out[i]))
	}
	return append(out, s.unnamed(left, part.Kept, len(out) == 0, h, name)...)
}

// unnamed turns minutes of an estimate into passages of ordinary difficulty: as
// many as come nearest to their recipe, at least one where the estimate stands
// alone, and those that were worked at in any case. Together they last what is
// left in whole steps, shared as evenly as goes.
func (s *Season) unnamed(left Minutes, kept int, alone bool, h *History, part string) []Passage {
	ordinary := Passage{Hard: 2, Unnamed: true, Kept: kept}
	exact := s.Habits.exact(&ordinary)
	each := RecipeMinutes(s.Recipe(&ordinary))
	n := max(0, int((left+each/2)/each))
	if alone {
		n = max(1, n)
	}
	begun := h.begun(part)
	if n = max(n, len(begun)); n == 0 {
		return nil
	}
	equal := make([]int, n) // an n-th each, so in steps of n
	for k := range equal {
		equal[k] = 100 * int(max(0, left))
	}
	lengths := deal(equal, s.Habits.Step*Minutes(n))
	var out []Passage
	for i := 1; len(out) < n; i++ {
		if n-len(out) > len(begun) || slices.Contains(begun, i) {
			u := ordinary
			u.ID, u.Visits = UnnamedID(i), dealOver(exact, lengths[len(out)]/Minutes(n), s.Habits.Step)
			out = append(out, u)
		}
		begun = slices.DeleteFunc(begun, func(b int) bool { return b == i })
	}
	return out
}

// Uneven is an estimate that whole steps cannot hold.
type Uneven struct {
	Part              string // programme/part
	Estimate, Planned Minutes
}

// Uneven gives the parts whose visits last longer or shorter together than their
// estimate says, since visits are whole steps.
func (s *Season) Uneven() (out []Uneven) {
	for _, w := range s.Work(nil) {
		sum := Minutes(0)
		for i := range w.Passages {
			if q := &w.Passages[i].Passage; !q.Upkeep {
				sum += RecipeMinutes(s.Recipe(q))
			}
		}
		if e := w.Part.estimated(); e != 0 && e != sum {
			out = append(out, Uneven{w.Name, e, sum})
		}
	}
	return out
}

// begun gives the numbers of a part's unnamed passages that were worked at.
func (h *History) begun(part string) (out []int) {
	if h == nil {
		return nil
	}
	for _, name := range sortedKeys(h.Visits) {
		if id, ok := strings.CutPrefix(name, PassageName(part, "unnamed-")); ok {
			if n, err := strconv.Atoi(id); err == nil && n > 0 {
				out = append(out, n)
			}
		}
	}
	return out
}

// A work's length gives a first estimate of what is heard and read: it is heard once at
// its duration, and read through in one and a half times that, with what is looked at
// again, but not for more than 90 minutes, since nobody reads an opera in one go;
// recordings are returned to for as long as it lasts, at most as long as habits say. Bars without a duration count 30 a minute, four quarters at 120. All of it is
// common practice, no source, and stands only where a part says nothing itself.

const (
	barsAMinute = 30
	mostRead    = 90 // minutes
)

// Lasting gives a part the lengths that follow from the duration or the bars of its work.
func (p *Part) Lasting(duration Minutes, bars int, h *Habits) {
	if duration == 0 {
		duration = Minutes((bars + barsAMinute - 1) / barsAMinute)
	}
	if duration == 0 {
		return
	}
	p.Duration = duration
	p.Listening = duration
	p.ReadThrough = (min(mostRead, 3*duration/2) + h.Step - 1) / h.Step * h.Step
	p.Recordings = min(duration, h.Recordings)
}
