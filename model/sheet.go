package model

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Sheet is one day as the player meets it: what is done in which order, with
// the rests between, and what to mind.
type Sheet struct {
	Date  Date
	Lines []SheetLine
	Mind  []string // sentences; the usual cautions are among them on days of playing
}

// SheetLine is a session or a rest of a day sheet.
type SheetLine struct {
	Session *Session // nil: a rest
	Rest    Minutes  // of a rest its length
	From    *Clock   // of a rest, where the day has hours
	Work    string   // the work's title; empty for warm-ups and rests
	Bars    string   // the passage in words, like "bars 45-61"; empty but for visits
	Hard    int      // 1..3 for visits of named passages, else 0
	Exposed bool
	Check   bool   // the last of several visits
	Do      string // what to do, in a few words
	For     For    // the date it is for, where that is not the part's first; else zero
	Tempo   *Rung  // nil where the season file gives the passage no tempo
}

// Sheet gives the sheet of a day.
func (x *View) Sheet(d Date) Sheet {
	out := Sheet{Date: d, Lines: []SheetLine{}}
	played := Minutes(0) // since the last rest, where the day has no hours
	for i, v := range x.Days[d] {
		if i > 0 {
			out.Lines = append(out.Lines, x.rest(x.Days[d][i-1], v, &played)...)
		}
		if v.Playing {
			played += v.Minutes
		} else {
			played = 0
		}
		out.Lines = append(out.Lines, x.line(v))
	}
	out.Mind = x.mind(&out)
	return out
}

// longRest is a gap from which on nobody needs to be told to rest.
const longRest = 30 // minutes

// rest gives the rest between two sessions: where the day has hours the time
// between them, unless it is long or holds a service, else one whenever the
// playing would go over a block.
func (x *View) rest(before, v *Session, played *Minutes) []SheetLine {
	l := &x.Season.Limits
	const do = "stand up, move, let the muscles go"
	if before.Ends != nil && v.Start != nil {
		gap := Minutes(*v.Start - *before.Ends)
		if gap <= 0 || gap > longRest || slices.ContainsFunc(x.Season.ServicesOn(v.Date), func(s Service) bool {
			return s.Start >= *before.Ends && s.Start < *v.Start
		}) {
			return nil
		}
		from := *before.Ends
		return []SheetLine{{Rest: gap, From: &from, Do: do}}
	}
	if !v.Playing || *played == 0 || *played+v.Minutes <= l.Block || l.BlockRest == 0 {
		return nil
	}
	*played = 0
	return []SheetLine{{Rest: l.BlockRest, Do: do}}
}

func (x *View) line(v *Session) (out SheetLine) {
	out = SheetLine{Session: v, Do: stageWork[v.Stage]}
	if w := x.Parts[v.Part]; w != nil {
		out.Work = w.Part.Work
		out.For = x.later(w, v)
	} else {
		out.Work = v.Part
	}
	if pieces := v.Pieces(); len(pieces) > 1 {
		defer func() { out.Do += inPieces(pieces) }()
	}
	if v.Passage == nil {
		return out
	}
	out.Bars = (*v.Passage)[strings.LastIndexByte(*v.Passage, '/')+1:]
	w := x.Passages[*v.Passage]
	if w != nil {
		out.Bars = w.Passage.Where()
		if !w.Passage.Unnamed {
			out.Hard, out.Exposed = w.Passage.Hard, w.Passage.Exposed
		}
	}
	if v.Visit == nil || v.Visits == nil {
		return out
	}
	if w != nil {
		if ladder := x.Season.Ladder(w, x.History); *v.Visit <= len(ladder) {
			out.Tempo = &ladder[*v.Visit-1]
		}
	}
	out.Check = *v.Visit == *v.Visits && *v.Visits > 1
	out.Do = visitWork(*v.Visit, *v.Visits, out.Tempo)
	if w != nil && w.Passage.Upkeep {
		out.Do = "once at tempo as in concert; then what failed"
	}
	return out
}

// inPieces says when to rest inside a session.
func inPieces(pieces []Span) string {
	out := "; in pieces of "
	for i, p := range pieces {
		if i > 0 {
			out += " + "
		}
		out += fmt.Sprint(int(p.Length()))
	}
	return out + " min"
}

// Where names the passage for the player.
func (p *Passage) Where() string {
	switch {
	case p.Upkeep:
		return "bars " + p.Bars + " (upkeep)"
	case p.Unnamed:
		return "passage " + strings.TrimPrefix(p.ID, "unnamed-") + " of the estimate"
	case p.Bars != "":
		return "bars " + p.Bars
	}
	return p.ID
}

// stageWork says what is done in the stages that have no visits. Common
// practice among orchestral players, no source; so is visitWork.
var stageWork = map[Stage]string{
	ListeningStage:  "instrument in its case; mark tempos and exposed places",
	RecordingsStage: "once more through, the part in hand",
	WarmUpStage:     "short, easy, under tempo",
	ReadStage:       "at tempo, no stops; mark what fails",
}

// visitWork says what is done in visit k of n: from slow and small to whole and
// in its place, and the check before any work.
func visitWork(k, n int, tempo *Rung) string {
	switch {
	case n == 1 && tempo != nil && tempo.Short() > 0:
		return fmt.Sprintf("slowly until it is sure, then once at %d", tempo.To)
	case n == 1:
		return "slowly until it is sure, then once at tempo"
	case k == n && tempo != nil && tempo.Short() > 0:
		return fmt.Sprintf("once at %d and no faster; then what failed", tempo.To)
	case k == n:
		return "once at tempo as in concert; then what failed"
	case k == 1:
		return "slowly; settle fingerings, bowings, breaths"
	case k == n-1:
		return "in context: from before it to past its end"
	case k == 2 && n > 4:
		return "in chunks of a bar or two, then joined"
	}
	return "whole, under tempo; a step up when clean twice"
}

// String writes "60-66 of 96", "88-96, once 100" or "96".
func (r Rung) String() string {
	out := fmt.Sprint(int(r.To))
	if r.From != r.To {
		out = fmt.Sprintf("%d-%d", r.From, r.To)
	}
	if r.To < r.Goal {
		out += fmt.Sprintf(" of %d", r.Goal)
	}
	if r.Over != 0 {
		out += fmt.Sprintf(", once %d", r.Over)
	}
	return out
}

// later gives the date that a session is for, where that is not the part's first.
func (x *View) later(w *PartWork, v *Session) For {
	f := w.Target()
	if v.Passage != nil && x.Passages[*v.Passage] != nil {
		f = w.NextDate(x.Passages[*v.Passage].Deadline)
	} else if v.Stage == RecordingsStage {
		f = w.NextDate(w.RecordingDays(&x.Season.Habits).To + 1)
	}
	if f.First {
		return For{}
	}
	return f
}

// Doing says what to do in a line, and for which date where that is not the first.
func (l Locale) Doing(x *SheetLine) string {
	if x.For.Date == 0 {
		return x.Do
	}
	return strings.TrimPrefix(x.Do+"; for "+l.For(x.For), "; ")
}

// Sessions gives the lines that are sessions, in their order.
func (x *Sheet) Sessions() []SheetLine {
	return slices.DeleteFunc(slices.Clone(x.Lines), func(l SheetLine) bool { return l.Session == nil })
}

// name says which passage of which work a line is about.
func (l *SheetLine) name() string {
	return cmp.Or(l.Work, l.Session.Part) + ", " + l.Bars
}
