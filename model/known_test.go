package model

import (
	"slices"
	"testing"
)

// TestKept: half after eleven months, all of it where it never lay in the past.
func TestKept(t *testing.T) {
	d := march(1)
	for _, x := range []struct {
		played Date
		want   int
	}{{d, 100}, {d + 5, 100}, {d - 335, 50}, {d - 670, 25}, {d - 3350, 0}} {
		if got := Kept(x.played, d); got != x.want {
			t.Errorf("played %v, again %v: %d %%, not %d", x.played, d, got, x.want)
		}
	}
}

// TestKnownRecipe: known passages have fewer and shorter visits, two at least of several;
// recipes of the player's own stand.
func TestKnownRecipe(t *testing.T) {
	s, _ := fixture()
	s.Habits = DefaultHabits()
	for _, x := range []struct {
		p    Passage
		want []Minutes
	}{
		{Passage{Hard: 2}, []Minutes{10, 10, 5, 5}},
		{Passage{Hard: 2, Kept: 50}, []Minutes{10, 5, 5}},
		{Passage{Hard: 2, Kept: 100}, []Minutes{5, 5}},
		{Passage{Hard: 3, Minutes: 40, Kept: 100}, []Minutes{20, 15, 15}},
		{Passage{Hard: 3, Visits: []Minutes{20, 10}, Kept: 100}, []Minutes{20, 10}},
	} {
		var got []Minutes
		for _, v := range s.Recipe(&x.p) {
			got = append(got, v.Minutes)
		}
		if !slices.Equal(got, x.want) {
			t.Errorf("%+v: %v, not %v", x.p, got, x.want)
		}
	}
	if p := (Part{Estimate: 90, Kept: 50}); p.estimated() != 68 {
		t.Errorf("an estimate of 90 min of which half is kept: %v", p.estimated())
	}
}

// TestComesBack: gaps double until the days are through, the last takes what is left.
func TestComesBack(t *testing.T) {
	s, _ := fixture()
	s.Habits = DefaultHabits()
	for _, x := range []struct {
		span int
		want []int
	}{{0, nil}, {13, nil}, {19, nil}, {20, []int{7}}, {27, []int{14}}, {33, []int{14}}, {83, []int{14, 28, 28}}, {300, []int{14, 28, 56, 112}}} {
		q := Passage{Hard: 2}
		recipe := s.Recipe(&q)
		var got []int
		for _, v := range s.comeBack(&q, recipe, x.span)[len(recipe):] {
			got = append(got, v.Preferred)
			if v.Least != max(1, v.Preferred/2) || v.Minutes != s.Habits.Upkeep {
				t.Errorf("over %d days: %+v", x.span, v)
			}
		}
		if !slices.Equal(got, x.want) {
			t.Errorf("over %d days: %v, not %v", x.span, got, x.want)
		}
	}
}

// TestLasting: what a work's duration says of its stages.
func TestLasting(t *testing.T) {
	h := DefaultHabits()
	for _, x := range []struct {
		duration          Minutes
		bars              int
		listen, read, rec Minutes
	}{{32, 0, 32, 50, 20}, {0, 300, 10, 15, 10}, {0, 301, 11, 20, 11}, {4, 900, 4, 10, 4}, {160, 0, 160, 90, 20}, {0, 0, 30, 30, 20}} {
		p := Part{Listening: h.Listening, ReadThrough: h.ReadThrough, Recordings: h.Recordings}
		p.Lasting(x.duration, x.bars, &h)
		if p.Listening != x.listen || p.ReadThrough != x.read || p.Recordings != x.rec {
			t.Errorf("%v, %d bars: %v %v %v", x.duration, x.bars, p.Listening, p.ReadThrough, p.Recordings)
		}
	}
}

// Unnamed passages that were begun stay when the estimate becomes smaller.
func TestUnnamedThatWereBegun(t *testing.T) {
	s, _ := fixture()
	part := &s.Programmes[0].Parts[0]
	part.Passages, part.Estimate = nil, 200
	names := func(h *History) (out []string) {
		for _, p := range s.Work(h)[0].Passages {
			out = append(out, p.Passage.ID)
		}
		return out
	}
	if n := len(names(nil)); n < 3 {
		t.Fatalf("%d passages of an estimate of %v", n, part.Estimate)
	}
	h, remarks := s.Replay([]Event{{Entry: 1, Kind: Done, Date: march(3), Session: VisitID(PassageName(slate, UnnamedID(3)), 1)}}, nil, Replaying{Today: march(4)})
	if part.Estimate = 40; len(remarks) > 0 || !slices.Equal(names(nil), []string{UnnamedID(1)}) || !slices.Equal(names(h), []string{UnnamedID(3)}) {
		t.Errorf("%q, after a visit of the third %q, %v", names(nil), names(h), remarks)
	}
}
