package model

import (
	"slices"
	"testing"
)

func TestHours(t *testing.T) {
	clock := func(v *Session, from, to Clock, rests ...Span) { v.Start, v.Ends, v.Rests = &from, &to, rests }
	first, second := pageA+"/visit-1", pageB+"/visit-1" // on the 3rd, after the warm-up
	for _, c := range []struct {
		name     string
		breaches int
		do       func(s *Season, p *Plan)
	}{
		{"as laid out", 0, func(*Season, *Plan) {}},
		{"no hours", 1, func(_ *Season, p *Plan) { p.session(first).Start = nil }},
		{"before the free hours", 1, func(_ *Season, p *Plan) { clock(p.session(slate+"/listening"), 8*60, 8*60+20) }},
		{"later", 0, func(_ *Season, p *Plan) { clock(p.session(slate+"/listening"), 9*60+7, 9*60+27) }},
		{"with a pause", 0, func(_ *Season, p *Plan) {
			clock(p.session(slate+"/listening"), 9*60, 9*60+30, Span{9*60 + 10, 9*60 + 20})
		}},
		{"a pause that is none", 1, func(_ *Season, p *Plan) {
			clock(p.session(slate+"/listening"), 9*60, 9*60+20, Span{9*60 + 10, 9*60 + 10})
		}},
		{"a pause turned round", 1, func(_ *Season, p *Plan) {
			clock(p.session(slate+"/listening"), 9*60, 9*60+15, Span{9*60 + 10, 9*60 + 5})
		}},
		{"a pause outside", 1, func(_ *Season, p *Plan) {
			clock(p.session(slate+"/listening"), 9*60+20, 9*60+50, Span{9*60 + 10, 9*60 + 20})
		}},
		{"without its rest", 1, func(_ *Season, p *Plan) { clock(p.session(second), 9*60+20, 9*60+35) }},
		{"a rest too short", 1, func(_ *Season, p *Plan) { clock(p.session(second), 9*60+20, 9*60+39, Span{9*60 + 25, 9*60 + 29}) }},
		{"rested before", 0, func(_ *Season, p *Plan) { clock(p.session(second), 9*60+25, 9*60+40) }},
		{"too long", 1, func(_ *Season, p *Plan) { clock(p.session(slate+"/listening"), 9*60, 9*60+25) }},
		// 09:00 warm-up, 09:10 the first, 09:20 the second, to 09:40 over the rest.
		{"at the same time", 1, func(_ *Season, p *Plan) { clock(p.session(second), 9*60+10, 9*60+25) }},
		{"no longer free", 1, func(s *Season, _ *Plan) {
			s.Hours.Dates = []Dated[[]Span]{{Range{march(1), march(1)}, []Span{{600, 720}}}}
		}},
		// Blocks of 25 and 5 min hold 25 min for certain; the 3rd wants 35.
		{"more than the hours hold", 2, func(s *Season, p *Plan) {
			s.Hours.Dates = []Dated[[]Span]{{Range{march(3), march(3)}, []Span{{540, 575}}}}
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, p := fixture()
			s.Hours.Every = []Span{{9 * 60, 10 * 60}}
			if over := s.Finish(p); len(over) > 0 {
				t.Fatalf("not laid out: %v", over)
			}
			c.do(s, p)
			s.PlanDays(p)
			breaches := s.Audit(p, nil)
			if len(breaches) != c.breaches {
				t.Errorf("%d breaches instead of %d: %v", len(breaches), c.breaches, breaches)
			}
			for _, b := range breaches {
				if b.Rule != HoursRule {
					t.Errorf("also: %v", b)
				}
			}
		})
	}
}

// TestStagesInTheDay: on one day, listening comes before the read-through and
// the warm-up before all playing.
func TestStagesInTheDay(t *testing.T) {
	s, p := fixture()
	s.Hours.Every = []Span{{9 * 60, 11 * 60}}
	p.session(slate + "/listening").Date = march(2)
	s.Finish(p)
	if b := s.Audit(p, nil); len(b) > 0 {
		t.Fatal(b)
	}
	listening, read := p.session(slate+"/listening"), p.session(slate+"/read-through")
	at := func(from Clock) (*Clock, *Clock) { to := from + 20; return &from, &to }
	listening.Start, listening.Ends = at(10 * 60)
	read.Start, read.Ends = at(10*60 + 30)
	listening.Rests, read.Rests = nil, nil
	if b := s.Audit(p, nil); len(b) > 0 {
		t.Fatal(b)
	}
	listening.Start, listening.Ends, read.Start, read.Ends = read.Start, read.Ends, listening.Start, listening.Ends
	if b := s.Audit(p, nil); len(b) != 1 || b[0].Rule != OrderRule {
		t.Errorf("listening later in the day than the read-through: %v", b)
	}
	s, p = fixture()
	s.Hours.Every = []Span{{9 * 60, 11 * 60}}
	s.Finish(p)
	warm := p.session(WarmUpID(march(4)))
	from, to := Clock(10*60), Clock(10*60+10)
	warm.Start, warm.Ends = &from, &to
	if b := s.Audit(p, nil); len(b) != 1 || b[0].Rule != WarmUpRule {
		t.Errorf("warm-up after a visit: %v", b)
	}
}

// TestRulesWithARecord: what was done counts for the rules, days gone by are
// not judged.
func TestRulesWithARecord(t *testing.T) {
	done := func() (*Season, *Plan, *History) {
		s, p := fixture()
		h := &History{Today: march(4),
			Stages: map[string]Date{slate + "/listening": march(1), slate + "/read-through": march(2)},
			Visits: map[string][]Date{pageA: {march(3)}, pageB: {march(3)}}}
		return s, p, h
	}
	for _, c := range []struct {
		name string
		rule RuleID
		do   func(s *Season, p *Plan, h *History)
	}{
		{"as planned", "", func(*Season, *Plan, *History) {}},
		{"the past is nobody's fault", "", func(s *Season, p *Plan, _ *History) { p.session(pageA + "/visit-1").Date = march(1); s.Finish(p) }},
		{"the past may be gone", "", func(s *Season, p *Plan, _ *History) { p.forget(pageA + "/visit-1"); s.Finish(p) }},
		{"gap from a visit done", GapRule, func(_ *Season, _ *Plan, h *History) { h.Visits[pageA][0] = march(4) }},
		{"missed in the past and not planned again", AccountedRule, func(_ *Season, _ *Plan, h *History) {
			delete(h.Stages, slate+"/listening")
			delete(h.Stages, slate+"/read-through")
		}},
		{"moved into the past", AccountedRule, func(s *Season, p *Plan, _ *History) { p.session(pageA + "/visit-2").Date = march(3); s.Finish(p) }},
		{"dropped and still planned", AccountedRule, func(_ *Season, _ *Plan, h *History) { h.Dropped = map[string]bool{pageA: true} }},
		{"dropped and gone", "", func(s *Season, p *Plan, h *History) {
			h.Dropped = map[string]bool{pageA: true}
			for _, id := range []string{"/visit-2", "/visit-3", "/visit-4"} {
				p.forget(pageA + id)
			}
			s.Finish(p)
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, p, h := done()
			c.do(s, p, h)
			breaches := s.Audit(p, h)
			if (len(breaches) == 0) != (c.rule == "") {
				t.Errorf("breaches: %v", breaches)
			}
			for _, b := range breaches {
				if b.Rule != c.rule && c.name != "missed in the past and not planned again" && c.name != "moved into the past" {
					t.Errorf("also: %v", b)
				}
			}
			if c.rule != "" && !slices.ContainsFunc(breaches, func(b Breach) bool { return b.Rule == c.rule }) {
				t.Errorf("%s not named: %v", c.rule, breaches)
			}
		})
	}
}
