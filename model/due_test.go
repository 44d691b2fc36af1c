package model

import (
	"slices"
	"testing"
)

// dueOn gives the deadline of a passage, zero where nothing of it is wanted any more.
func dueOn(s *Season, h *History, name string) Date {
	for _, w := range s.With(h).Work(h) {
		for _, p := range w.Passages {
			if p.Name == name && !p.Over {
				return p.Deadline
			}
		}
	}
	return 0
}

// leastOf gives the least gaps of a passage's visits to come.
func leastOf(s *Season, h *History, name string) (out []int) {
	for _, w := range s.With(h).Work(h) {
		for _, p := range w.Passages {
			for k := max(1, len(p.Done)); p.Name == name && k < len(p.Recipe); k++ {
				out = append(out, p.Recipe[k].Least)
			}
		}
	}
	return out
}

// A week of rehearsals on the 12th and 14th, concerts on the 16th and 20th; no
// rest days. A has four visits, B three.
func TestDueAlongTheDates(t *testing.T) {
	at := func(day int, visits ...int) *History {
		h := &History{Today: march(day), Stages: map[string]Date{}, Visits: map[string][]Date{}}
		for _, d := range visits {
			h.Visits[pageA] = append(h.Visits[pageA], march(d))
		}
		return h
	}
	for _, c := range []struct {
		name    string
		do      func(s *Season, p *Part)
		h       *History
		part, a int // days of March; 0: nothing is wanted
	}{
		{"in time: the first rehearsal", nil, nil, 12, 12},
		{"on the last day on which all of A fits: read on the 7th, visits on the 8th to the 11th", func(_ *Season, p *Part) { p.Arrives = march(7) }, nil, 12, 12},
		{"a day later all of A fits for the second rehearsal", func(_ *Season, p *Part) { p.Arrives = march(8) }, nil, 12, 14},
		{"handed out on the first rehearsal: read for the second, done for the concert", func(_ *Season, p *Part) { p.Arrives = march(12) }, nil, 14, 20},
		{"so late that not all fits: for where most does", func(_ *Season, p *Part) { p.Arrives = march(17) }, nil, 20, 20},
		{"the one day before the rehearsal is a rest day", func(s *Season, p *Part) {
			p.Arrives, s.Limits.RestDates = march(11), []Range{{march(11), march(11)}}
		}, nil, 14, 20},
		{"the one day before the rehearsal has no room for the read-through", func(s *Season, p *Part) {
			p.Arrives, s.Limits.Playing.Dates = march(11), append(s.Limits.Playing.Dates, Dated[Minutes]{Range{march(11), march(11)}, p.ReadThrough + s.Limits.WarmUp - 1})
		}, nil, 14, 16},
		{"the one day before the rehearsal has just enough room for it", func(s *Season, p *Part) {
			p.Arrives, s.Limits.Playing.Dates = march(11), append(s.Limits.Playing.Dates, Dated[Minutes]{Range{march(11), march(11)}, p.ReadThrough + s.Limits.WarmUp})
		}, nil, 12, 16},
		{"no day before any date has room for the read-through", func(s *Season, p *Part) {
			p.Arrives, p.ReadThrough = march(8), 300
		}, nil, 12, 14},
		{"without rehearsals: the concert", func(s *Season, _ *Part) {
			s.Programmes[0].Services = s.Programmes[0].Services[2:]
		}, nil, 16, 16},
		{"a concert before the first rehearsal is none of its dates", func(s *Season, _ *Part) {
			s.Programmes[0].Services = append(s.Programmes[0].Services, Service{Kind: Concert, Date: march(6), Lasts: 60})
		}, nil, 12, 12},
		{"first rehearsed on the second day", func(s *Season, _ *Part) {
			s.Programmes[0].Services[0].Works = []string{"other"}
		}, nil, 14, 14},
		{"the first rehearsal is missed", func(s *Season, _ *Part) { s.Programmes[0].Services[0].Missed = true }, nil, 14, 14},
		{"the first rehearsal has come: what is left of A, for the next date that it fits before", nil, at(13, 8, 9), 12, 14},
		{"one visit is left, the others were the day before", nil, at(12, 8, 9, 11), 12, 14},
		{"the last date has come", nil, at(20, 8, 9), 12, 0},
		{"a date of its own binds", func(_ *Season, p *Part) { p.Passages[0].Due = march(4) }, nil, 12, 4},
		{"until it has come", func(_ *Season, p *Part) { p.Passages[0].Due = march(4) }, at(4), 12, 12},
		{"found at the first rehearsal: three nights, so not for the second", func(_ *Season, p *Part) { p.Passages[0].Found = march(12) }, at(13), 12, 20},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, _ := fixture()
			s.Limits.RestDays = nil
			s.Habits.ShortGaps = true
			p := &s.Programmes[0]
			for d, kind := range map[int]ServiceKind{14: Rehearsal, 16: Concert, 20: Concert} {
				p.Services = append(p.Services, Service{Kind: kind, Date: march(d), Start: 600, Lasts: 100})
			}
			slices.SortFunc(p.Services, func(a, b Service) int { return int(a.Date - b.Date) })
			if c.do != nil {
				c.do(s, &p.Parts[0])
			}
			if w := s.Work(c.h)[0]; w.Due != march(c.part) {
				t.Errorf("the part is due on %v, not on %v", w.Due, march(c.part))
			}
			want := Date(0)
			if c.a != 0 {
				want = march(c.a)
			}
			if got := dueOn(s, c.h, pageA); got != want {
				t.Errorf("A is due on %v, not on %v", got, want)
			}
		})
	}
}

// Concerts on the 16th and 20th, rehearsals on the 12th and 14th: only the second
// concert comes four days after what is before it.
func TestUpkeep(t *testing.T) {
	s, _ := fixture()
	p := &s.Programmes[0]
	for _, d := range []int{14, 16, 20} {
		kind := Concert
		if d == 14 {
			kind = Rehearsal
		}
		p.Services = append(p.Services, Service{Kind: kind, Date: march(d), Start: 600, Lasts: 100})
	}
	kept := func(h *History) (out []string) {
		for _, w := range s.Wanted(h) {
			if w.Part == slate && w.Visits == 1 {
				out = append(out, w.ID)
			}
		}
		return out
	}
	if got := kept(nil); got != nil {
		t.Errorf("ordinary passages are kept up: %v", got)
	}
	p.Parts[0].Passages[0].Exposed = true
	id := slate + "/upkeep-2027-03-20-A/visit-1"
	if got := kept(nil); !slices.Equal(got, []string{id}) {
		t.Fatalf("kept up: %v", got)
	}
	w := s.Work(nil)[0]
	q := w.Passages[len(w.Passages)-1]
	if days := w.VisitDays(&q); days != (Range{march(17), march(19)}) || q.Recipe[0].Value != 1*(2+2) {
		t.Errorf("on %v, worth %d", days, q.Recipe[0].Value)
	}
	done := []Event{{Entry: 1, Kind: Done, Date: march(18), Session: id, Planned: 5}}
	if h, remarks := s.Replay(done, nil, Replaying{Today: march(18)}); kept(h) != nil || len(remarks) > 0 {
		t.Errorf("done: kept up %v, remarks %v", kept(h), remarks)
	}
	// Its first visit opens no round: recordings that stand today stay, though it is to come.
	_, standing := fixture()
	for _, w := range s.Wanted(nil) {
		if w.ID == id {
			standing.Sessions = append(standing.Sessions, w.On(march(18)))
		}
	}
	if h, _, broken := s.Resume(nil, standing, Replaying{Today: march(11), TakeAsDone: true}); len(broken) > 0 || h.Kept != march(11) {
		t.Errorf("today is %v, %v", h.Kept, broken)
	}
	s.Habits.UpkeepAfter = 5
	if got := kept(nil); got != nil {
		t.Errorf("the run is short: %v", got)
	}
	s.Habits.UpkeepAfter, s.Habits.Upkeep = 2, 0
	if got := kept(nil); got != nil {
		t.Errorf("nothing is kept up where upkeep is 0: %v", got)
	}
}

// A part with a ready-by of its own: three days of the habits become six, then none; the
// gaps and the days over which passages come back go by it, another part's don't.
func TestOwnReadyDays(t *testing.T) {
	for _, c := range []struct {
		own  *int
		days int
		gaps []int // arrives on the 1st: from the first visit on the 2nd to the 12th less these days
	}{{nil, 3, []int{1, 2, 4}}, {new(6), 6, []int{1, 2, 1}}, {new(0), 0, []int{1, 2, 4}}} {
		s, _ := fixture()
		s.Limits.RestDays, s.Habits.ShortGaps = nil, true
		part := &s.Programmes[0].Parts[0]
		part.Arrives, part.ReadyDays = march(1), c.own
		for _, w := range s.Work(nil) {
			days := s.Habits.ReadyDays
			if w.Part == part {
				days = c.days
			}
			if w.Ready != w.Due-Date(days) {
				t.Errorf("%v: %s is ready by %v for %v", c.own, w.Name, w.Ready, w.Due)
			}
			if q := w.Passage(pageA); q != nil && q.Ready != march(12-days) {
				t.Errorf("%v: the passage is ready by %v", c.own, q.Ready)
			}
		}
		if got := leastOf(s, nil, pageA); !slices.Equal(got, c.gaps) {
			t.Errorf("%v: gaps %v instead of %v", c.own, got, c.gaps)
		}
		part.ComesBack = true
		got := s.span(&s.Programmes[0], part, &part.Passages[0])
		part.ReadyDays = nil
		if habit := s.span(&s.Programmes[0], part, &part.Passages[0]); habit < 7 || got != habit+3-c.days {
			t.Errorf("%v: comes back over %d days, %d by the habits", c.own, got, habit)
		}
	}
}

// Gaps 1, 2, 4 of A, first rehearsal on the 12th, ready-by three days before: after
// a first visit on day d they have 9 − d days.
func TestGapsShorten(t *testing.T) {
	for _, c := range []struct {
		arrives int
		h       *History
		want    []int
	}{
		{1, nil, []int{1, 2, 4}}, // first visit on the 2nd, 7 days
		{2, nil, []int{1, 2, 3}},
		{3, nil, []int{1, 2, 2}},
		{4, nil, []int{1, 2, 1}},
		{5, nil, []int{1, 1, 1}},
		{7, nil, []int{1, 1, 1}}, // a night at least
		{1, &History{Today: march(5), Visits: map[string][]Date{pageA: {march(2), march(3)}}}, []int{2, 4}},
		{1, &History{Today: march(6), Visits: map[string][]Date{pageA: {march(2), march(3)}}}, []int{2, 4}}, // days that go by change nothing
	} {
		s, _ := fixture()
		s.Limits.RestDays, s.Habits.ShortGaps = nil, true
		s.Programmes[0].Parts[0].Arrives = march(c.arrives)
		if got := leastOf(s, c.h, pageA); !slices.Equal(got, c.want) {
			t.Errorf("arrives on the %d, history %v: gaps %v instead of %v", c.arrives, c.h, got, c.want)
		}
		s.Habits.ShortGaps = false
		if got := leastOf(s, nil, pageA); !slices.Equal(got, []int{1, 2, 4}) {
			t.Errorf("gaps that don't shorten: %v", got)
		}
	}
}
