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
