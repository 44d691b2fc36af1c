package model

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// happened is the fixture's record: what is given, one entry each.
func happened(events ...Event) []Event {
	for i := range events {
		events[i].Entry = i + 1
		events[i].At = time.Date(2027, time.March, 20, 20, 0, 0, 0, time.UTC)
	}
	return events
}

func TestReplayTakesTheSilentPastAsDone(t *testing.T) {
	s, p := fixture()
	h, remarks := s.Replay(nil, p, Replaying{Today: march(6), TakeAsDone: true})
	if len(remarks) > 0 {
		t.Error(remarks)
	}
	if got, want := h.Visits[pageA], []Date{march(3), march(4)}; !slices.Equal(got, want) {
		t.Errorf("visits done %v, want %v", got, want)
	}
	if h.Stages[slate+"/listening"] != march(1) || h.Stages[slate+"/read-through"] != march(2) || h.Stages[slate+"/recordings"] != 0 {
		t.Errorf("stages done %v", h.Stages)
	}
	if h.Played[march(2)] != 20 || h.Played[march(3)] != 25 {
		t.Errorf("played %v", h.Played)
	}
	if len(h.Taken) != 6 {
		t.Errorf("taken as done: %v", h.Taken)
	}
	if b := s.Audit(p, h); len(b) > 0 {
		t.Errorf("an unchanged plan breaks rules: %v", b)
	}
	if h, _ := s.Replay(nil, p, Replaying{Today: march(6)}); len(h.Visits)+len(h.Stages) > 0 {
		t.Errorf("taken as done though asked not to: %v %v", h.Visits, h.Stages)
	}
}

func TestReplayOfEachKind(t *testing.T) {
	const v1, v2, v3, v4 = pageA + "/visit-1", pageA + "/visit-2", pageA + "/visit-3", pageA + "/visit-4"
	for _, c := range []struct {
		name   string
		today  int
		events []Event
		want   func(s *Season, h *History) error
	}{
		{"not done: wanted again, and what came after it counts in its place", 6,
			happened(Event{Kind: NotDone, Date: march(3), Session: v1}), func(_ *Season, h *History) error {
				return equalDays(h.Visits[pageA], 4)
			}},
		{"done on another day", 6,
			happened(Event{Kind: Done, Date: march(5), Session: v2, Took: 25}), func(_ *Season, h *History) error {
				if h.Played[march(5)] != 35 { // 25 min here, 10 min of B
					return fmt.Errorf("played %v", h.Played)
				}
				return equalDays(h.Visits[pageA], 3, 5)
			}},
		{"done early, and not taken as done once more on its day", 7,
			happened(Event{Kind: Done, Date: march(5), Session: v3}), func(_ *Season, h *History) error {
				return equalDays(h.Visits[pageA], 3, 4, 5)
			}},
		{"the last line about a session counts", 6,
			happened(Event{Kind: NotDone, Date: march(4), Session: v2}, Event{Kind: Done, Date: march(4), Session: v2, Took: 15}),
			func(_ *Season, h *History) error {
				if h.Played[march(4)] != 15 {
					return fmt.Errorf("played %v", h.Played)
				}
				return equalDays(h.Visits[pageA], 3, 4)
			}},
		{"a check that did not hold: again from the visit before", 11,
			happened(Event{Kind: DidNotHold, Date: march(10), Session: v4}), func(s *Season, h *History) error {
				w := s.Work(h)[0].Passages[0]
				if len(w.Done) != 4 || len(w.Recipe) != 6 || w.Recipe[4].Minutes != 5 || w.Recipe[4].Least != 1 || w.Recipe[5].Least != 2 || w.Recipe[5].Preferred != 4 {
					return fmt.Errorf("done %v, recipe %v", w.Done, w.Recipe)
				}
				return nil
			}},
		{"and one of the visits after it done: one is left", 13,
			happened(Event{Kind: DidNotHold, Date: march(10), Session: v4}, Event{Kind: Done, Date: march(12), Session: pageA + "/visit-5"}),
			func(s *Season, h *History) error {
				if w := s.Work(h)[0].Passages[0]; len(w.Done) != 5 || len(w.Recipe) != 6 || w.Recipe[5].Least != 2 || w.Recipe[5].Preferred != 4 {
					return fmt.Errorf("done %v, recipe %v", w.Done, w.Recipe)
				}
				return nil
			}},
		{"and both: none is left", 17,
			happened(Event{Kind: DidNotHold, Date: march(10), Session: v4}, Event{Kind: Done, Date: march(12), Session: pageA + "/visit-5"},
				Event{Kind: Done, Date: march(16), Session: pageA + "/visit-6"}),
			func(s *Season, h *History) error {
				for _, w := range s.Wanted(h) {
					if w.Passage == pageA {
						return fmt.Errorf("%s is wanted", w.ID)
					}
				}
				return nil
			}},
		{"found at a rehearsal: due at the next service", 13,
			happened(Event{Kind: Found, Date: march(12), Part: slate, Bars: "90-99", Hard: 2}), func(s *Season, h *History) error {
				q := h.Found[slate]
				if len(q) != 1 || q[0].Due != 0 || dueOn(s, h, slate+"/90-99") != march(14) || q[0].Found != march(12) {
					return fmt.Errorf("found %v", q)
				}
				return nil
			}},
		{"found before: due at the first rehearsal; the part is read by then", 2,
			happened(Event{Kind: Found, Date: march(1), Part: slate, Bars: "90-99", Hard: 2}), func(s *Season, h *History) error {
				if q := h.Found[slate]; len(q) != 1 || q[0].Due != 0 || dueOn(s, h, slate+"/90-99") != march(12) || h.Met[slate] != march(1) {
					return fmt.Errorf("found %v, read on %v", q, h.Stages)
				}
				return nil
			}},
		{"no longer needed", 4,
			happened(Event{Kind: NotNeeded, Date: march(3), Passage: pageA}), func(s *Season, h *History) error {
				for _, w := range s.Wanted(h) {
					if w.Passage == pageA {
						return fmt.Errorf("%s is wanted", w.ID)
					}
				}
				return equalDays(h.Visits[pageA], 3)
			}},
		{"a day lost: a day off, nothing done", 4,
			happened(Event{Kind: DayLost, Date: march(3)}), func(s *Season, h *History) error {
				if r := s.With(h).RoomOn(march(3)); !r.Off || s.RoomOn(march(3)).Off {
					return fmt.Errorf("room %v", r)
				}
				return equalDays(h.Visits[pageA])
			}},
		{"pain: nothing more on the day, which is not taken as done, and a light day", 5,
			happened(Event{Kind: Pain, Date: march(3)}), func(s *Season, h *History) error {
				for d, want := range map[int]Minutes{2: 60, 3: 60, 4: 35, 5: 35, 6: 35, 7: 35, 8: 45, 9: 55, 10: 60} {
					if got := s.With(h).RoomOn(march(d)).Cap; got != want {
						return fmt.Errorf("cap of the %d: %v, want %v", d, got, want)
					}
				}
				if r := s.With(h).RoomOn(march(3)); !r.Off {
					return fmt.Errorf("room %v", r)
				}
				s.Limits.Light = 25
				if got := s.With(h).RoomOn(march(4)).Beside; got != 12 {
					return fmt.Errorf("a light day keeps %v of 50 min, want a quarter", got)
				}
				return equalDays(h.Visits[pageA], 4)
			}},
		{"undone", 6,
			happened(Event{Kind: NotDone, Date: march(3), Session: v1}, Event{Kind: Undo, Undoes: 1}), func(_ *Season, h *History) error {
				return equalDays(h.Visits[pageA], 3, 4)
			}},
		{"an undo undone", 6,
			happened(Event{Kind: NotDone, Date: march(3), Session: v1}, Event{Kind: Undo, Undoes: 1}, Event{Kind: Undo, Undoes: 2}),
			func(_ *Season, h *History) error { return equalDays(h.Visits[pageA], 4) }},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, p := fixture()
			s.Programmes[0].Services = append(s.Programmes[0].Services, Service{Kind: Concert, Date: march(14), Start: 1080, Lasts: 100, Playing: 70})
			for _, e := range c.events {
				if faults := e.Check(); len(faults) > 0 {
					t.Fatal(faults)
				}
			}
			h, remarks := s.Replay(c.events, p, Replaying{Today: march(c.today), TakeAsDone: true})
			if len(remarks) > 0 {
				t.Error(remarks)
			}
			if err := c.want(s, h); err != nil {
				t.Error(err)
			}
		})
	}
}

func equalDays(got []Date, days ...int) error {
	var want []Date
	for _, d := range days {
		want = append(want, march(d))
	}
	if !slices.Equal(got, want) {
		return fmt.Errorf("done on %v, want %v", got, want)
	}
	return nil
}

// TestPastFollowsTheRecord: what was done lies where it was done, under the
// name it was done as; what was not done is gone from the past.
func TestPastFollowsTheRecord(t *testing.T) {
	s, p := fixture()
	h, _ := s.Replay(happened(Event{Kind: NotDone, Date: march(3), Session: pageA + "/visit-1"}), p, Replaying{Today: march(6), TakeAsDone: true})
	got := map[string]Date{}
	for _, v := range s.Past(h, p) {
		got[v.ID] = v.Date
	}
	want := map[string]Date{slate + "/listening": march(1), slate + "/read-through": march(2), WarmUpID(march(2)): march(2),
		pageB + "/visit-1": march(3), WarmUpID(march(3)): march(3), pageA + "/visit-1": march(4), WarmUpID(march(4)): march(4),
		pageB + "/visit-2": march(5), WarmUpID(march(5)): march(5)}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("past %v, want %v", got, want)
	}
}

// TestPastUnchanged: with a silent record the past is the plan's own, wholly.
func TestPastUnchanged(t *testing.T) {
	s, p := fixture()
	for i := range p.Sessions {
		p.Sessions[i].Sequence = i
	}
	for d := s.From; d <= s.To+1; d++ {
		h, _ := s.Replay(nil, p, Replaying{Today: d, TakeAsDone: true})
		got := &Plan{Sessions: s.Past(h, p)}
		s.FinishFrom(got, &History{Today: s.To + 1})
		var want []Session
		for _, v := range p.Sessions {
			if v.Date < d {
				want = append(want, v)
			}
		}
		if !reflect.DeepEqual(append([]Session{}, got.Sessions...), append([]Session{}, want...)) {
			t.Fatalf("%v: past %v, want %v", d, got.Sessions, want)
		}
	}
}

// TestRatio: figures worked out by hand from the formula, and its limits.
func TestRatio(t *testing.T) {
	visits := Effort{PassageStage, 2}
	l := Learnt{}
	if r, counts := l.Ratio(visits); r != 1 || counts {
		t.Errorf("nothing recorded: %v %v", r, counts)
	}
	for range 4 {
		l.add(visits, 10, 15)
	}
	if r, counts := l.Ratio(visits); r != 1.2 || counts { // (60+60)/(60+40)
		t.Errorf("four visits: %v %v", r, counts)
	}
	l.add(visits, 10, 15)
	if r, counts := l.Ratio(visits); r != 135.0/110 || !counts { // (60+75)/(60+50)
		t.Errorf("five visits: %v %v", r, counts)
	}
	if got := l.scale(visits, 20); got != 25 { // 24.5 rounded
		t.Errorf("20 min become %v", got)
	}
	rapid.Check(t, func(t *rapid.T) {
		l := Learnt{}
		var estimated, took Minutes
		for range rapid.IntRange(0, 40).Draw(t, "n") {
			e, k := Minutes(rapid.IntRange(5, 30).Draw(t, "estimated")), Minutes(rapid.IntRange(1, 60).Draw(t, "took"))
			l.add(visits, e, k)
			estimated, took = estimated+e, took+k
		}
		r, _ := l.Ratio(visits)
		if estimated == 0 {
			return
		}
		raw := float64(took) / float64(estimated)
		if lo, hi := max(0.5, min(1, raw)), min(2, max(1, raw)); r < lo-1e-9 || r > hi+1e-9 {
			t.Fatalf("ratio %v of raw %v does not lie between it and 1", r, raw)
		}
	})
}

// TestLearnt: minutes really taken of recorded sessions only, against the
// season's estimate; used for what lies ahead only when asked.
func TestLearnt(t *testing.T) {
	s, p := fixture()
	var events []Event
	for d, id := range map[int]string{3: pageA + "/visit-1", 4: pageA + "/visit-2"} {
		events = append(events, Event{Kind: Done, Date: march(d), Session: id, Took: 20})
	}
	for k, m := range []Minutes{20, 20, 20} { // recorded as more visits of the same kind
		events = append(events, Event{Kind: DidNotHold, Date: march(5 + k), Session: VisitID(pageA, 3+k), Took: m})
	}
	events = happened(events...)
	h, _ := s.Replay(events, p, Replaying{Today: march(7), TakeAsDone: true, Scaled: true})
	got := h.Learnt[Effort{PassageStage, 2}]
	if got.Sessions != 5 || got.Took != 100 {
		t.Fatalf("learnt %+v", got)
	}
	if easy := h.Learnt[Effort{PassageStage, 1}]; easy.Sessions != 0 {
		t.Errorf("what was taken as done was learnt from: %+v", easy)
	}
	plain := *h
	plain.Scaled = false
	scaled, as := s.Work(h)[0].Passages[0], s.Work(&plain)[0].Passages[0]
	k := len(scaled.Done)
	if scaled.Recipe[k].Minutes <= as.Recipe[k].Minutes || scaled.Recipe[k].Minutes%s.Habits.Step != 0 {
		t.Errorf("ahead %v, without learning %v", scaled.Recipe[k:], as.Recipe[k:])
	}
}

// What the record teaches of a read-through makes it longer only where it is planned with.
func TestScaledParts(t *testing.T) {
	s, _ := fixture()
	part := &s.Programmes[0].Parts[0]
	h := &History{Learnt: Learnt{Effort{Stage: ReadStage}: Tally{Sessions: 400, Estimated: 8000, Took: 16000}}}
	if got := h.scaled(part, s); got != part {
		t.Errorf("%+v", got)
	}
	if h.Scaled = true; h.scaled(part, s).ReadThrough != 2*part.ReadThrough || part.ReadThrough != 20 {
		t.Errorf("%v of %v", h.scaled(part, s).ReadThrough, part.ReadThrough)
	}
}

// What whole steps leave over of a learnt share is carried over a part's passages, so that
// all of them together last what was learnt, to half a step; and what happens to
// one passage changes the lengths of no other.
func TestLearntIsCarried(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ratio := rapid.IntRange(90, 150).Draw(t, "ratio")
		part, sum := Part{ID: "a", Arrives: march(1)}, 0.0
		for k := range rapid.IntRange(1, 12).Draw(t, "passages") {
			part.Passages = append(part.Passages, Passage{ID: fmt.Sprint(k), Bars: fmt.Sprint(k), Hard: 2, Minutes: 5 * Minutes(rapid.IntRange(2, 6).Draw(t, "minutes"))})
		}
		s := seasonOfParts(part)
		for i := range part.Passages {
			sum += float64(RecipeMinutes(s.Recipe(&part.Passages[i])))
		}
		h := &History{Today: s.From, Scaled: true, Learnt: Learnt{Effort{PassageStage, 2}: {Sessions: 10, Estimated: 100_000, Took: Minutes(1000 * ratio)}}}
		share, _ := h.Learnt.Ratio(Effort{PassageStage, 2})
		w := s.Work(h)[0]
		got := Minutes(0)
		for i := range w.Passages {
			got += RecipeMinutes(w.Passages[i].Recipe)
		}
		if off := math.Abs(float64(got) - share*sum); off > 2.5+0.02*float64(len(w.Passages)) {
			t.Fatalf("%v planned, %v learnt", got, share*sum)
		}
		name := w.Passages[0].Name
		h.Visits, h.Again, h.Anew = map[string][]Date{name: {march(3), march(4)}}, map[string]int{name: 2}, map[string]int{name: 1}
		for i, after := 1, s.Work(h)[0]; i < len(after.Passages); i++ {
			if !slices.Equal(after.Passages[i].Recipe, w.Passages[i].Recipe) {
				t.Fatalf("%v was %v", after.Passages[i].Recipe, w.Passages[i].Recipe)
			}
		}
	})
}
