package conflict

import (
	"context"
	"slices"
	"testing"
	"time"

	"primaprova/model"
	"primaprova/solver/instance"
	"primaprova/solver/run"
	"primaprova/solver/tiny"
)

// fiveDays is a season of one part with just enough room: its read-through and
// three visits in the five days before its first rehearsal.
func fiveDays() *model.Season {
	from := model.NewDate(2027, time.March, 1)
	s := &model.Season{Title: "Five days", TimeZone: "Europe/Oslo", From: from, To: from + 6, Limits: model.DefaultLimits(), Habits: model.DefaultHabits()}
	s.Limits.Playing.Every, s.Limits.WarmUp = 30, 0
	s.Limits.BeforeConcert, s.Limits.NewOnConcerts = 100, true
	s.Habits.LeastGaps = []int{1}
	s.Programmes = []model.Programme{
		{ID: "a", Services: []model.Service{{Kind: model.Rehearsal, Date: from + 5, Start: 1100, Lasts: 60}},
			Parts: []model.Part{{ID: "w", Arrives: from, ReadThrough: 10,
				Passages: []model.Passage{{ID: "1-9", Hard: 2, Visits: []model.Minutes{20, 20, 20}}}}}},
		{ID: "b", Services: []model.Service{{Kind: model.Rehearsal, Date: from + 6, Start: 1100, Lasts: 60}}},
	}
	return s
}

// bestPlan is the best plan of a season small enough to be solved outright.
func bestPlan(t *testing.T, s *model.Season, h *model.History) *model.Plan {
	p := instance.New(s, h, nil)
	st := solvedOutright(t, p)
	return st.Assemble(h, nil)
}

// TestRulesOfDaysAreNamed: where a rule for days around services, after time off
// or after pain, or what takes of the hours, is what keeps work from fitting, it
// stands in the reason, and a season without that rule places everything.
func TestRulesOfDaysAreNamed(t *testing.T) {
	from := fiveDays().From
	days := func(from, to int) model.Range {
		d := fiveDays().From
		return model.Range{From: d + model.Date(from), To: d + model.Date(to)}
	}
	also := func(s *model.Season, kind model.ServiceKind, start model.Clock, on ...int) {
		for _, d := range on {
			s.Programmes[1].Services = append(s.Programmes[1].Services, model.Service{Kind: kind, Date: from + model.Date(d), Start: start, Lasts: 60})
		}
	}
	hour := func(s *model.Season) { s.Hours.Every = []model.Span{{From: 600, To: 660}} }
	for _, c := range []struct {
		kind FactKind
		path string
		set  func(s *model.Season, h *model.History)
		drop func(s *model.Season, h *model.History)
	}{
		{BeforeFact, "limits.before_concert",
			func(s *model.Season, h *model.History) {
				also(s, model.Concert, 1100, 2, 4)
				s.Limits.BeforeConcert = 50
			}, func(s *model.Season, h *model.History) { s.Limits.BeforeConcert = 100 }},
		{TwoFact, "limits.two_services",
			func(s *model.Season, h *model.History) {
				also(s, model.Rehearsal, 700, 1, 2)
				also(s, model.Rehearsal, 1000, 1, 2)
			}, func(s *model.Season, h *model.History) { s.Limits.TwoServices = 30 }},
		{NewFact, "limits.new_on_concerts",
			func(s *model.Season, h *model.History) {
				also(s, model.Concert, 1100, 1, 2)
				s.Limits.NewOnConcerts = false
			}, func(s *model.Season, h *model.History) { s.Limits.NewOnConcerts = true }},
		{ReturnFact, "limits.return",
			func(s *model.Season, h *model.History) {
				s.Limits.DaysOff = []model.Range{days(0, 0)}
				s.Limits.Return = model.Return{After: 1, First: 50}
			}, func(s *model.Season, h *model.History) { s.Limits.Return.After = 0 }},
		{ToursFact, "limits.tours[0]",
			func(s *model.Season, h *model.History) { s.Limits.Tours = []model.Range{days(1, 2)} },
			func(s *model.Season, h *model.History) { s.Limits.Tours = nil }},
		{LightFact, "",
			func(s *model.Season, h *model.History) {
				s.Limits.Light = 25
				h.Days = map[model.Date]model.DayNote{from: model.Stopped}
			}, func(s *model.Season, h *model.History) { h.Days = nil }},
		{QuietFact, "limits.quiet",
			func(s *model.Season, h *model.History) {
				hour(s)
				s.Limits.Quiet.Dates = []model.Dated[[]model.Span]{{Range: days(1, 2), Value: []model.Span{{From: 600, To: 660}}}}
			}, func(s *model.Season, h *model.History) { s.Limits.Quiet.Dates = nil }},
		{LatestFact, "limits.latest",
			func(s *model.Season, h *model.History) {
				hour(s)
				s.Limits.Latest.Dates = []model.Dated[model.Clock]{{Range: days(1, 2), Value: 610}}
			}, func(s *model.Season, h *model.History) { s.Limits.Latest.Dates = nil }},
		{ApartFact, "limits.service_gap",
			func(s *model.Season, h *model.History) {
				hour(s)
				also(s, model.Rehearsal, 700, 1, 2)
				s.Limits.ServiceGap = 95
			}, func(s *model.Season, h *model.History) { s.Limits.ServiceGap = 30 }},
		{BusyFact, "busy",
			func(s *model.Season, h *model.History) {
				hour(s)
				for _, d := range []model.Date{1, 2} {
					s.Busy = append(s.Busy, model.Busy{Date: from + d, Span: model.Span{From: 540, To: 660}})
				}
			}, func(s *model.Season, h *model.History) { s.Busy = nil }},
	} {
		s, h := fiveDays(), &model.History{Today: from}
		c.set(s, h)
		with := s.With(h)
		plan := bestPlan(t, with, h)
		if len(plan.Unplaced) == 0 {
			t.Errorf("%s: everything is placed", c.kind)
			continue
		}
		_, ids := tiny.LeftOf(plan)
		q, err := Inquire(with, run.Options{Engine: tiny.HiGHS(t), History: h, Standing: plan})
		if err != nil {
			t.Fatal(err)
		}
		r, err := q.Why(context.Background(), ids["a/w"])
		if err != nil {
			t.Fatal(err)
		}
		at := slices.IndexFunc(r.Facts, func(f Fact) bool { return f.Kind == c.kind })
		if r.Outcome != Forced || r.Untried > 0 || at < 0 {
			t.Errorf("%s: %s, %d untried, %v", c.kind, r.Outcome, r.Untried, r.Facts)
			continue
		}
		if paths := r.Facts[at].Paths; c.path != "" && !slices.Equal(paths, []string{c.path}) {
			t.Errorf("%s stands in %v", c.kind, paths)
		}
		c.drop(s, h)
		if left := bestPlan(t, s.With(h), h).Unplaced; len(left) > 0 {
			t.Errorf("without %s %d sessions are left out", c.kind, len(left))
		}
	}
}
