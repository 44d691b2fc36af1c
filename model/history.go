package model

import (
	"cmp"
	"slices"
)

// History is what the record says happened, by the names of the parts and
// passages it happened to. Replay makes one of a record.
type History struct {
	Today   Date                 // first day that may be planned; days before it are past
	Kept    Date                 // the day before Today where that has begun and stays as it stands: nothing is added to it, and it is judged like a day ahead; else 0
	Stages  map[string]Date      // stage id -> the day it was done
	Met     map[string]Date      // part name -> the day by which it was read, as a passage found in it tells, where no read-through is recorded
	Refused map[string]bool      // names of sessions that the record calls not done on Today: they come back on a later day
	Visits  map[string][]Date    // passage name -> days of visits done, in order
	Found   map[string][]Passage // part name -> passages found since the season file was written
	Dropped map[string]bool      // passage name -> no longer needed
	Again   map[string]int       // passage name -> visit of its recipe (from 1) that comes next, after a check that did not hold
	Anew    map[string]int       // passage name -> visits done since the last one that did not hold
	Failed  map[string]int       // passage name -> visits of it that did not hold
	Checks  []Check              // recorded last visits, by their days
	Tempos  map[string]Tempo     // visit id -> the tempo that was reached; 0: it did not hold, and no tempo was said
	Played  map[Date]Minutes     // planned playing minutes that past days really took, warm-up apart
	Days    map[Date]DayNote     // days that turned out otherwise than the limits say; see With
	Notes   map[Date]string      // what the player noted of such a day
	Missed  map[Date]bool        // days whose services were not played
	Stood   map[Date]Minutes     // planned playing that stood on days after one of pain when that was recorded
	Learnt  Learnt               // what work takes against its estimate
	Scaled  bool                 // whether work that lies ahead is planned with what was learnt
	Taken   []SessionDay         // sessions before Today that count as done though the record does not say so
	Said    map[Date]bool        // days of which the record says something: a session, or that they were lost or hurt

	worked map[string]worked // part name -> what all its visits took
}

// Today gives the first day that may be planned. The history may be nil.
func (s *Season) Today(h *History) Date {
	if h == nil {
		return s.From
	}
	return max(s.From, h.Today)
}

// Check is a last visit that the record has a line about: whether it held, and
// what the passage had behind it. What is silently taken as done is none.
type Check struct {
	Passage string
	Date    Date
	Hard    int // difficulty, 1..3
	Visits  int // before it, 1 or more
	Failed  int // of these, those that did not hold
	Gap     int // days since the last of them, 1 or more
	Held    bool
}

// DayNote is what the record says of a whole day.
type DayNote int

// The notes.
const (
	NoNote  DayNote = iota
	Light           // the day after one of pain: its cap is lowered
	Stopped         // a day of pain: nothing is planned on it any more; services stand
	Lost            // nothing was or will be done: illness, travel
)

// With gives the season as the record has it: lost days and days of pain are days
// off, services that were missed are not played, the days after them are light or
// on the way back (see spell.go), and parts have the passages found in them. Whoever plans, audits, measures or
// shows with a history uses this season. The season itself is left alone.
func (s *Season) With(h *History) *Season {
	if h == nil || len(h.Days) == 0 && len(h.Found) == 0 && len(s.Limits.DaysOff) == 0 {
		return s
	}
	out := *s
	out.Programmes = slices.Clone(s.Programmes)
	for i := range out.Programmes {
		p := &out.Programmes[i]
		p.Parts = slices.Clone(p.Parts)
		for j := range p.Parts {
			p.Parts[j].Passages = withFound(p.Parts[j].Passages, h.found(PartName(p.ID, p.Parts[j].ID)))
		}
	}
	l := &out.Limits
	l.DaysOff, l.Away = slices.Clone(l.DaysOff), slices.Clone(l.Away)
	for _, d := range sortedKeys(h.Days) {
		switch h.Days[d] {
		case Lost:
			l.DaysOff = append(l.DaysOff, Range{d, d})
		case Stopped:
			l.Stopped = append(l.Stopped, Range{d, d})
		}
	}
	for _, d := range sortedKeys(h.Missed) {
		l.Away = append(l.Away, Range{d, d})
		for i := range out.Programmes {
			out.Programmes[i].miss(d)
		}
	}
	out.easeIn(h)
	return &out
}

// miss has no service of a date played. The services are the programme's own.
func (p *Programme) miss(d Date) {
	p.Services = slices.Clone(p.Services)
	for i := range p.Services {
		p.Services[i].Missed = p.Services[i].Missed || p.Services[i].Date == d
	}
}

// withFound adds the passages found to those known, whose names count first.
func withFound(known, found []Passage) []Passage {
	out := slices.Clone(known)
	for _, q := range found {
		if !slices.ContainsFunc(known, func(k Passage) bool { return k.ID == q.ID }) {
			out = append(out, q)
		}
	}
	return out
}

func (h *History) stageDays(part string) (read, recorded Date) {
	return cmp.Or(h.Stages[StageID(part, ReadStage)], h.Met[part]), h.Stages[StageID(part, RecordingsStage)]
}

func (h *History) found(part string) []Passage { return h.Found[part] }

// apply takes off a passage what was done; over is what the passages before it left over
// of what was learnt.
func (h *History) apply(w *PassageWork, s *Season, over int) {
	w.Done = h.Visits[w.Name]
	if h.Dropped[w.Name] {
		w.Recipe = w.Recipe[:min(len(w.Done), len(w.Recipe))]
		return
	}
	if again := h.Again[w.Name]; again > 0 && again <= len(w.Recipe) {
		// The visits from `again` on are wanted once more, after those done, and
		// their gaps begin anew: what did not stick is taken up the next day and
		// checked two days later, not a week. Common practice, no source; that
		// a night must lie between has one, Simmons (2012).
		tail := append([]Visit(nil), w.Recipe[again-1:]...)
		for k := range tail {
			tail[k].Least, tail[k].Preferred = s.Habits.Gap(&w.Passage, h.Anew[w.Name]+k)
		}
		full := append([]Visit(nil), w.Recipe[:min(len(w.Done), len(w.Recipe))]...)
		for len(full) < len(w.Done) {
			more := w.Recipe[len(w.Recipe)-1]
			more.Least, _ = s.Habits.Gap(&w.Passage, len(full)-1)
			full = append(full, more)
		}
		w.Recipe = append(full, tail...)
	}
	if h.Scaled {
		h.Learnt.stretch(Effort{PassageStage, w.Passage.Hard}, w.Recipe, min(len(w.Done), len(w.Recipe)), s.Habits.Step, over)
	}
}

// scaled gives a part whose read-through and recordings last what was learnt of
// them; its listening see PartWork.sit.
func (h *History) scaled(p *Part, s *Season) *Part {
	if !h.Scaled {
		return p
	}
	out := *p
	out.ReadThrough, out.Recordings = h.stage(ReadStage, p.ReadThrough, s), h.stage(RecordingsStage, p.Recordings, s)
	return &out
}

// stage gives how long a session of a stage is by what was learnt; what is heard,
// never more than a day takes.
func (h *History) stage(stage Stage, m Minutes, s *Season) Minutes {
	long := m
	if h.Scaled {
		long = h.Learnt.scale(Effort{Stage: stage}, m)
	}
	if long == m {
		return m // what the season gives outright need not be whole steps
	}
	long = long.ToStep(s.Habits.Step)
	if !stage.Playing() {
		long = min(long, s.Limits.Listening)
	}
	return long
}

// RestWord says in a word what keeps a day free of planned playing: "lost" or
// "day of pain" where the record says so, "day off", "on tour" or "rest day";
// empty where nothing does. Whoever shows a day takes the word from here. The
// history may be nil.
func (s *Season) RestWord(d Date, h *History) string {
	switch {
	case h != nil && h.Days[d] == Lost:
		return "lost"
	case h != nil && h.Days[d] == Stopped:
		return "day of pain"
	case s.Limits.OffOn(d):
		return "day off"
	case inAny(s.Limits.Tours, d):
		return "on tour"
	case s.Limits.RestOn(d):
		return "rest day"
	}
	return ""
}

// Noted gives what the player noted of a day that the record takes; empty where
// it takes none, or nothing was noted. The history may be nil.
func (h *History) Noted(d Date) string {
	if h == nil || h.Days[d] == NoNote {
		return ""
	}
	return h.Notes[d]
}
