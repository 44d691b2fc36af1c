package model

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// TestBlocks: common practice of the defaults, 25 min of playing and 5 of rest.
func TestBlocks(t *testing.T) {
	s := &Season{Limits: DefaultLimits(), Habits: DefaultHabits()}
	for _, c := range []struct {
		free []Span
		want []Span
	}{
		{[]Span{{540, 600}}, []Span{{540, 565}, {570, 595}}},
		{[]Span{{540, 583}}, []Span{{540, 565}, {570, 580}}},
		{[]Span{{540, 574}}, []Span{{540, 565}}},
		{[]Span{{540, 544}, {600, 605}}, []Span{{600, 605}}},
	} {
		if got := s.Blocks(c.free); !slices.Equal(got, c.want) {
			t.Errorf("%v: %v instead of %v", c.free, got, c.want)
		}
	}
}

func TestFreeHoursAreLessTheServices(t *testing.T) {
	s, _ := fixture()
	s.Hours.Every, s.Limits.ServiceGap = []Span{{540, 720}, {780, 900}}, 0
	s.Programmes[0].Services[0].Start, s.Programmes[0].Services[0].Lasts = 600, 200 // 10:00-13:20
	if got, want := s.Free(march(12)), []Span{{540, 600}, {800, 900}}; !slices.Equal(got, want) {
		t.Errorf("%v instead of %v", got, want)
	}
	s.Programmes[0].Services[0].Lasts = 300 // 10:00-15:00
	if got, want := s.Free(march(12)), []Span{{540, 600}}; !slices.Equal(got, want) {
		t.Errorf("%v instead of %v", got, want)
	}
}

// TestHeldAlwaysFits: what Room.Held promises. Days of any hours, blocks and
// steps, with sessions of any lengths in whatever order stages and names give:
// if their sum is at most Held they are laid out, one after the other.
func TestHeldAlwaysFits(t *testing.T) {
	laid := 0
	rapid.Check(t, func(t *rapid.T) {
		n := func(label string, lo, hi int) int { return rapid.IntRange(lo, hi).Draw(t, label) }
		s := &Season{From: march(1), To: march(1), Limits: DefaultLimits(), Habits: DefaultHabits()}
		s.Habits.Step = Minutes(n("step", 1, 10))
		step := s.Habits.Step
		s.Limits.Block = Minutes(n("block", 2*int(step), 60))
		s.Limits.BlockRest = Minutes(n("rest", 0, 15))
		s.Hours.Every = anySpans(t)
		if rapid.Bool().Draw(t, "listening hours") {
			s.Habits.ListeningHours.Every = anySpans(t)
		}
		s.Limits.WarmUp = 2 * step
		length := func() Minutes { return step * Minutes(n("steps", 1, 6)) }
		if rapid.Bool().Draw(t, "odd lengths") {
			// A length that is no whole step makes Held allow for any length.
			s.Programmes = []Programme{{Parts: []Part{{Listening: 3*step + 1, ReadThrough: step}}}}
			length = func() Minutes { return Minutes(n("minutes", 1, 6*int(step))) }
			if step == 1 {
				s.Habits.Step, step = 2, 2
				s.Limits.Block = max(s.Limits.Block, 4)
				s.Limits.WarmUp = 3
			}
		}
		held := s.RoomOn(march(1)).Held
		var day []*Session
		var sum Minutes
		for i := range n("sessions", 1, 60) {
			m := length()
			if sum+m > held {
				m = held - sum
				if step == 1 || s.inSteps() {
					m = m / step * step
				}
			}
			if m <= 0 {
				break
			}
			sum += m
			stage := rapid.SampledFrom([]Stage{ListeningStage, RecordingsStage, WarmUpStage, ReadStage, PassageStage}).Draw(t, "stage")
			day = append(day, &Session{ID: string(rune('a'+i%26)) + string(rune('a'+i/26)), Date: march(1), Stage: stage, Minutes: m})
		}
		if !s.LayOut(march(1), day) {
			t.Fatalf("%v of sessions don't fit, held %v, blocks %v", sum, held, s.Blocks(s.Free(march(1))))
		}
		if len(day) > 0 {
			laid++
		}
		slices.SortStableFunc(day, func(a, b *Session) int { return int(*a.Start - *b.Start) })
		free := s.Free(march(1))
		for i, v := range day {
			inside, sound := freely(Touching(free), v)
			if inside != v.Minutes || !sound {
				t.Fatalf("%v-%v does not hold %v of %v", *v.Start, *v.Ends, v.Minutes, free)
			}
			apart := len(s.Habits.ListeningHours.Every) > 0 // listening has its own place
			if i > 0 && (!apart || v.Stage.Playing() && day[i-1].Stage.Playing()) && v.Stage != day[i-1].Stage && inDay(v, day[i-1]) < 0 {
				t.Fatalf("%s comes after %s", v.Stage, day[i-1].Stage)
			}
			if i > 0 && *v.Start < *day[i-1].Ends {
				t.Fatalf("%s begins before %s ends", v.ID, day[i-1].ID)
			}
			whole := Minutes(*v.Ends-*v.Start) == v.Minutes
			if v.Minutes <= wholeSteps*step && !whole && s.Limits.BlockRest > 0 {
				t.Fatalf("%v of %s are split", v.Minutes, v.ID)
			}
		}
	})
	if laid == 0 {
		t.Error("nothing was ever laid out")
	}
}

// TestLayOutAcrossServices: a read-through waits until after the rehearsal
// rather than stand open during it, unless the day is too full to wait.
func TestLayOutAcrossServices(t *testing.T) {
	for _, c := range []struct {
		last    Clock // end of the day's free hours
		minutes Minutes
		want    Span
	}{
		{1020, 35, Span{840, 880}}, // 14:00-14:25, rest, 14:30-14:40
		{860, 30, Span{580, 855}},  // 9:40-9:55 and 14:00-14:15: after the rehearsal are only 20 min
	} {
		s, _ := fixture()
		s.Hours.Every, s.Limits.ServiceGap = []Span{{570, 750}, {840, c.last}}, 0
		s.Programmes[0].Services[0].Start, s.Programmes[0].Services[0].Lasts = 600, 150
		day := []*Session{
			{ID: "a", Date: march(12), Stage: WarmUpStage, Minutes: 10},
			{ID: "b", Date: march(12), Stage: ReadStage, Minutes: c.minutes},
		}
		if !s.LayOut(march(12), day) {
			t.Fatalf("until %v: does not fit", c.last)
		}
		if got := (Span{*day[1].Start, *day[1].Ends}); got != c.want {
			t.Errorf("until %v: %v instead of %v", c.last, got, c.want)
		}
	}
}

func TestLayOutLeavesAloneWhatDoesNotFit(t *testing.T) {
	s, p := fixture()
	s.Hours.Every = []Span{{540, 565}}
	over := s.Finish(p)
	if !slices.Equal(over, []Date{march(2), march(3)}) { // 10 + 20 and 10 + 10 + 15 min
		t.Errorf("days over: %v", over)
	}
	for _, id := range []string{slate + "/read-through", WarmUpID(march(2))} {
		if v := p.session(id); v.Start != nil || v.Ends != nil {
			t.Errorf("%s has hours", id)
		}
	}
	if v := p.session(slate + "/listening"); v.Start == nil || *v.Start != 540 || *v.Ends != 560 {
		t.Error("listening has no hours, though it fits")
	}
}

// TestFinishFromKeepsThePast: days before the given one stay as they stand.
func TestFinishFromKeepsThePast(t *testing.T) {
	s, p := fixture()
	s.Limits.WarmUp = 15
	p.session(WarmUpID(march(5))).Sequence = 3
	s.FinishFrom(p, &History{Today: march(4)})
	for day, want := range map[int]Minutes{2: 10, 3: 10, 4: 15, 5: 15} {
		if got := p.session(WarmUpID(march(day))).Minutes; got != want {
			t.Errorf("the warm-up of the %d. lasts %v instead of %v", day, got, want)
		}
	}
	if got := p.session(WarmUpID(march(5))).Sequence; got != 3 {
		t.Errorf("the warm-up lost its sequence: %d", got)
	}
	if len(p.Days) != 21 || p.Days[2] != (Day{Date: march(3), Cap: 60, WarmUp: 10, Planned: 25}) {
		t.Errorf("days: %+v", p.Days)
	}
}
