package chance

import (
	"testing"

	"primaprova/model"
)

// A day is lost with chance 0.3: what follows from the rules, tried by hand
// over the days that matter. a and b stand for kept and lost.
const a, b = 0.7, 0.3

func TestRulesHold(t *testing.T) {
	for _, c := range []struct {
		name string
		want float64
		set  func() *stage
	}{
		{"a visit that is late makes the next one late: gap 1, two days to spare after it", a*(1-b*b) + b*a*a, func() *stage {
			g := newStage(3, 30) // days 0 and 1 planned; the second visit a day after the first, whenever that is
			g.passage("x", 2, 10, 0, 1)
			return g
		}},
		{"the least gap is kept when time is short", a * a, func() *stage {
			g := newStage(4, 30)
			g.s.Habits.LeastGaps = []int{3}
			g.passage("x", 2, 10, 0, 3)
			return g
		}},
		{"the third visit waits for every first one", a*(1-b*b) + b*a*a, func() *stage {
			// x had two visits; its third stands on day 2, y's first on day 1, of 0..3.
			g := newStage(4, 30)
			q := &g.s.Programmes[0].Parts[0].Passages
			*q = append(*q, model.Passage{ID: "x", Hard: 2, Visits: []model.Minutes{10, 10, 10}})
			g.h.Visits["p/w/x"] = []model.Date{monday - 9, monday - 5}
			w := g.s.Wanted(g.h)[0]
			g.p.Sessions = append(g.p.Sessions, w.On(monday+2))
			g.passage("y", 2, 10, 1)
			return g
		}},
		{"nothing is done before its planned day", a, func() *stage {
			g := newStage(4, 30)
			g.passage("x", 2, 10, 3)
			return g
		}},
		{"the limit of passages holds on days that catch up", a * a, func() *stage {
			g := newStage(2, 60)
			g.s.Limits.Passages = 1
			g.passage("x", 2, 10, 0)
			g.passage("y", 2, 10, 1)
			return g
		}},
		{"without that limit a day catches up", a, func() *stage {
			g := newStage(2, 60)
			g.passage("x", 2, 10, 0)
			g.passage("y", 2, 10, 1)
			return g
		}},
		{"nothing new begins on a day that takes no first visits", a * a, func() *stage {
			g := newStage(3, 10)
			g.s.Limits.NewOnConcerts, g.s.Limits.BeforeConcert = false, 100
			g.s.Programmes = append(g.s.Programmes, model.Programme{ID: "o", Services: []model.Service{{Kind: model.Concert, Date: monday + 1, Start: 1170, Lasts: 60}}})
			g.passage("x", 2, 10, 0)
			g.passage("y", 2, 10, 2)
			return g
		}},
		{"rest days catch nothing up", a * a, func() *stage {
			g := newStage(3, 10)
			g.s.Limits.RestDates = []model.Range{{From: monday + 1, To: monday + 1}}
			g.passage("x", 2, 10, 0)
			g.passage("y", 2, 10, 2)
			return g
		}},
		{"after a lost day the way back begins with half of the room, which is enough for one of two", a * a, func() *stage {
			g := newStage(2, 20)
			g.s.Limits.Return = model.Return{After: 14, Ill: 1, First: 50}
			g.passage("x", 2, 10, 0)
			g.passage("y", 2, 10, 1)
			return g
		}},
		{"a read-through that is late makes the first visit late", a*(1-b*b) + b*a*a, func() *stage {
			g := newStage(3, 30)
			g.h = nil
			g.s.Programmes[0].Parts[0].Listening = 0
			g.passage("x", 2, 10, 1)
			for _, w := range g.s.Wanted(nil) {
				if w.Stage == model.ReadStage {
					g.p.Sessions = append(g.p.Sessions, w.On(monday))
				}
			}
			return g
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			guess := exactly()
			guess.Lost = b
			g := c.set()
			if g.h == nil {
				g.s.Programmes[0].Parts[0].Arrives = monday
			}
			g.wants(t, guess, c.want)
		})
	}
}

// Of two parts with room for one, the one that is due first is done.
func TestDueFirst(t *testing.T) {
	g := newStage(2, 10)
	g.passage("late", 2, 10, 0)
	q := &g.s.Programmes[0].Parts[0].Passages
	*q = append(*q, model.Passage{ID: "soon", Hard: 2, Visits: []model.Minutes{10}, Due: monday + 1})
	for _, w := range g.s.Wanted(g.h) {
		if w.Passage == "p/w/soon" {
			g.p.Sessions = append(g.p.Sessions, w.On(monday)) // listed after the other
		}
	}
	g.wants(t, exactly(), 1) // the other one has a second day
}

// The way back after lost days takes the same room in a play as where the record tells of them.
func TestWayBack(t *testing.T) {
	g := newStage(50, 120)
	l := &g.s.Limits
	l.WarmUp, l.Return, l.Rise = 10, model.Return{After: 14, Ill: 3, First: 50, Rise: 10}, 1000
	l.DaysOff = []model.Range{{From: monday + 24, To: monday + 24}} // goes on with the spell
	g.h.Played = map[model.Date]model.Minutes{}
	for d := range model.Date(20) {
		if d%7 > 0 {
			g.h.Played[monday+d] = 60 + 5*model.Minutes(d%4)
		}
	}
	g.h.Today = monday + 20
	play := newGame(newTable(g.s.With(g.h), g.h, g.p, &Options{Guess: exactly()}))
	for d := 21; d <= 23; d++ {
		play.lost[d] = true
	}
	play.play(play.t.days)
	h := *g.h
	h.Today, h.Days = monday+25, map[model.Date]model.DayNote{monday + 21: model.Lost, monday + 22: model.Lost, monday + 23: model.Lost}
	known, less := g.s.With(&h), 0
	for d := 25; d < play.t.days; d++ {
		want := known.RoomOn(monday + model.Date(d)).Playing
		if got := play.room[d].playing; got != float64(want) {
			t.Errorf("day %d: room for %v minutes, where the record says it %v", d, got, want)
		}
		if want < 110 {
			less++
		}
	}
	if less == 0 {
		t.Error("no day has less room than before")
	}
}
