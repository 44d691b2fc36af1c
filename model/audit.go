package model

import (
	"fmt"
	"slices"
)

// Breach is one rule broken at one place.
type Breach struct {
	Rule    RuleID
	Date    Date    // zero where it is no day's matter
	Minutes Minutes // minutes over or short; 0 where the rule counts none
	Name    string  // the session, passage or part; empty where the whole day is meant
	Text    string  // what is wrong, without the date
}

// String writes "2027-02-03: cap: 15 min over …".
func (b Breach) String() string {
	if b.Date == 0 {
		return fmt.Sprintf("%s: %s", b.Rule, b.Text)
	}
	return fmt.Sprintf("%s: %s: %s", b.Date, b.Rule, b.Text)
}

// Audit judges a plan by every rule, without solving anything, and gives each
// breach: rule by rule, in the order of days or of the season file.
//
// Sessions before History.Today are not judged, nor is one that stands on the
// very day on which the record says it was done: it has happened, and only
// counts in its day's sums. A day that is kept (History.Kept) is judged by the
// rules of a day. The history may be nil; then all are judged.
func (s *Season) Audit(p *Plan, h *History) []Breach {
	a := newAudit(s, p, h)
	for _, rule := range Rules() {
		a.rule = rule.ID
		rule.check(a)
	}
	return a.out
}

// audit is a plan taken apart for the rules and the wishes.
type audit struct {
	s     *Season
	p     *Plan
	today Date
	kept  Date // History.Kept
	work  []PartWork

	refused map[string]bool // History.Refused

	wanted []Wanted
	byID   map[string]*Wanted
	done   map[string]Date // session id -> the day it was done

	sessions []*Session          // from today on, what has happened apart
	placed   map[string]*Session // the wanted ones of them by id, the first where there are several
	days     []auditDay          // the days that hold anything, in order

	rule RuleID
	out  []Breach
}

// auditDay is a day with what is planned on it.
type auditDay struct {
	Room
	sessions []*Session
	loads
	warmUp   Minutes
	done     loads // of all this, what has happened already
	happened []*Session
}

// loads are what a day's rules for minutes look at. What has happened is no
// breach: on the day of a pain the cap falls below what was played before it.
type loads struct {
	playing  Minutes // warm-up apart
	listened Minutes // listening and recordings
	passages int
}

func newAudit(s *Season, p *Plan, h *History) *audit {
	a := &audit{s: s, p: p, work: s.Work(h), done: map[string]Date{}, byID: map[string]*Wanted{}, placed: map[string]*Session{}}
	stands := map[SessionDay]bool{} // of the day that is kept, or may be, what is not recorded
	if h != nil {
		a.today, a.kept, a.refused = h.Today, h.Kept, h.Refused
		for _, t := range h.Taken {
			stands[t] = t.Date == h.Kept || t.Date == h.Today
		}
	}
	a.wanted = s.wanted(a.work)
	for i := range a.wanted {
		a.byID[a.wanted[i].ID] = &a.wanted[i]
	}
	a.note(h)
	byDate := map[Date]*auditDay{}
	for i := range p.Sessions {
		v := &p.Sessions[i]
		if h != nil && v.Date < a.today && v.Date != a.kept {
			continue
		}
		day := byDate[v.Date]
		if day == nil {
			day = &auditDay{Room: s.RoomOn(v.Date)}
			byDate[v.Date] = day
		}
		day.add(v)
		if done, ok := a.done[v.ID]; v.Date == a.kept || ok && done == v.Date {
			if !stands[v.Key()] {
				day.done.add(v)
				day.happened = append(day.happened, v)
			}
			continue
		}
		a.sessions = append(a.sessions, v)
		if a.byID[v.ID] != nil && a.placed[v.ID] == nil {
			a.placed[v.ID] = v
		}
	}
	for _, day := range byDate {
		a.days = append(a.days, *day)
	}
	slices.SortFunc(a.days, func(x, y auditDay) int { return int(x.Date) - int(y.Date) })
	return a
}

// note enters what the record says was done, of passages too that nothing asks
// for any more.
func (a *audit) note(h *History) {
	for i := range a.work {
		w := &a.work[i]
		for _, x := range w.Sittings {
			if x.Done != 0 {
				a.done[x.ID] = x.Done
			}
		}
		for stage, day := range map[Stage]Date{ReadStage: w.Read, RecordingsStage: w.Recorded} {
			if day != 0 {
				a.done[StageID(w.Name, stage)] = day
			}
		}
	}
	if h == nil {
		return
	}
	for name, days := range h.Visits {
		for k, day := range days {
			a.done[VisitID(name, k+1)] = day
		}
	}
}

func (d *auditDay) add(v *Session) {
	d.sessions = append(d.sessions, v)
	d.loads.add(v)
	if v.Stage == WarmUpStage {
		d.warmUp += v.Minutes
	}
}

func (l *loads) add(v *Session) {
	switch v.Stage {
	case WarmUpStage:
	case ListeningStage, RecordingsStage:
		l.listened += v.Minutes
	case PassageStage:
		l.passages++
		l.playing += v.Minutes
	default:
		l.playing += v.Minutes
	}
}

// stageDay gives the day on which a part's stage is planned or was done.
func (a *audit) stageDay(w *PartWork, stage Stage) (Date, bool) {
	id := StageID(w.Name, stage)
	if v := a.placed[id]; v != nil {
		return v.Date, true
	}
	d, ok := a.done[id]
	return d, ok
}

// visitDay gives the day on which visit k, counted from 0, is planned or was
// done.
func (a *audit) visitDay(w *PassageWork, k int) (Date, bool) {
	if k < 0 {
		return 0, false
	}
	if k < len(w.Done) {
		return w.Done[k], true
	}
	if v := a.placed[VisitID(w.Name, k+1)]; v != nil {
		return v.Date, true
	}
	return 0, false
}

func (a *audit) breach(d Date, over Minutes, name, format string, args ...any) {
	a.out = append(a.out, Breach{Rule: a.rule, Date: d, Minutes: over, Name: name, Text: fmt.Sprintf(format, args...)})
}
