package model

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// mutation breaks one rule of a plan that keeps them all, if it can.
type mutation struct {
	rule RuleID
	do   func(t *rapid.T, s *Season, p *Plan, v *Session) bool // v is one of p's sessions, no warm-up
}

var mutations = []mutation{
	{AccountedRule, func(_ *rapid.T, _ *Season, p *Plan, v *Session) bool { p.forget(v.ID); return true }},
	{AccountedRule, func(_ *rapid.T, _ *Season, p *Plan, v *Session) bool {
		p.Sessions = append(p.Sessions, *v)
		return true
	}},
	{AccountedRule, func(_ *rapid.T, _ *Season, _ *Plan, v *Session) bool { v.ID += "x"; return true }},
	{AccountedRule, func(_ *rapid.T, _ *Season, p *Plan, _ *Session) bool {
		if len(p.Unplaced) == 0 {
			return false
		}
		p.Unplaced = p.Unplaced[1:]
		return true
	}},
	{AccountedRule, func(t *rapid.T, _ *Season, p *Plan, _ *Session) bool {
		p.Days[rapid.IntRange(0, len(p.Days)-1).Draw(t, "day")].Planned += 5
		return true
	}},
	{MinutesRule, func(t *rapid.T, _ *Season, _ *Plan, v *Session) bool {
		v.Minutes += Minutes(rapid.SampledFrom([]int{-5, 5}).Draw(t, "minutes"))
		return true
	}},
	{MinutesRule, func(_ *rapid.T, _ *Season, _ *Plan, v *Session) bool { v.Playing = !v.Playing; return true }},
	{MinutesRule, func(_ *rapid.T, _ *Season, _ *Plan, v *Session) bool { v.Part = "x"; return true }},
	{WarmUpRule, func(_ *rapid.T, s *Season, p *Plan, v *Session) bool {
		p.forget(WarmUpID(v.Date))
		return v.Stage.Playing() && s.Limits.WarmUp > 0
	}},
	{WindowRule, func(_ *rapid.T, s *Season, _ *Plan, v *Session) bool {
		v.Date = s.partOf(v).Window.From - 1
		return true
	}},
	{WindowRule, func(_ *rapid.T, s *Season, _ *Plan, v *Session) bool {
		w := s.partOf(v)
		v.Date = w.Window.To + 1
		if v.Stage == PassageStage {
			i := slices.IndexFunc(w.Passages, func(p PassageWork) bool { return p.Name == *v.Passage })
			v.Date = w.Passages[i].Deadline
		} else if v.Stage == RecordingsStage {
			v.Date = w.RecordingDays(&s.Habits).To + 1
		}
		return true
	}},
	{GapRule, func(_ *rapid.T, _ *Season, p *Plan, v *Session) bool {
		if v.Stage != PassageStage || *v.Visit == 1 {
			return false
		}
		v.Date = p.session(VisitID(*v.Passage, *v.Visit-1)).Date
		return true
	}},
	{OrderRule, func(_ *rapid.T, _ *Season, p *Plan, v *Session) bool {
		if v.Stage == ReadStage || v.Stage == ListeningStage || v.Stage == PassageStage && *v.Visit > 1 {
			return false
		}
		v.Date = p.session(StageID(v.Part, ReadStage)).Date
		return true
	}},
	{OrderRule, func(_ *rapid.T, s *Season, p *Plan, v *Session) bool {
		if v.Stage != RecordingsStage {
			return false
		}
		last := Date(0)
		for _, w := range s.partOf(v).Passages {
			for i := range p.Sessions {
				if p.Sessions[i].ID == VisitID(w.Name, 1) && w.Passage.Found == 0 {
					last = max(last, p.Sessions[i].Date)
				}
			}
		}
		v.Date = last
		return last != 0
	}},
	{CapRule, func(_ *rapid.T, s *Season, _ *Plan, v *Session) bool {
		s.Limits.Playing.Dates = append(s.Limits.Playing.Dates, Dated[Minutes]{Range{v.Date, v.Date}, s.RoomOn(v.Date).Services + s.Limits.WarmUp + 4})
		return v.Stage.Playing() // which takes 5 min at least
	}},
	{RestRule, func(_ *rapid.T, s *Season, _ *Plan, v *Session) bool {
		s.Limits.RestDates = append(s.Limits.RestDates, Range{v.Date, v.Date})
		return v.Stage.Playing()
	}},
	{OffRule, func(_ *rapid.T, s *Season, _ *Plan, v *Session) bool {
		s.Limits.DaysOff = append(s.Limits.DaysOff, Range{v.Date, v.Date})
		return true
	}},
	{ListeningRule, func(_ *rapid.T, s *Season, _ *Plan, v *Session) bool {
		s.Limits.Listening = 4
		return !v.Stage.Playing()
	}},
	{AllOnceRule, func(_ *rapid.T, s *Season, p *Plan, v *Session) bool {
		if v.Stage != PassageStage || *v.Visit != 3 {
			return false
		}
		for _, w := range s.partOf(v).Passages {
			for i := range p.Sessions {
				if o := &p.Sessions[i]; o.ID == VisitID(w.Name, 1) && w.Passage.Found == 0 {
					v.Date = o.Date
					return true
				}
			}
		}
		return false
	}},
	{NewRule, func(_ *rapid.T, s *Season, _ *Plan, v *Session) bool {
		s.Limits.NewOnConcerts = false
		s.Programmes = append(slices.Clone(s.Programmes), Programme{ID: "more", Services: []Service{{Kind: Concert, Date: v.Date, Start: 1200, Lasts: 1}}})
		return v.Stage == PassageStage && *v.Visit == 1
	}},
	{PassagesRule, func(_ *rapid.T, s *Season, _ *Plan, v *Session) bool {
		s.Limits.Passages = 0
		return v.Stage == PassageStage
	}},
	{PinnedRule, func(_ *rapid.T, s *Season, _ *Plan, v *Session) bool {
		s.Pins = append(s.Pins, Pin{v.ID, v.Date + 1})
		return true
	}},
	{HoursRule, func(_ *rapid.T, s *Season, _ *Plan, v *Session) bool {
		v.Start = nil
		return s.HasHours()
	}},
	{HoursRule, func(t *rapid.T, s *Season, _ *Plan, v *Session) bool {
		if !s.HasHours() {
			return false
		}
		ends := *v.Ends + Clock(rapid.SampledFrom([]int{-1, 1}).Draw(t, "later"))
		v.Ends = &ends
		return true
	}},
}

// partOf gives the part that a session belongs to.
func (s *Season) partOf(v *Session) *PartWork {
	work := s.Work(nil)
	i := slices.IndexFunc(work, func(w PartWork) bool { return w.Name == v.Part })
	return &work[i]
}

// TestAuditCatchesEveryMutation: a plan that keeps every rule, changed in one
// place so that it must break a certain one, is caught by that rule's name.
func TestAuditCatchesEveryMutation(t *testing.T) {
	caught := map[int]int{}
	rapid.Check(t, func(t *rapid.T) {
		s := anySeason(t)
		clean := firstFit(s, nil)
		var work []int
		for i := range clean.Sessions {
			if clean.Sessions[i].Stage != WarmUpStage {
				work = append(work, i)
			}
		}
		if len(work) == 0 {
			return
		}
		first := rapid.IntRange(0, len(work)-1).Draw(t, "session")
		// Each mutation of the first session from there on that it can be made of, on a copy of
		// its own. Few are recordings, so that one session alone might be too seldom the one.
		const most = 12
		for i, m := range mutations {
			for k := range min(len(work), most) {
				p, season := clonePlan(clean), *s
				p.Days = slices.Clone(clean.Days)
				v := &p.Sessions[work[(first+k)%len(work)]]
				id := v.ID
				if !m.do(t, &season, &p, v) {
					continue
				}
				caught[i]++
				breaches := season.Audit(&p, nil)
				if !slices.ContainsFunc(breaches, func(b Breach) bool { return b.Rule == m.rule }) {
					t.Fatalf("mutation %d of %s: %s is not among %v", i, id, m.rule, breaches)
				}
				break
			}
		}
	})
	mutated := map[RuleID]bool{PastRule: true} // nothing has happened here; see TestEachRuleAlone
	for i, m := range mutations {
		if mutated[m.rule] = true; caught[i] == 0 {
			t.Errorf("mutation %d (%s) was never made", i, m.rule)
		}
	}
	for _, r := range Rules() {
		if !mutated[r.ID] {
			t.Errorf("no mutation breaks %s", r.ID)
		}
	}
}
