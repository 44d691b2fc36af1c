package model

import (
	"slices"
	"testing"
	"time"
)

// TestFree: what is taken off the free hours (common practice, no source).
func TestFree(t *testing.T) {
	for _, c := range []struct {
		name string
		do   func(s *Season)
		want []Span // of the 12th
	}{
		{"half an hour apart by default", func(s *Season) { s.Limits.ServiceGap = DefaultLimits().ServiceGap }, []Span{{540, 570}, {830, 1260}}},
		{"a gap of an hour", func(s *Season) { s.Limits.ServiceGap = 60 }, []Span{{860, 1260}}},
		{"the way counts towards the gap", func(s *Season) {
			s.Limits.ServiceGap, s.Programmes[0].Services[0].Travel = 30, 40
		}, []Span{{540, 560}, {840, 1260}}},
		{"a latest hour", func(s *Season) { s.Limits.Latest.Every = 1200 }, []Span{{540, 600}, {800, 1200}}},
		{"a latest hour of another day", func(s *Season) {
			s.Limits.Latest.Weekday = map[time.Weekday]Clock{time.Monday: 1200}
		}, []Span{{540, 600}, {800, 1260}}},
		{"what other calendars take", func(s *Season) {
			s.Busy = []Busy{{Date: march(11), Span: Span{540, 1260}}, {Date: march(12), Span: Span{900, 1000}},
				{Date: march(12), Span: Span{950, 1020}}, {Date: march(13), Span: Span{540, 1260}}}
		}, []Span{{540, 600}, {800, 900}, {1020, 1260}}},
		{"a concert of the night before", func(s *Season) {
			s.Programmes[0].Services = append(s.Programmes[0].Services, Service{Kind: Concert, Date: march(11), Start: 1380, Lasts: 120, Travel: 500})
		}, []Span{{560, 600}, {800, 1260}}},
		{"the way to a rehearsal of the next morning", func(s *Season) {
			s.Programmes[0].Services = append(s.Programmes[0].Services, Service{Date: march(13), Start: 300, Lasts: 60, Travel: 600})
		}, []Span{{540, 600}, {800, 1140}}},
	} {
		s, _ := fixture()
		s.Hours.Every, s.Limits.ServiceGap = []Span{{540, 720}, {780, 1260}}, 0
		s.Programmes[0].Services[0].Start, s.Programmes[0].Services[0].Lasts = 600, 200 // 10:00-13:20
		c.do(s)
		if got := s.Free(march(12)); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v instead of %v", c.name, got, c.want)
		}
	}
}

func TestTaken(t *testing.T) {
	s, _ := fixture()
	s.Hours.Every = []Span{{540, 720}}
	s.Busy = []Busy{{Date: march(2), Span: Span{0, 600}}, {Date: march(2), Span: Span{570, 610}}, {Date: march(3), Span: Span{720, 900}},
		{Date: march(4), Span: Span{600, 700}}}
	if all, days := s.Taken(); all != 70+100 || days != 2 {
		t.Errorf("%v on %d days", all, days)
	}
}

// TestQuiet: in quiet hours may be listened, not played. With a block of 25
// minutes, rests of 5, and 9:00 to 10:00 and 14:00 to 15:00 free.
func TestQuiet(t *testing.T) {
	for _, c := range []struct {
		name          string
		quiet         []Span
		held, playing Minutes
	}{
		{"none", nil, 85, 75}, // 25 + 25 + 25 + 25, less 3 times 5
		{"the evening", []Span{{840, 1440}}, 45, 75},
		{"some of the evening", []Span{{870, 1440}}, 65, 75},
		{"all day", []Span{{0, 1440}}, 85, 0},
	} {
		s, _ := fixture()
		s.Hours.Every = []Span{{540, 600}, {840, 900}}
		s.Limits.Quiet.Every, s.Limits.Playing.Every = c.quiet, 85
		if r := s.RoomOn(march(3)); r.Held != c.held || r.Playing != c.playing {
			t.Errorf("%s: holds %v, %v may be played; want %v, %v", c.name, r.Held, r.Playing, c.held, c.playing)
		}
	}
	// The plan's listening lies in quiet hours, and then its read-through does.
	s, p := fixture()
	s.Hours.Every, s.Limits.Quiet.Every = []Span{{540, 720}, {1200, 1320}}, []Span{{1200, 1440}}
	s.Finish(p)
	for id, want := range map[string]int{slate + "/listening": 0, slate + "/read-through": 1} {
		v := p.session(id)
		was := *v
		from, to := Clock(1260), Clock(1260)+Clock(v.Minutes)
		v.Start, v.Ends, v.Rests = &from, &to, nil
		if got := s.Audit(p, nil); len(got) != want || want > 0 && got[0].Rule != HoursRule {
			t.Errorf("%s in quiet hours: %v", id, got)
		}
		*v = was
	}
}

// Where lengths are no whole steps, the end of a block may be lost by more of them.
func TestHeldOfOddLengths(t *testing.T) {
	s, _ := fixture()
	spans := []Span{{From: 600, To: 640}, {From: 700, To: 740}}
	var all, blocks Minutes
	for _, b := range s.Blocks(spans) {
		all, blocks = all+b.Length(), blocks+1
	}
	even := s.held(spans)
	s.Programmes[0].Parts[0].ReadThrough++
	if step := s.Habits.Step; blocks < 2 || even != all-(blocks-1)*(wholeSteps-1)*step || s.held(spans) != all-(blocks-1)*(wholeSteps*step-1) {
		t.Errorf("of %v in %d blocks %v in steps of %v, %v in odd lengths", all, blocks, even, step, s.held(spans))
	}
}
