package model

import (
	"slices"
	"strings"
	"testing"
	"time"
)

// march gives a day of March 2027; the 1st is a Monday.
func march(day int) Date { return NewDate(2027, time.March, day) }

const (
	slate = "tide/slate"
	pageA = "tide/slate/A" // visits 10, 10, 5, 5 min; least gaps 1, 2, 4
	pageB = "tide/slate/B" // visits 15, 10, 10 min; least gaps 1, 2
)

// fixture gives three weeks with one part, and a plan of it made by hand that
// keeps every rule.
func fixture() (*Season, *Plan) {
	s := &Season{Title: "Fixture", TimeZone: "Europe/Oslo", From: march(1), To: march(21), Instrument: "viola",
		Limits: DefaultLimits(), Habits: DefaultHabits()}
	s.Limits.Playing = ByDay[Minutes]{Every: 60, Dates: []Dated[Minutes]{{Range{march(12), march(14)}, 200}}}
	s.Limits.RestDays = []time.Weekday{time.Monday}
	s.Limits.Listening, s.Limits.Passages = 45, 5
	s.Programmes = []Programme{{ID: "tide",
		Services: []Service{{Kind: Rehearsal, Date: march(12), Start: 600, Lasts: 150, Playing: 60}},
		Parts: []Part{{ID: "slate", Arrives: march(1), Listening: 20, ReadThrough: 20, Recordings: 15,
			Passages: []Passage{{ID: "A", Hard: 2}, {ID: "B", Hard: 1, Minutes: 15}}}},
	}}
	days := map[string]int{
		slate + "/listening": 1, slate + "/read-through": 2, slate + "/recordings": 11,
		pageA + "/visit-1": 3, pageA + "/visit-2": 4, pageA + "/visit-3": 6, pageA + "/visit-4": 10,
		pageB + "/visit-1": 3, pageB + "/visit-2": 5, pageB + "/visit-3": 7,
	}
	p := &Plan{}
	for _, w := range s.Wanted(nil) {
		p.Sessions = append(p.Sessions, w.On(march(days[w.ID])))
	}
	s.Finish(p)
	return s, p
}

// session finds a session by its id.
func (p *Plan) session(id string) *Session {
	for i := range p.Sessions {
		if p.Sessions[i].ID == id {
			return &p.Sessions[i]
		}
	}
	panic("no session " + id)
}

// leaveOut takes a session off the calendar, and says so.
func (p *Plan) leaveOut(s *Season, h *History, id string) {
	for _, w := range s.Wanted(h) {
		if w.ID == id {
			p.Unplaced = append(p.Unplaced, w.LeftOut())
		}
	}
	p.forget(id)
}

func (p *Plan) forget(id string) {
	p.Sessions = slices.DeleteFunc(p.Sessions, func(v Session) bool { return v.ID == id })
}

// change is something done to the fixture. Sums, warm-ups and hours follow,
// unless it is raw; then only the days' sums do.
type change struct {
	name     string
	rule     RuleID // the only rule it breaks; "" for none
	breaches int    // how many times
	minutes  Minutes
	do       func(s *Season, p *Plan, h *History)
	raw      bool
}

func move(id string, day int) func(*Season, *Plan, *History) {
	return func(_ *Season, p *Plan, _ *History) { p.session(id).Date = march(day) }
}

func moves(days map[string]int) func(*Season, *Plan, *History) {
	return func(_ *Season, p *Plan, _ *History) {
		for id, day := range days {
			p.session(id).Date = march(day)
		}
	}
}

func out(id string) func(*Season, *Plan, *History) {
	return func(s *Season, p *Plan, _ *History) { p.leaveOut(s, nil, id) }
}

func season(how func(*Season)) func(*Season, *Plan, *History) {
	return func(s *Season, _ *Plan, _ *History) { how(s) }
}

// otherService adds a service of another programme, of so many playing minutes.
func otherService(day int, playing Minutes) func(*Season, *Plan, *History) {
	return season(func(s *Season) {
		s.Programmes = append(s.Programmes, Programme{ID: "moss", Services: []Service{{Date: march(day), Start: 600, Lasts: playing, Playing: 100}}})
	})
}

// The rules are common practice and the program's own definition (no source).
// Each is broken alone, and once more kept by the narrowest margin.
var ruleChanges = []change{
	{name: "nothing", do: func(*Season, *Plan, *History) {}},

	// The 3rd holds 25 min of visits and 10 of warm-up.
	{name: "cap one short", rule: CapRule, breaches: 1, minutes: 1, do: season(func(s *Season) {
		s.Limits.Playing.Dates = append(s.Limits.Playing.Dates, Dated[Minutes]{Range{march(3), march(3)}, 34})
	})},
	{name: "cap just enough", do: season(func(s *Season) {
		s.Limits.Playing.Dates = append(s.Limits.Playing.Dates, Dated[Minutes]{Range{march(3), march(3)}, 35})
	})},
	{name: "service beside the work", rule: CapRule, breaches: 1, minutes: 1, do: otherService(3, 26)},
	{name: "shorter service", do: otherService(3, 25)},
	{name: "services over the cap", rule: CapRule, breaches: 1, minutes: 25, do: otherService(3, 90)},
	{name: "services over the cap of a free day", do: otherService(9, 90)},

	{name: "visit on a rest day", rule: RestRule, breaches: 1, minutes: 20, do: season(func(s *Season) { s.Limits.RestDates = []Range{{march(4), march(4)}} })},
	{name: "rest day without work", do: season(func(s *Season) { s.Limits.RestDates = []Range{{march(8), march(9)}} })},
	{name: "recordings on a rest day", do: season(func(s *Season) { s.Limits.RestDates = []Range{{march(11), march(11)}} })},

	{name: "listening on a day off", rule: OffRule, breaches: 1, minutes: 20, do: season(func(s *Season) { s.Limits.DaysOff = []Range{{march(1), march(1)}} })},
	{name: "visit on a day off", rule: OffRule, breaches: 1, minutes: 20, do: season(func(s *Season) { s.Limits.DaysOff = []Range{{march(4), march(4)}} })},
	{name: "day off without work", do: season(func(s *Season) { s.Limits.DaysOff = []Range{{march(8), march(9)}} })},

	{name: "listening before the part arrives", rule: WindowRule, breaches: 1, do: season(func(s *Season) { s.Programmes[0].Parts[0].Arrives = march(2) })},
	{name: "visit on the first rehearsal", rule: WindowRule, breaches: 1, do: move(pageA+"/visit-4", 12)},
	{name: "visit on the day before", do: move(pageA+"/visit-4", 11)},
	{name: "recordings on the first rehearsal", rule: WindowRule, breaches: 1, do: move(slate+"/recordings", 12)},
	{name: "visit on the passage's due date", rule: WindowRule, breaches: 1, do: season(func(s *Season) { s.Programmes[0].Parts[0].Passages[0].Due = march(10) })},
	{name: "visit before the passage's due date", do: season(func(s *Season) { s.Programmes[0].Parts[0].Passages[0].Due = march(11) })},
	{name: "due after the first rehearsal", do: func(s *Season, p *Plan, h *History) {
		s.Programmes[0].Parts[0].Passages[0].Due = march(16)
		p.session(pageA + "/visit-4").Date = march(13)
	}},
	{name: "visit before the passage was found", rule: WindowRule, breaches: 1, do: season(func(s *Season) { s.Programmes[0].Parts[0].Passages[0].Found = march(4) })},
	{name: "visit on the day it was found", do: season(func(s *Season) { s.Programmes[0].Parts[0].Passages[0].Found = march(3) })},
	{name: "season begins later", rule: WindowRule, breaches: 1, do: season(func(s *Season) { s.From = march(2) })},

	{name: "listening after the read-through", rule: OrderRule, breaches: 1, do: move(slate+"/listening", 3)},
	{name: "listening on the day of the read-through", do: move(slate+"/listening", 2)},
	{name: "no listening before the read-through", rule: OrderRule, breaches: 1, do: out(slate + "/listening")},
	{name: "no read-through", rule: OrderRule, breaches: 3, do: out(slate + "/read-through")},
	{name: "no listening wanted", do: func(s *Season, p *Plan, _ *History) {
		s.Programmes[0].Parts[0].Listening = 0
		p.forget(slate + "/listening")
	}},
	{name: "visit on the day of the read-through", rule: OrderRule, breaches: 1, do: move(pageA+"/visit-1", 2)},
	{name: "visit without the one before", rule: OrderRule, breaches: 1, do: out(pageA + "/visit-2")},
	{name: "last visit left out", do: out(pageA + "/visit-4")},
	{name: "recordings on the day of the read-through", rule: OrderRule, breaches: 1, do: move(slate+"/recordings", 2)},
	{name: "recordings before the last days", rule: OrderRule, breaches: 1, do: season(func(s *Season) { s.Habits.LastDays = 1 }), raw: true},
	{name: "recordings in the last days", do: func(s *Season, p *Plan, _ *History) {
		s.Habits.LastDays = 2
		p.session(slate + "/recordings").Date = march(10)
	}},

	{name: "gap a day short", rule: GapRule, breaches: 1, do: move(pageA+"/visit-3", 5)},
	{name: "two visits on one day", rule: GapRule, breaches: 1, do: moves(map[string]int{pageA + "/visit-2": 3})},
	{name: "visits in the wrong order", rule: GapRule, breaches: 1, do: moves(map[string]int{pageB + "/visit-3": 4})},

	{name: "third visit with a first one on its day", rule: AllOnceRule, breaches: 1,
		do: moves(map[string]int{pageB + "/visit-1": 6, pageB + "/visit-2": 7, pageB + "/visit-3": 9})},
	{name: "third visit after the first ones",
		do: moves(map[string]int{pageB + "/visit-1": 5, pageB + "/visit-2": 6, pageB + "/visit-3": 9})},
	{name: "a passage found later has no part in the first round", do: func(s *Season, p *Plan, h *History) {
		s.Programmes[0].Parts[0].Passages[1].Found = march(3)
		moves(map[string]int{pageB + "/visit-1": 6, pageB + "/visit-2": 7, pageB + "/visit-3": 9})(s, p, h)
	}},

	{name: "one passage too many", rule: PassagesRule, breaches: 1, do: season(func(s *Season) { s.Limits.Passages = 1 })},
	{name: "as many passages as may be", do: season(func(s *Season) { s.Limits.Passages = 2 })},

	{name: "listening over its limit", rule: ListeningRule, breaches: 1, minutes: 1, do: season(func(s *Season) { s.Limits.Listening = 19 })},
	{name: "listening at its limit", do: season(func(s *Season) { s.Limits.Listening = 20 })},

	{name: "visit longer than its recipe", rule: MinutesRule, breaches: 1, minutes: 5, raw: true,
		do: func(_ *Season, p *Plan, _ *History) { p.session(pageA + "/visit-1").Minutes += 5 }},
	{name: "listening that counts as playing", rule: MinutesRule, breaches: 1, raw: true,
		do: func(_ *Season, p *Plan, _ *History) { p.session(slate + "/listening").Playing = true }},
	{name: "visit with another's number", rule: MinutesRule, breaches: 1, raw: true,
		do: func(_ *Season, p *Plan, _ *History) { *p.session(pageA + "/visit-1").Visit = 2 }},
	{name: "visit of another number of visits", rule: MinutesRule, breaches: 1, raw: true,
		do: func(_ *Season, p *Plan, _ *History) { p.session(pageA + "/visit-1").Visits = nil }},
	{name: "visit of another passage", rule: MinutesRule, breaches: 1, raw: true,
		do: func(_ *Season, p *Plan, _ *History) { *p.session(pageA + "/visit-1").Passage = pageB }},

	{name: "no warm-up", rule: WarmUpRule, breaches: 1, minutes: 10, raw: true,
		do: func(_ *Season, p *Plan, _ *History) { p.forget(WarmUpID(march(4))) }},
	{name: "no warm-up wanted", do: season(func(s *Season) { s.Limits.WarmUp = 0 })},
	{name: "two warm-ups", rule: WarmUpRule, breaches: 1, minutes: 10, raw: true,
		do: func(_ *Season, p *Plan, _ *History) { p.Sessions = append(p.Sessions, *p.session(WarmUpID(march(4)))) }},
	{name: "warm-up without playing", rule: WarmUpRule, breaches: 1, minutes: 10, raw: true,
		do: out(pageA + "/visit-4")}, // all that is played on the 10th
	{name: "short warm-up", rule: WarmUpRule, breaches: 1, minutes: -5, raw: true,
		do: func(_ *Season, p *Plan, _ *History) { p.session(WarmUpID(march(4))).Minutes = 5 }},

	{name: "forgotten", rule: AccountedRule, breaches: 1, minutes: 15, do: func(_ *Season, p *Plan, _ *History) { p.forget(slate + "/recordings") }},
	{name: "planned and left out", rule: AccountedRule, breaches: 1, minutes: 15, do: func(s *Season, p *Plan, _ *History) {
		again := *p.session(slate + "/recordings")
		p.leaveOut(s, nil, again.ID)
		p.Sessions = append(p.Sessions, again)
	}},
	{name: "planned twice", rule: AccountedRule, breaches: 1, minutes: 15, do: func(_ *Season, p *Plan, _ *History) {
		p.Sessions = append(p.Sessions, *p.session(slate + "/recordings"))
	}},
	{name: "never asked for", rule: AccountedRule, breaches: 1, do: func(_ *Season, p *Plan, _ *History) {
		extra := *p.session(slate + "/recordings")
		extra.ID += "-2"
		p.Sessions = append(p.Sessions, extra)
	}},
	{name: "left out, never asked for", rule: AccountedRule, breaches: 1, do: func(_ *Season, p *Plan, _ *History) {
		p.Unplaced = append(p.Unplaced, Unplaced{ID: "tide/ferry/listening"})
	}},
	{name: "left out with other minutes", rule: AccountedRule, breaches: 1, do: func(s *Season, p *Plan, _ *History) {
		p.leaveOut(s, nil, slate+"/recordings")
		p.Unplaced[0].Minutes++
	}},

	{name: "done and planned again", rule: PastRule, breaches: 1, do: func(_ *Season, _ *Plan, h *History) {
		h.Today = march(1)
		h.Stages = map[string]Date{slate + "/listening": NewDate(2027, time.February, 28)}
	}},
	{name: "done on the day on which it stands", do: func(_ *Season, _ *Plan, h *History) {
		h.Today = march(1)
		h.Stages = map[string]Date{slate + "/listening": march(1)}
	}},

	{name: "moved from its pin", rule: PinnedRule, breaches: 1, do: season(func(s *Season) { s.Pins = []Pin{{pageB + "/visit-3", march(6)}} })},
	{name: "on its pin", do: season(func(s *Season) { s.Pins = []Pin{{pageB + "/visit-3", march(7)}} })},
	{name: "pinned and left out", do: func(s *Season, p *Plan, _ *History) {
		s.Pins = []Pin{{pageB + "/visit-3", march(6)}}
		p.leaveOut(s, nil, pageB+"/visit-3")
	}},
}

func TestEachRuleAlone(t *testing.T) {
	for _, c := range ruleChanges {
		t.Run(c.name, func(t *testing.T) {
			s, p := fixture()
			h := &History{}
			c.do(s, p, h)
			if c.raw {
				s.PlanDays(p)
			} else {
				s.Finish(p)
			}
			if c.name == "recordings before the last days" {
				p.session(slate + "/recordings").Date = march(10)
			}
			if h.Today == 0 {
				h = nil
			}
			breaches := s.Audit(p, h)
			for _, b := range breaches {
				if b.Rule != c.rule {
					t.Errorf("also: %v", b)
				}
			}
			if len(breaches) != c.breaches {
				t.Fatalf("%d breaches instead of %d: %v", len(breaches), c.breaches, breaches)
			}
			if c.breaches > 0 && breaches[0].Minutes != c.minutes {
				t.Errorf("%v: %v instead of %v", breaches[0], breaches[0].Minutes, c.minutes)
			}
		})
	}
}

// TestEveryRuleHasATest keeps the table above and the table of rules together.
func TestEveryRuleHasATest(t *testing.T) {
	broken := map[RuleID]bool{HoursRule: true} // in TestHours
	for _, c := range ruleChanges {
		broken[c.rule] = true
	}
	for _, r := range Rules() {
		if !broken[r.ID] {
			t.Errorf("no test breaks %s", r.ID)
		}
		if r.ID.Sentence() != r.Sentence || !strings.HasSuffix(r.Sentence, ".") {
			t.Errorf("%s has no sentence", r.ID)
		}
	}
	if RuleID("no such").Sentence() != "" {
		t.Error("an unknown rule has a sentence")
	}
}

func TestHours(t *testing.T) {
	clock := func(v *Session, from, to Clock) { v.Start, v.Ends = &from, &to }
	first, second := pageA+"/visit-1", pageB+"/visit-1" // on the 3rd, after the warm-up
	for _, c := range []struct {
		name     string
		breaches int
		do       func(s *Season, p *Plan)
	}{
		{"as laid out", 0, func(*Season, *Plan) {}},
		{"no hours", 1, func(_ *Season, p *Plan) { p.session(first).Start = nil }},
		{"before the free hours", 1, func(_ *Season, p *Plan) { clock(p.session(slate+"/listening"), 8*60, 8*60+20) }},
		{"later on the same block", 0, func(_ *Season, p *Plan) { clock(p.session(slate+"/listening"), 9*60+5, 9*60+25) }},
		{"into the rest", 1, func(_ *Season, p *Plan) { clock(p.session(slate+"/listening"), 9*60+10, 9*60+30) }},
		{"over the rest", 0, func(_ *Season, p *Plan) { clock(p.session(slate+"/listening"), 9*60+10, 9*60+35) }},
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
