package model

import (
	"fmt"
	"testing"
)

// TestReturn: British Association for Performing Arts Medicine, health tips: at
// most ten minutes more a day for three days, then held for the rest of the
// week; from 60 that is 70, 80, 90, 90, 90, 90, 90.
func TestReturn(t *testing.T) {
	s, _ := fixture()
	s.From, s.To = march(1), march(1)+99
	s.Limits.Playing = ByDay[Minutes]{Every: 120}
	s.Programmes[0].Services[0].Date = s.To
	s.Limits.DaysOff = []Range{{march(3), march(16)}}
	var got []Minutes
	for d := march(17); d <= march(17)+15; d++ {
		got = append(got, s.RoomOn(d).Cap)
	}
	if want := "[60 min 70 min 80 min 90 min 90 min 90 min 90 min 90 min 100 min 110 min 120 min 120 min 120 min 120 min 120 min 120 min]"; fmt.Sprint(got) != want {
		t.Errorf("%v instead of %s", got, want)
	}
	// A day off on the way does not end it, and a service in the time off does.
	s.Limits.DaysOff = append(s.Limits.DaysOff, Range{march(19), march(19)})
	if got := s.RoomOn(march(20)); got.Cap != 90 || !got.Marks.Has(AfterTimeOff) {
		t.Errorf("after a day off on the way: %+v", got)
	}
	s.Programmes[0].Services[0].Date = march(10)
	if got := s.RoomOn(march(17)); got.Cap != 120 || got.Marks != 0 {
		t.Errorf("after a service amid the days off: %+v", got)
	}
	lost := &History{Days: map[Date]DayNote{march(10): Lost}}
	if got := s.With(lost).RoomOn(march(17)); got.Cap != 60 {
		t.Errorf("after days off of which one had a service that was missed: %+v", got)
	}
	s.Programmes[0].Services[0].Missed = true
	if got := s.RoomOn(march(17)); got.Cap != 60 {
		t.Errorf("after days off with a service that one is excused from: %+v", got)
	}
	s.Programmes[0].Services[0].Missed = false
	s.Programmes[0].Services[0].Date = march(17)
	s.Limits.DaysOff[0].To = march(15)
	if got := s.RoomOn(march(16)); got.Cap != 120 {
		t.Errorf("after thirteen days off: %+v", got)
	}
}

func TestMarks(t *testing.T) {
	s, _ := fixture()
	s.Limits.Tours = []Range{{march(20), march(20)}}
	s.Programmes[0].Services = append(s.Programmes[0].Services,
		Service{Kind: Concert, Date: march(14)}, Service{Kind: Concert, Date: march(15)}, Service{Date: march(15), Start: 600})
	for day, want := range map[int]string{12: "[] 200 min true", 13: "[concert tomorrow] 150 min true", 14: "[concert] 200 min false",
		15: "[concert two services] 60 min false", 16: "[] 60 min true", 20: "[on tour] 60 min true"} {
		r := s.RoomOn(march(day))
		if got := fmt.Sprint(words(r.Marks), " ", r.Cap, " ", r.New); got != want {
			t.Errorf("%d March: %s instead of %s", day, got, want)
		}
	}
}

// words gives the marks that are set.
func words(m Marks) (out []string) {
	for i, word := range []string{"concert", "concert tomorrow", "two services", "on tour", "on the way back after time off", "light after pain"} {
		if m.Has(1 << i) {
			out = append(out, word)
		}
	}
	return out
}

// TestMarked: what is said of days with services.
func TestMarked(t *testing.T) {
	s, _ := fixture()
	s.Programmes[0].Services = append(s.Programmes[0].Services, Service{Kind: Concert, Date: march(14)},
		Service{Kind: Concert, Date: march(16)}, Service{Date: march(16), Start: 600})
	say := func(day int, want string) {
		t.Helper()
		if got := fmt.Sprint(s.Marked(march(day), Date.String)); got != want {
			t.Errorf("%d March: %s instead of %s", day, got, want)
		}
	}
	say(13, "[A concert tomorrow: the cap is 75 % of an ordinary one.]")
	say(14, "[A concert today: no passage for the first time.]")
	say(16, "[A concert today: no passage for the first time. Two services: nothing to be played beside them.]")
	s.Limits.TwoServices = 20
	say(16, "[A concert today: no passage for the first time. Two services: 20 min of practice at most.]")
	s.Limits.RestDates = []Range{{march(16), march(16)}}
	say(16, "[]")
}
