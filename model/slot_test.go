package model

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// TestSlotsKeepTheRulesOfDays: on the first day of its slot, and on the last, a session that
// has nothing beside it breaks no rule but those that look at others.
func TestSlotsKeepTheRulesOfDays(t *testing.T) {
	others := []RuleID{OrderRule, GapRule, AllOnceRule, AccountedRule, WarmUpRule, HoursRule}
	firsts := 0
	rapid.Check(t, func(t *rapid.T) {
		s := anySeason(t)
		more := Programme{ID: "more"} // a concert every third day, every other with a rehearsal
		for d := s.From + Date(rapid.IntRange(0, 2).Draw(t, "concert")); d <= s.To; d += 3 {
			more.Services = append(more.Services, Service{Kind: Concert, Date: d, Start: 1200, Lasts: 1})
			if (d-s.From)%2 == 0 {
				more.Services = append(more.Services, Service{Kind: Rehearsal, Date: d, Start: 1140, Lasts: 1})
			}
		}
		s.Programmes = append(s.Programmes, more)
		for _, slot := range s.Slots(nil) {
			for _, d := range []Date{slot.First, slot.Last} {
				if slot.Last < slot.First {
					continue
				}
				for _, b := range s.Audit(&Plan{From: s.From, To: s.To, Sessions: []Session{slot.On(d)}}, nil) {
					if !slices.Contains(others, b.Rule) {
						t.Errorf("%v, of the slot from %v to %v", b, slot.First, slot.Last)
					}
				}
				firsts++
			}
		}
	})
	if firsts < 100 {
		t.Errorf("only %d sessions have days", firsts)
	}
}

// Listening comes no later than the read-through; once that is done it may come as late
// as anything.
func TestListeningUntilTheRead(t *testing.T) {
	s, p := fixture()
	last := func(h *History) map[Stage]Date {
		out := map[Stage]Date{}
		for _, slot := range s.Slots(h) {
			if slot.Stage != PassageStage {
				out[slot.Stage] = slot.Last
			}
		}
		return out
	}
	if l := last(nil); l[ListeningStage] == 0 || l[ListeningStage] > l[ReadStage] {
		t.Errorf("listening may be on %v, the read-through on %v", l[ListeningStage], l[ReadStage])
	}
	h, _ := s.Replay([]Event{{Entry: 1, Kind: Done, Session: slate + "/read-through", Date: march(2)}}, p, Replaying{Today: march(3)})
	if l := last(h); l[ListeningStage] != march(11) || l[ReadStage] != 0 {
		t.Errorf("after the read-through listening may be on %v", l)
	}
}
