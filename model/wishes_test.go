package model

import (
	"math/rand/v2"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// TestWishesByHand: the values are worked out by hand from the formulas of the
// wishes and the fixture's days; the formulas are the program's own definition.
func TestWishesByHand(t *testing.T) {
	record := func(today int) *History {
		return &History{Today: march(today), Stages: map[string]Date{slate + "/listening": march(1), slate + "/read-through": march(2)},
			Visits: map[string][]Date{pageA: {march(3)}, pageB: {march(3)}}}
	}
	for _, c := range []struct {
		name string
		wish Wish
		want float64
		h    *History
		do   func(s *Season, p *Plan, standing *Plan)
	}{
		{name: "all planned", wish: Coverage, want: 0},
		// An ordinary passage weighs 2, five minutes of a fourth visit are worth 2.
		{name: "fourth visit left out", wish: Coverage, want: 4, do: func(s *Season, p, _ *Plan) { p.leaveOut(s, nil, pageA+"/visit-4") }},
		// Exposed, it weighs 4.
		{name: "exposed", wish: Coverage, want: 8, do: func(s *Season, p, _ *Plan) {
			s.Programmes[0].Parts[0].Passages[0].Exposed = true
			p.leaveOut(s, nil, pageA+"/visit-4")
		}},
		{name: "stages", wish: Coverage, want: 40*4 + 3*3, do: func(s *Season, p, _ *Plan) {
			p.leaveOut(s, nil, slate+"/listening")
			p.leaveOut(s, nil, slate+"/recordings")
		}},
		{name: "the past is no longer wanted", wish: Coverage, want: 0, h: record(4)},

		// Ready by the 9th: A ends on the 10th, B on the 7th.
		{name: "one day late", wish: ReadyBy, want: 1},
		{name: "own due date", wish: ReadyBy, want: 1 + 2, do: func(s *Season, _, _ *Plan) { s.Programmes[0].Parts[0].Passages[1].Due = march(8) }},
		{name: "last visit left out", wish: ReadyBy, want: 0, do: func(s *Season, p, _ *Plan) { p.leaveOut(s, nil, pageA+"/visit-4") }},

		{name: "no standing plan", wish: Closeness, want: 0, h: record(4)},
		// Near days weigh 3, the days from a week on 2; that a session moves at all weighs three days.
		{name: "moved later", wish: Closeness, want: 3*(2+3) + 2*(1+3), h: record(4), do: func(_ *Season, p, standing *Plan) {
			*standing = clonePlan(p)
			p.session(pageB + "/visit-3").Date = march(9)        // from the 7th
			p.session(slate + "/recordings").Date = march(12)    // from the 11th, a week from today
			p.session(pageA + "/visit-1").Date = march(5)        // done: not planned at all
			standing.session(pageA + "/visit-2").Date = march(3) // stood before today
		}},
		{name: "moved earlier", wish: Closeness, want: 3 * (1 + 3), h: record(4), do: func(_ *Season, p, standing *Plan) {
			*standing = clonePlan(p)
			p.session(pageA + "/visit-4").Date = march(9)
		}},
		{name: "left out is no move", wish: Closeness, want: 0, h: record(4), do: func(s *Season, p, standing *Plan) {
			*standing = clonePlan(p)
			p.leaveOut(s, nil, pageA+"/visit-4")
		}},

		{name: "light days", wish: Body, want: 0},
		// Half the cap less the warm-up: 20 min a day, 40 for two days. The 3rd
		// has 25 (5 over), the 2nd and 3rd have 45 (5 over).
		{name: "heavy days", wish: Body, want: 5 + 5, do: func(s *Season, _, _ *Plan) { s.Limits.Heavy = 50 }},
		// First week 20 min of read-through and 60 of visits, second 5 of a visit
		// and 90 of the rehearsal.
		{name: "rise of the week", wish: Body, want: 95 - 80, do: func(s *Season, _, _ *Plan) { s.Limits.Rise, s.Limits.RiseFloor = 0, 0 }},
		{name: "rise of the week by share", wish: Body, want: 95 - 1.01*80, do: func(s *Season, _, _ *Plan) { s.Limits.Rise, s.Limits.RiseFloor = 1, 0 }},
		{name: "rise over what was played", wish: Body, want: 95 - 10 - 35, do: func(s *Season, _, _ *Plan) { s.Limits.Rise, s.Limits.RiseFloor = 0, 0 },
			h: &History{Today: march(4), Played: map[Date]Minutes{march(3): 10, march(4): 99}}},

		{name: "gaps as preferred", wish: Spacing, want: 0},
		{name: "gap of three days for two", wish: Spacing, want: 1, do: func(_ *Season, p, _ *Plan) {
			p.session(pageB + "/visit-2").Date = march(6)
			p.session(pageB + "/visit-3").Date = march(10)
		}},
		{name: "gap from a visit done", wish: Spacing, want: 2, h: record(4), do: func(_ *Season, p, _ *Plan) {
			p.session(pageA + "/visit-2").Date = march(7) // four days for two
			p.session(pageA + "/visit-3").Date = march(10)
			p.session(pageA + "/visit-4").Date = march(11)
		}},
		{name: "finished too early", wish: Spacing, want: 2, do: func(s *Season, _, _ *Plan) { s.Habits.FreshDays = 3 }},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, p := fixture()
			standing := &Plan{}
			if c.do != nil {
				c.do(s, p, standing)
			}
			if standing.Sessions == nil {
				standing = nil
			}
			if got := s.Measure(p, c.h, standing)[c.wish]; got < c.want-1e-9 || got > c.want+1e-9 {
				t.Errorf("%v: %v instead of %v %v", c.wish, got, c.want, c.wish.Unit())
			}
		})
	}
}

func clonePlan(p *Plan) Plan {
	c := *p
	c.Sessions = append([]Session(nil), p.Sessions...)
	c.Unplaced = append([]Unplaced(nil), p.Unplaced...)
	return c
}

func TestMoveCost(t *testing.T) {
	for days, want := range map[Date]int{0: 3, 6: 3, 7: 2, 20: 2, 21: 1, 200: 1} {
		stood := march(1) + days
		for by, cost := range map[Date]int{0: 0, 1: 4 * want, -1: 4 * want, 5: 8 * want, -30: 33 * want} {
			if got := MoveCost(stood, stood+by, march(1)); got != cost {
				t.Errorf("%d days ahead, moved by %d: %d instead of %d", days, by, got, cost)
			}
		}
	}
}

func TestMeasuresInOrder(t *testing.T) {
	less := func(a, b Measures) bool { return a.Less(b) }
	if !less(Measures{1, 99, 0, 99, 0}, Measures{2, 0, 0, 0, 0}) || less(Measures{1, 2}, Measures{1, 2}) || !less(Measures{1, 2, 0, 0, 3}, Measures{1, 2, 0, 0, 4}) {
		t.Error("measures compare out of order")
	}
	for i, w := range Wishes {
		if int(w) != i || w.String() == "" || w.Unit() == "" {
			t.Errorf("wish %d is not described", i)
		}
	}
}

// TestMeasureKnowsNoOrder: in whatever order a plan lists its sessions, it is
// worth the same, and judged the same.
func TestMeasureKnowsNoOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySeason(t)
		p := firstFit(s, nil)
		standing := clonePlan(p)
		for i := range standing.Sessions {
			standing.Sessions[i].Date += Date(rapid.IntRange(-3, 3).Draw(t, "moved"))
		}
		h := &History{Today: s.From + Date(rapid.IntRange(0, 10).Draw(t, "today"))}
		want, breaches := s.Measure(p, h, &standing), len(s.Audit(p, h))
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "order"), 1))
		q := clonePlan(p)
		r.Shuffle(len(q.Sessions), func(i, j int) { q.Sessions[i], q.Sessions[j] = q.Sessions[j], q.Sessions[i] })
		if got := s.Measure(&q, h, &standing); got != want {
			t.Errorf("%v in another order, %v before", got, want)
		}
		if got := len(s.Audit(&q, h)); got != breaches {
			t.Errorf("%d breaches in another order, %d before", got, breaches)
		}
	})
}

// TestAgain: after a check that did not hold, the recipe goes on from the visit
// named, and its numbers go on counting.
func TestAgain(t *testing.T) {
	s, _ := fixture()
	h := &History{Today: march(9), Visits: map[string][]Date{pageA: {march(3), march(4), march(6), march(8)}}, Again: map[string]int{pageA: 1}}
	var days []int
	var lengths []Minutes
	for _, w := range s.Wanted(h) {
		if w.Passage == pageA {
			days, lengths = append(days, w.Visit), append(lengths, w.Minutes)
			if w.Visits != 8 {
				t.Errorf("visit %d of %d", w.Visit, w.Visits)
			}
		}
	}
	if len(days) != 4 || days[0] != 5 || lengths[0] != 10 || lengths[3] != 5 {
		t.Errorf("visits %v of %v min", days, lengths)
	}
	for _, w := range s.Work(h)[0].Passages {
		if w.Name == pageA && (w.Recipe[4].Least != 1 || w.Recipe[4].Preferred != 2) {
			t.Errorf("the first visit of the second round has no gap: %+v", w.Recipe[4])
		}
	}
}

// TestRecipe: shares of the first estimate in whole steps (the defaults of
// Habits; common practice, no source).
func TestRecipe(t *testing.T) {
	s := &Season{Habits: DefaultHabits()}
	for _, c := range []struct {
		p    Passage
		want []Minutes
	}{
		{Passage{Hard: 1}, []Minutes{10, 10, 5}},
		{Passage{Hard: 2, Minutes: 20}, []Minutes{20, 15, 15, 10}}, // 58 min
		{Passage{Hard: 2, Minutes: 22}, []Minutes{20, 20, 15, 10}}, // 63.8
		{Passage{Hard: 2, Minutes: 13}, []Minutes{15, 10, 10, 5}},  // 37.7
		{Passage{Hard: 3}, []Minutes{15, 10, 10, 10, 5}},           // 51
		{Passage{Hard: 1, Minutes: 1}, []Minutes{5, 5, 5}},
		{Passage{Hard: 1, Visits: []Minutes{30, 12}}, []Minutes{30, 10}},
	} {
		got := s.Recipe(&c.p)
		if len(got) != len(c.want) {
			t.Errorf("%+v: %d visits", c.p, len(got))
			continue
		}
		for k := range got {
			if got[k].Minutes != c.want[k] {
				t.Errorf("%+v: visit %d lasts %v instead of %v", c.p, k+1, got[k].Minutes, c.want[k])
			}
		}
	}
	// A last gap as tests found best is one that the habits leave at no cost, and never
	// one that they forbid: 20 to 40 % of the days from the last visit to the test,
	// where those are a week or two (Cepeda et al., Psychological Science 19,
	// 1095-1102, 2008).
	hard := s.Recipe(&Passage{Hard: 3})
	last := hard[len(hard)-1]
	for interval := s.Habits.ReadyDays + 2; interval <= s.Habits.FreshDays; interval++ {
		if longest := 2 * interval / 5; last.Preferred < longest || interval == s.Habits.FreshDays && last.Least > longest {
			t.Errorf("%d days before the first rehearsal: a last gap of %d days is not among those of %d to %d", interval, longest, last.Least, last.Preferred)
		}
	}
}

// TestISOWeeks: ISO 8601 week dates, from sources of the standard's examples.
func TestISOWeeks(t *testing.T) {
	for _, c := range []struct {
		year       int
		month      time.Month
		day        int
		inYear, wk int
	}{
		{1977, time.January, 1, 1976, 53}, {1978, time.January, 2, 1978, 1}, {2008, time.December, 29, 2009, 1},
		{2010, time.January, 3, 2009, 53}, {2027, time.January, 3, 2026, 53},
	} {
		d := NewDate(c.year, c.month, c.day)
		if y, w := d.ISOWeek(); y != c.inYear || w != c.wk {
			t.Errorf("%v: %d-W%02d instead of %d-W%02d", d, y, w, c.inYear, c.wk)
		}
		if m := d.Monday(); m.Weekday() != time.Monday || m > d || d-m > 6 {
			t.Errorf("%v: the Monday is %v", d, m)
		}
	}
}
