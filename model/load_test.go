package model

import (
	"testing"
	"time"
)

// What gives room and what does not: an ordinary day its cap; a rest day, a day
// off, a tour and quiet hours what services take; a cap of nothing nothing.
func TestMostOfADay(t *testing.T) {
	s := &Season{From: march(1), To: march(28), Limits: DefaultLimits(), Habits: DefaultHabits()}
	l := &s.Limits
	l.Playing = ByDay[Minutes]{Every: 120, Dates: []Dated[Minutes]{{Range{march(4), march(4)}, 0}}}
	l.RestDays = []time.Weekday{time.Monday}
	l.DaysOff = []Range{{march(6), march(7)}}
	l.Tours = []Range{{march(16), march(17)}}
	at := func(day int, lasts Minutes, playing int) Service {
		return Service{Kind: Rehearsal, Date: march(day), Start: 600, Lasts: lasts, Playing: playing}
	}
	s.Programmes = []Programme{{ID: "a", Services: []Service{at(8, 150, 65), at(9, 150, 65), at(10, 150, 60), at(11, 300, 60), at(16, 120, 60), at(18, 150, 30), at(18, 150, 30)}}}
	for day, want := range map[int]Minutes{
		1:  0,   // Monday
		2:  120, // ordinary
		4:  0,   // no cap at all
		6:  0,   // off
		8:  98,  // Monday with a rehearsal
		9:  120, // a rehearsal, and room besides
		10: 120,
		11: 120, // services above the cap are above it
		16: 72,  // on tour
		17: 0,
		18: 90, // nothing on top of two services
	} {
		if r := s.RoomOn(march(day)); r.Most() != want {
			t.Errorf("%s: %s, not %s", r.Date, r.Most(), want)
		}
	}
	s.Hours.Every = []Span{{540, 660}}
	l.Quiet.Dates = []Dated[[]Span]{{Range{march(3), march(3)}, []Span{{0, 1440}}}}
	if r := s.RoomOn(march(3)); r.Most() != 0 {
		t.Errorf("a day of quiet hours: %s", r.Most())
	}
}

// Halves of a minute are rounded once: 2 times 97.5 are 195, and five days of
// 97.5 are 487.5, not 490.
func TestServicesAreRoundedOnce(t *testing.T) {
	s := &Season{From: march(1), To: march(14), Limits: DefaultLimits(), Habits: DefaultHabits()}
	for day := range 5 {
		s.Programmes = append(s.Programmes, Programme{ID: "a", Services: []Service{{Kind: Rehearsal, Date: march(2 + day), Lasts: 150, Playing: 65}}})
	}
	s.Programmes = append(s.Programmes, Programme{ID: "b", Services: []Service{{Kind: Rehearsal, Date: march(9), Lasts: 150, Playing: 65}, {Kind: Rehearsal, Date: march(9), Start: 900, Lasts: 150, Playing: 65}}})
	weeks := s.Loads(nil).Weeks()
	if len(weeks) != 2 || weeks[0].Services() != 488 || weeks[1].Services() != 195 {
		t.Errorf("weeks of %s and %s", weeks[0].Services(), weeks[1].Services())
	}
	if r := s.RoomOn(march(9)); r.Services != 195 {
		t.Errorf("a day of %s", r.Services)
	}
	if w := weeks[1]; !w.Measured || w.Rise != -60 || w.AfterNone {
		t.Errorf("the second week rises by %d %%", w.Rise)
	}
}

// A plan's load is its sessions' minutes, each once, by day and by week.
func TestLoadsSumThePlan(t *testing.T) {
	s, p := fixture()
	loads := s.Loads(p)
	var playing, listening Minutes
	for _, v := range p.Sessions {
		if v.Playing {
			playing += v.Minutes
		} else {
			listening += v.Minutes
		}
	}
	all := loads.During(Range{s.From - 100, s.To + 100})
	if all.WarmUp+all.Planned != playing || all.Listening != listening || all.Days != (Range{s.From, s.To}) {
		t.Errorf("%+v; %s played, %s listened", all, playing, listening)
	}
	var sum Load
	for _, w := range loads.Weeks() {
		sum.add(&w.Load)
	}
	if sum.Days = all.Days; sum != all {
		t.Errorf("the weeks sum to %+v, the season to %+v", sum, all)
	}
	if day := loads.On(march(3)); day.Heavy != 0 || day.OfMost() != "0:35 of 1:00" {
		t.Errorf("3 March: %+v, %s", day, day.OfMost())
	}
	weeks := loads.Weeks()
	if f := Fullest(weeks); f != 0 {
		t.Errorf("the fullest week is number %d of %v", f, weeks)
	}
	if empty := loads.On(march(1)); empty.OfMost() != "0:00" || empty.Share() != 0 {
		t.Errorf("a rest day: %s", empty.OfMost())
	}
}
