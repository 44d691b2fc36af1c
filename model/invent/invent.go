// Package invent makes seasons up, for tests and measurements: any size, any
// tightness, the same one for the same seed. Nothing in it is taken from a
// real orchestra. What it makes passes Validate without faults; warnings it may
// have, since a late part often has more visits than days.
package invent

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sort"
	"time"

	"primaprova/model"
)

// Size says what season is wanted. The zero Size is no season; start from one
// of the named sizes.
type Size struct {
	Weeks      int     // length of the season
	Programmes int     // spread evenly over the season
	Parts      int     // parts of each programme
	Passages   int     // passages of each part, on average
	Lead       int     // most days from a part's arrival to its first rehearsal
	AtOnce     int     // most programmes whose parts are there at once; 0: as Lead has it, otherwise it sets Lead
	Tightness  float64 // need over room of the tightest stretch while no part is late: 0.3 easy, above 1 impossible; 0: the ordinary cap
	Late       float64 // share of parts that arrive in the last two weeks, 0..1
	Irregular  bool    // recipes of the player's own, hardly two alike
	Estimates  float64 // share of parts with an estimate instead of passages, 0..1
	Hours      bool    // the season says when in the day there is time
	RestDays   int     // weekdays without planned playing, 1 to 3; 0: one
	Off        float64 // share of weeks off, 0..0.2; never a programme's own week
	Impossible bool    // one part arrives two days before its last service
	Seed       uint64
}

// Season makes the season of a size.
func Season(z Size) *model.Season {
	from := model.NewDate(2027, time.January, 11) // a Monday
	s := &model.Season{
		Title: fmt.Sprintf("Invented season %d", z.Seed), TimeZone: "Europe/Oslo", Instrument: "double bass",
		From: from, To: from + model.Date(7*z.Weeks-1),
		Limits: model.DefaultLimits(), Habits: model.DefaultHabits(),
	}
	s.Habits.ReadyDays = 3 // the figures of these seasons stay comparable when the default changes
	s.Limits.RestDays = []time.Weekday{time.Monday, time.Sunday, time.Thursday}[:max(1, z.RestDays)]
	s.Limits.Passages = 20 // short visits: the minutes shall bind, not their number
	if z.AtOnce > 0 {
		z.Lead = z.AtOnce * 7 * z.Weeks / z.Programmes
	}
	if z.Hours {
		s.Hours.Every = []model.Span{{From: 570, To: 750}, {From: 840, To: 1050}}
	}
	off := z.weeksOff(s)
	seen := map[string]bool{}
	for i := range z.Programmes {
		r := rand.New(rand.NewPCG(z.Seed, uint64(i)))
		s.Programmes = append(s.Programmes, z.programme(s, r, i, off, seen))
	}
	z.tighten(s)
	z.delay(s)
	shorten(s)
	return s
}

// weeksOff puts the weeks off into the season, evenly, and gives their numbers.
func (z Size) weeksOff(s *model.Season) map[int]bool {
	n := int(math.Round(z.Off * float64(z.Weeks)))
	off := map[int]bool{}
	for j := range n {
		week := (2*j + 1) * z.Weeks / (2 * n)
		monday := s.From + model.Date(7*week)
		s.Limits.DaysOff = append(s.Limits.DaysOff, model.Range{From: monday, To: monday + 6})
		off[week] = true
	}
	return off
}

// tighten looks for the least cap at which the tightest stretch of days asks
// for no more than Tightness of its room.
func (z Size) tighten(s *model.Season) {
	if z.Tightness <= 0 {
		return
	}
	const least, step = 60, 5 // below it no day would hold a read-through
	cap := func(i int) model.Minutes { return model.Minutes(least + step*i) }
	s.Limits.Playing.Every = cap(sort.Search((480-least)/step, func(i int) bool {
		s.Limits.Playing.Every = cap(i)
		return Tightest(s) <= z.Tightness
	}))
}

// Tightest gives the greatest share of its room that a stretch of days asks
// for, over the stretches that model.Needs names.
func Tightest(s *model.Season) float64 {
	most := 0.0
	for _, n := range s.Needs(nil) {
		if n.TightestNeed > 0 {
			most = max(most, float64(n.TightestNeed)/float64(max(1, n.TightestRoom)))
		}
	}
	return most
}

// delay lets parts arrive late. The caps are set by then: what comes late
// comes on top.
func (z Size) delay(s *model.Season) {
	r := rand.New(rand.NewPCG(z.Seed, 1<<32))
	for i := range s.Programmes {
		p := &s.Programmes[i]
		for j := range p.Parts {
			if r.Float64() < z.Late {
				p.Parts[j].Arrives = max(p.Parts[j].Arrives, p.FirstRehearsal()-model.Date(5+r.IntN(9)))
			}
		}
	}
	if z.Impossible {
		p := &s.Programmes[len(s.Programmes)/2]
		dates := p.Dates("")
		p.Parts[0].Arrives = dates[len(dates)-1].Date - 2
	}
}

// shorten takes the last visits from recipes of the player's own for which
// there are too few days, so that what a plan leaves out it leaves out for want
// of room.
func shorten(s *model.Season) {
	for again := true; again; {
		again = false
		for _, f := range s.Validate() {
			var i, j, k int
			if n, _ := fmt.Sscanf(f.Path, "programmes[%d].parts[%d].passages[%d].visits", &i, &j, &k); n < 3 {
				continue
			}
			q := &s.Programmes[i].Parts[j].Passages[k]
			// An empty list means the ordinary recipe.
			if len(q.Visits) > 0 {
				q.Visits = q.Visits[:len(q.Visits)-1]
				again = true
			}
		}
	}
}
