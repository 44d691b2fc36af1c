package model

import (
	"slices"
	"time"
)

// march gives a day of March 2027; the 1st is a Monday.
func march(day int) Date { return NewDate(2027, time.March, day) }

const (
	slate = "tide/slate"
	pageA = "tide/slate/A" // visits 10, 10, 5, 5 min; least gaps 1, 2, 4
	pageB = "tide/slate/B" // visits 15, 10, 10 min; least gaps 1, 2
)

// fixture gives three weeks with one part, and a plan of it made by hand that
// keeps every rule.
func fixture() (*Season, *Plan) {
	s := &Season{Title: "Fixture", TimeZone: "Europe/Oslo", From: march(1), To: march(21), Instrument: "viola",
		Limits: DefaultLimits(), Habits: DefaultHabits()}
	s.Limits.Playing = ByDay[Minutes]{Every: 60, Dates: []Dated[Minutes]{{Range{march(12), march(14)}, 200}}}
	s.Limits.RestDays = []time.Weekday{time.Monday}
	s.Limits.Listening, s.Limits.Passages = 45, 5
	s.Habits.ReadyDays, s.Habits.ShortGaps = 3, false // gaps as they stand: counted by hand
	s.Programmes = []Programme{{ID: "tide",
		Services: []Service{{Kind: Rehearsal, Date: march(12), Start: 600, Lasts: 150, Playing: 60}},
		Parts: []Part{{ID: "slate", Arrives: march(1), Listening: 20, ReadThrough: 20, Recordings: 15,
			Passages: []Passage{{ID: "A", Hard: 2}, {ID: "B", Hard: 1, Minutes: 15}}}},
	}}
	days := map[string]int{
		slate + "/listening": 1, slate + "/read-through": 2, slate + "/recordings": 11,
		pageA + "/visit-1": 3, pageA + "/visit-2": 4, pageA + "/visit-3": 6, pageA + "/visit-4": 10,
		pageB + "/visit-1": 3, pageB + "/visit-2": 5, pageB + "/visit-3": 7,
	}
	p := &Plan{}
	for _, w := range s.Wanted(nil) {
		p.Sessions = append(p.Sessions, w.On(march(days[w.ID])))
	}
	s.Finish(p)
	return s, p
}

// session finds a session by its id.
func (p *Plan) session(id string) *Session {
	for i := range p.Sessions {
		if p.Sessions[i].ID == id {
			return &p.Sessions[i]
		}
	}
	panic("no session " + id)
}

// leaveOut takes a session off the calendar, and says so.
func (p *Plan) leaveOut(s *Season, h *History, id string) {
	for _, w := range s.Wanted(h) {
		if w.ID == id {
			p.Unplaced = append(p.Unplaced, w.LeftOut())
		}
	}
	p.forget(id)
}

func (p *Plan) forget(id string) {
	p.Sessions = slices.DeleteFunc(p.Sessions, func(v Session) bool { return v.ID == id })
}
