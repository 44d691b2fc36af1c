package model

import (
	"fmt"
	"reflect"
	"testing"

	"pgregory.net/rapid"
)

func ptr[T any](v T) *T { return &v }

func session(id string, d Date, start Clock, minutes Minutes) Session {
	return Session{ID: id, Date: d, Start: &start, Ends: ptr(start + Clock(minutes)), Minutes: minutes,
		Playing: true, Stage: PassageStage, Part: "tide/slate", Visit: ptr(1), Visits: ptr(3)}
}

var day1 = NewDate(2027, 1, 14)

func TestFollow(t *testing.T) {
	base := session("a", day1, 570, 10)
	earlierGone := Cancelled{ID: "b", Date: day1, Minutes: 5, Sequence: 4}
	change := func(f func(*Session)) Session { s := base; f(&s); return s }
	for _, c := range []struct {
		name string
		now  []Session
		want int // sequence of the first session now
		gone []Cancelled
	}{
		{"the same", []Session{base}, 2, []Cancelled{earlierGone}},
		{"another day", []Session{change(func(s *Session) { s.Date++ })}, 3, []Cancelled{earlierGone}},
		{"another time", []Session{change(func(s *Session) { s.Start = ptr(Clock(575)) })}, 3, []Cancelled{earlierGone}},
		{"no time", []Session{change(func(s *Session) { s.Start = nil })}, 3, []Cancelled{earlierGone}},
		{"another end", []Session{change(func(s *Session) { s.Ends = ptr(Clock(585)) })}, 3, []Cancelled{earlierGone}},
		{"another length", []Session{change(func(s *Session) { s.Minutes = 15 })}, 3, []Cancelled{earlierGone}},
		{"more visits", []Session{change(func(s *Session) { s.Visits = ptr(5) })}, 3, []Cancelled{earlierGone}},
		{"equal behind other pointers", []Session{change(func(s *Session) { s.Start, s.Visits = ptr(Clock(570)), ptr(3) })}, 2, []Cancelled{earlierGone}},
		{"gone", nil, 0, []Cancelled{{ID: "a", Date: day1, Start: ptr(Clock(570)), Minutes: 10, Sequence: 3}, earlierGone}},
		{"back", []Session{session("b", day1, 570, 5), base}, 5, nil},
		{"new", []Session{session("c", day1, 600, 5), base}, 0, []Cancelled{earlierGone}},
	} {
		t.Run(c.name, func(t *testing.T) {
			stood := base
			stood.Sequence = 2
			earlier := &Plan{Sessions: []Session{stood}, Cancelled: []Cancelled{earlierGone}}
			p := &Plan{Sessions: c.now}
			p.Follow(earlier)
			if len(p.Sessions) > 0 && p.Sessions[0].Sequence != c.want {
				t.Errorf("sequence %d, want %d", p.Sessions[0].Sequence, c.want)
			}
			if !reflect.DeepEqual(p.Cancelled, c.gone) {
				t.Errorf("cancelled %+v, want %+v", p.Cancelled, c.gone)
			}
		})
	}
}

func TestFollowDays(t *testing.T) {
	with := func(ss ...Session) *Plan { return &Plan{Sessions: ss} }
	a, b := session("a", day1, 570, 10), session("b", day1, 585, 10)
	c := session("c", day1+1, 570, 10)
	chain := []struct {
		name string
		plan *Plan
		want []ChangedDay
	}{
		{"first plan", with(a, b), nil},
		{"listed in another order", with(b, a), nil},
		{"a new day", with(a, b, c), nil},
		{"one less", with(a, c), []ChangedDay{{day1, 1, 2}}},
		{"emptied", with(c), []ChangedDay{{day1, 2, 2}}},
		{"still empty", with(c), []ChangedDay{{day1, 2, 2}}},
		{"back", with(a, c), []ChangedDay{{day1, 3, 2}}},
		{"both change", with(a, b), []ChangedDay{{day1, 4, 2}, {day1 + 1, 1, 1}}},
	}
	var earlier *Plan
	for _, step := range chain {
		step.plan.Follow(earlier)
		if !reflect.DeepEqual(step.plan.ChangedDays, step.want) {
			t.Errorf("%s: %v, want %v", step.name, step.plan.ChangedDays, step.want)
		}
		earlier = step.plan
	}
}

func TestFollowKeepsTheCalendar(t *testing.T) {
	first := &Plan{Calendar: "00ff"}
	p := &Plan{Calendar: "1234"}
	p.Follow(first)
	if p.Calendar != "00ff" {
		t.Errorf("calendar %q", p.Calendar)
	}
	p = &Plan{Calendar: "1234"}
	p.Follow(&Plan{})
	if p.Calendar != "1234" {
		t.Errorf("calendar %q, want its own when the earlier plan has none", p.Calendar)
	}
}

func TestByDate(t *testing.T) {
	untimed := func(id string, stage Stage) Session { return Session{ID: id, Date: day1, Stage: stage} }
	p := &Plan{Sessions: []Session{
		untimed("v1", PassageStage), untimed("v2", PassageStage), untimed("r", ReadStage),
		untimed("w", WarmUpStage), untimed("rec", RecordingsStage), untimed("l", ListeningStage),
	}}
	want := []string{"l", "rec", "w", "r", "v1", "v2"}
	for i, s := range p.ByDate()[day1] {
		if s.ID != want[i] {
			t.Errorf("place %d: %s, want %s", i, s.ID, want[i])
		}
	}
	p = &Plan{Sessions: []Session{session("late", day1, 900, 5), session("early", day1, 600, 5)}}
	if got := p.ByDate()[day1][0].ID; got != "early" {
		t.Errorf("first is %s", got)
	}
}

// A calendar as a program that follows RFC 5546 keeps it: by id, the higher
// sequence wins, a cancelled entry stays known but is not shown.
type calendar map[string]held

type held struct {
	sequence int
	text     string // empty: cancelled
}

func (c calendar) take(t *rapid.T, id string, sequence int, text string) {
	old, known := c[id]
	if known && sequence == old.sequence && text != old.text {
		t.Fatalf("%s changed from %q to %q with sequence %d as before", id, old.text, text, sequence)
	}
	if !known || sequence > old.sequence {
		c[id] = held{sequence, text}
	}
}

func (c calendar) shown() map[string]string {
	out := map[string]string{}
	for id, h := range c {
		if h.text != "" {
			out[id] = h.text
		}
	}
	return out
}

func textOf(s *Session) string {
	return fmt.Sprint(s.Date, *s.Start, *s.Ends, s.Minutes, *s.Visits)
}

func dayText(ss []*Session) string {
	var out string
	for _, s := range ss {
		out += s.ID + " " + textOf(s) + "\n"
	}
	return out
}

// Any chain of plans, with a calendar that takes in only some of them, ends up
// with the last, entry for entry and day for day.
func TestFollowedCalendarsEndRight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		perSession, perDay := calendar{}, calendar{}
		var earlier *Plan
		n := rapid.IntRange(1, 6).Draw(t, "plans")
		for k := range n {
			p := &Plan{}
			for _, id := range []string{"a", "b", "c", "d"} {
				if !rapid.Bool().Draw(t, "placed "+id) {
					continue
				}
				d := day1 + Date(rapid.IntRange(0, 2).Draw(t, "day"))
				start := Clock(rapid.IntRange(0, 1).Draw(t, "start") * 30)
				p.Sessions = append(p.Sessions, session(id, d, start, Minutes(rapid.IntRange(1, 2).Draw(t, "steps")*5)))
			}
			p.Follow(earlier)
			again := *p
			again.Sessions = append([]Session(nil), p.Sessions...)
			again.Follow(earlier)
			if !reflect.DeepEqual(*p, again) {
				t.Fatalf("following twice differs: %+v, %+v", *p, again)
			}
			earlier = p
			if k < n-1 && !rapid.Bool().Draw(t, "taken in") {
				continue
			}
			want, wantDays := map[string]string{}, map[string]string{}
			for i := range p.Sessions {
				s := &p.Sessions[i]
				want[s.ID] = textOf(s)
				perSession.take(t, s.ID, s.Sequence, textOf(s))
			}
			for _, c := range p.Cancelled {
				perSession.take(t, c.ID, c.Sequence, "")
			}
			days, counts := p.ByDate(), map[Date]int{}
			for _, c := range p.ChangedDays {
				counts[c.Date] = c.Sequence
				if len(days[c.Date]) == 0 {
					perDay.take(t, c.Date.String(), c.Sequence, "")
				}
			}
			for d, ss := range days {
				wantDays[d.String()] = dayText(ss)
				perDay.take(t, d.String(), counts[d], dayText(ss))
			}
			if got := perSession.shown(); !reflect.DeepEqual(got, want) {
				t.Fatalf("plan %d: calendar of sessions %v, plan %v", k, got, want)
			}
			if got := perDay.shown(); !reflect.DeepEqual(got, wantDays) {
				t.Fatalf("plan %d: calendar of days %v, plan %v", k, got, wantDays)
			}
		}
	})
}
