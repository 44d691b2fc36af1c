package model

import (
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// firstFit plans a season without cleverness: stage by stage and visit by
// visit, each on the first day that takes it. The tests need plans that keep
// every rule; how good they are is the solver's business.
func firstFit(s *Season, h *History) *Plan {
	f := &fitter{s: s, today: s.From, at: map[string]Date{}, load: map[Date]*auditDay{}}
	if h != nil {
		f.today = max(f.today, h.Today)
	}
	work := s.Work(h)
	for i := range work {
		f.part(&work[i])
	}
	p := &Plan{Format: PlanFormat}
	wanted := s.Wanted(h)
	for i := range wanted {
		if d, ok := f.at[wanted[i].ID]; ok {
			p.Sessions = append(p.Sessions, wanted[i].On(d))
		} else {
			p.Unplaced = append(p.Unplaced, wanted[i].LeftOut())
		}
	}
	s.Finish(p)
	return p
}

type fitter struct {
	s     *Season
	today Date
	at    map[string]Date
	load  map[Date]*auditDay
}

// put places a session on the first day of a range that has room for it.
func (f *fitter) put(id string, stage Stage, minutes Minutes, from, to Date) (Date, bool) {
	for _, pin := range f.s.Pins {
		if pin.Session == id {
			if pin.Date < from || pin.Date > to {
				return 0, false
			}
			from, to = pin.Date, pin.Date
		}
	}
	for d := max(from, f.today); d <= to; d++ {
		if f.load[d] == nil {
			f.load[d] = &auditDay{Room: f.s.RoomOn(d)}
		}
		day := f.load[d]
		next := *day
		next.add(&Session{Stage: stage, Minutes: minutes})
		if next.playing > day.Room.Playing || next.listened > day.Room.Listening || next.passages > day.Room.Passages ||
			next.playing+next.listened+day.Room.WarmUp > day.Held || !day.New && stage == PassageStage && strings.HasSuffix(id, "/visit-1") {
			continue
		}
		*day = next
		f.at[id] = d
		return d, true
	}
	return 0, false
}

func (f *fitter) part(w *PartWork) {
	listened, ok := w.Listened, true
	if w.Part.Listening > 0 && listened == 0 {
		listened, ok = f.put(StageID(w.Name, ListeningStage), ListeningStage, w.Part.Listening, w.Window.From, w.Window.To)
	}
	read := w.Read
	if read == 0 {
		if !ok {
			return
		}
		if read, ok = f.put(StageID(w.Name, ReadStage), ReadStage, w.Part.ReadThrough, max(w.Window.From, listened), w.Window.To); !ok {
			return
		}
	}
	var round Date // the latest first visit
	most := 0
	for i := range w.Passages {
		most = max(most, len(w.Passages[i].Recipe))
	}
	for k := range most {
		for i := range w.Passages {
			p := &w.Passages[i]
			if k < len(p.Done) || k >= len(p.Recipe) {
				continue
			}
			days := w.VisitDays(p)
			if k == 0 {
				days.From = max(days.From, read+1)
			} else if before, ok := f.at[VisitID(p.Name, k)]; ok {
				days.From = max(days.From, before+Date(p.Recipe[k].Least))
			} else if k == len(p.Done) {
				days.From = max(days.From, p.Done[k-1]+Date(p.Recipe[k].Least))
			} else {
				continue
			}
			if k >= 2 && p.Passage.Found == 0 {
				days.From = max(days.From, round+1)
			}
			d, ok := f.put(VisitID(p.Name, k+1), PassageStage, p.Recipe[k].Minutes, days.From, days.To)
			if ok && k == 0 && p.Passage.Found == 0 {
				round = max(round, d)
			}
		}
	}
	if w.Part.Recordings > 0 && w.Recorded == 0 {
		days := w.RecordingDays(&f.s.Habits)
		f.put(StageID(w.Name, RecordingsStage), RecordingsStage, w.Part.Recordings, max(days.From, read+1, round+1), days.To)
	}
}

// anySeason draws a valid season of two to five weeks.
func anySeason(t *rapid.T) *Season {
	n := func(label string, lo, hi int) int { return rapid.IntRange(lo, hi).Draw(t, label) }
	from := NewDate(2027, time.January, 4) + Date(n("from", 0, 13))
	s := &Season{Title: "Drawn", TimeZone: "Europe/Oslo", From: from, To: from + Date(n("days", 13, 34)), Instrument: "oboe",
		Limits: DefaultLimits(), Habits: DefaultHabits()}
	s.Limits.Playing.Every = Minutes(n("cap", 40, 200))
	s.Limits.RestDays = []time.Weekday{time.Weekday(n("rest", 0, 6))}
	s.Limits.WarmUp = Minutes(5 * n("warm", 0, 3))
	s.Limits.Passages = n("passages a day", 1, 12)
	if rapid.Bool().Draw(t, "off") {
		at := s.From + Date(n("off from", 0, 12))
		s.Limits.DaysOff = []Range{{at, at + 1}}
	}
	if rapid.Bool().Draw(t, "hours") {
		s.Hours.Every = anySpans(t)
		s.Limits.ServiceGap = Minutes(n("gap", 0, 90))
		s.Limits.Latest.Every = Clock(rapid.SampledFrom([]int{0, 800, 1100}).Draw(t, "latest"))
		s.Limits.Quiet.Every = []Span{{780, 780 + Clock(n("quiet", 1, 90))}, {Clock(n("evening", 870, 1440)), 1440}}
		for d := s.From; d <= s.To; d += Date(n("until busy", 1, 9)) {
			at := Clock(n("busy from", 300, 1200))
			s.Busy = append(s.Busy, Busy{Date: d, Span: Span{at, at + Clock(n("busy", 1, 200))}})
		}
	}
	if rapid.Bool().Draw(t, "tour") {
		s.Limits.Tours = []Range{{s.From + 4, s.From + Date(n("tour to", 4, 7))}}
	}
	s.Limits.TwoServices, s.Limits.NewOnConcerts = Minutes(n("two services", 0, 60)), rapid.Bool().Draw(t, "new on concerts")
	s.Limits.Return = Return{After: n("return after", 0, 3), First: n("return first", 0, 100), Rise: Minutes(n("return rise", 0, 20))}
	for i := range n("programmes", 1, 2) {
		p := Programme{ID: []string{"tide", "moss"}[i]}
		first := s.From + Date(n("first", 6, s.Days()-1))
		p.Services = []Service{
			{Kind: Rehearsal, Date: first, Start: 600, Lasts: Minutes(n("lasts", 60, 180)), Playing: 65},
			{Kind: Concert, Date: min(s.To, first+3), Start: 1170, Lasts: 110, Playing: 70},
		}
		for j := range n("parts", 1, 2) {
			part := Part{ID: []string{"slate", "ferry"}[j], Work: "W", Arrives: s.From + Date(n("arrives", 0, int(first-s.From)-1)),
				Listening: Minutes(5 * n("listening", 0, 10)), ReadThrough: Minutes(5 * n("read", 1, 8)), Recordings: Minutes(5 * n("recordings", 0, 4))}
			for k := range n("passages", 0, 3) {
				ps := Passage{ID: string(rune('A' + k)), Hard: n("hard", 1, 3), Exposed: rapid.Bool().Draw(t, "exposed"), Minutes: Minutes(n("minutes", 0, 20))}
				if rapid.Bool().Draw(t, "due") {
					ps.Due = part.Arrives + Date(n("due", 1, int(s.To-part.Arrives)))
				}
				part.Passages = append(part.Passages, ps)
			}
			if len(part.Passages) == 0 || rapid.Bool().Draw(t, "more") {
				part.Estimate = Minutes(n("estimate", 20, 150))
			}
			p.Parts = append(p.Parts, part)
		}
		s.Programmes = append(s.Programmes, p)
	}
	return s
}

// anySpans draws free hours of a day, in order.
func anySpans(t *rapid.T) []Span {
	var out []Span
	at := Clock(rapid.IntRange(360, 720).Draw(t, "begin"))
	for range rapid.IntRange(1, 4).Draw(t, "spans") {
		to := at + Clock(rapid.IntRange(3, 200).Draw(t, "length"))
		if to > 1440 {
			break
		}
		out = append(out, Span{at, to})
		at = to + Clock(rapid.IntRange(1, 90).Draw(t, "between"))
	}
	return out
}

func TestFirstFitKeepsEveryRule(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySeason(t)
		p := firstFit(s, nil)
		for _, b := range s.Audit(p, nil) {
			t.Errorf("%v (%s)", b, b.Name)
		}
		sessions := slices.Clone(p.Sessions)
		if over := s.Finish(p); len(over) > 0 || !slices.EqualFunc(sessions, p.Sessions, func(a, b Session) bool { return a.sameEntry(&b) }) {
			t.Errorf("finishing twice changed the plan (over: %v)", over)
		}
	})
}
