package model

import (
	"strings"
	"testing"
	"time"
)

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

// concert adds one of another programme, without a minute of playing.
func concert(day int, how func(*Limits)) func(*Season, *Plan, *History) {
	return season(func(s *Season) {
		s.Programmes = append(s.Programmes, Programme{ID: "moss", Services: []Service{{Kind: Concert, Date: march(day), Start: 1170, Lasts: 1}}})
		if how != nil {
			how(&s.Limits)
		}
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

	{name: "concert on the next day", rule: CapRule, breaches: 1, minutes: 5, do: concert(4, func(l *Limits) { l.BeforeConcert = 50 })},
	{name: "concert on the next day, just enough", do: concert(4, func(l *Limits) { l.BeforeConcert = 59 })},
	{name: "two services", rule: CapRule, breaches: 1, minutes: 5, do: season(func(s *Season) {
		s.Programmes = append(s.Programmes, Programme{ID: "moss", Services: []Service{{Date: march(3), Start: 600, Lasts: 1}, {Date: march(3), Start: 700, Lasts: 1}}})
		s.Limits.TwoServices = 20
	})},
	{name: "two services, as much as is allowed", do: season(func(s *Season) {
		s.Programmes = append(s.Programmes, Programme{ID: "moss", Services: []Service{{Date: march(3), Start: 600, Lasts: 1}, {Date: march(3), Start: 700, Lasts: 1}}})
		s.Limits.TwoServices = 25
	})},
	{name: "back from time off", rule: CapRule, breaches: 1, minutes: 5, do: season(func(s *Season) {
		s.Limits.DaysOff, s.Limits.Return = []Range{{march(8), march(9)}}, Return{After: 2, First: 41}
		s.Limits.Playing.Every = 60 // the 10th has a visit of 5 min and the warm-up
		s.Limits.Playing.Dates = append(s.Limits.Playing.Dates, Dated[Minutes]{Range{march(10), march(10)}, 25})
	})},
	{name: "back from time off, just enough", do: season(func(s *Season) {
		s.Limits.DaysOff, s.Limits.Return = []Range{{march(8), march(9)}}, Return{After: 2, First: 25}
	})},

	{name: "first visits on the day of a concert", rule: NewRule, breaches: 2, do: concert(3, nil)},
	{name: "first visits on the day of a concert, if allowed", do: concert(3, func(l *Limits) { l.NewOnConcerts = true })},
	{name: "later visits on the day of a concert", do: concert(10, nil)},

	{name: "visit on tour", rule: RestRule, breaches: 1, minutes: 20, do: season(func(s *Season) { s.Limits.Tours = []Range{{march(4), march(4)}} })},
	{name: "recordings on tour", do: season(func(s *Season) { s.Limits.Tours = []Range{{march(11), march(11)}} })},

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
	{name: "recordings on the day of a first visit", rule: OrderRule, breaches: 1, do: func(s *Season, p *Plan, _ *History) {
		s.Habits.LastDays = 9
		p.session(slate + "/recordings").Date = p.session(pageA + "/visit-1").Date
	}},
	{name: "recordings before the last days", rule: OrderRule, breaches: 1, do: func(s *Season, p *Plan, _ *History) {
		s.Habits.LastDays = 1
		p.session(slate + "/recordings").Date = march(10)
	}},
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

	{name: "listening over its limit", rule: ListeningRule, breaches: 1, minutes: 1, do: func(s *Season, p *Plan, _ *History) {
		s.Limits.Listening, s.Programmes[0].Parts[0].Listening = 14, 0 // and not in two sittings
		p.forget(slate + "/listening")
	}},
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
