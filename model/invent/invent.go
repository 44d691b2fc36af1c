// Package invent makes seasons up, for tests and measurements: any size, any
// tightness, the same one for the same seed. Nothing in it is taken from a
// real orchestra.
package invent

import (
	"fmt"
	"math/rand/v2"
	"time"

	"primaprova/model"
)

// Size says what season is wanted. The zero Size is no season; start from
// Demo or Small.
type Size struct {
	Weeks      int     // length of the season
	Programmes int     // spread evenly over the season
	Parts      int     // parts of each programme
	Passages   int     // passages of each part, on average
	Lead       int     // days from a part's arrival to its first rehearsal
	Tightness  float64 // playing minutes wanted over the room there is, about 0.3 (easy) to 1.2 (impossible)
	Late       float64 // share of parts that arrive in the last two weeks, 0..1
	Irregular  bool    // no two recipes alike
	Estimates  float64 // share of parts with an estimate instead of passages, 0..1
	Impossible bool    // one part needs more than its days can hold
	Seed       uint64
}

// Demo is the size of a whole season: 40 weeks, 12 programmes, 48 parts, some
// 670 passages.
func Demo(seed uint64) Size {
	return Size{Weeks: 40, Programmes: 12, Parts: 4, Passages: 14, Lead: 35, Tightness: 0.75, Irregular: true, Seed: seed}
}

// Small is a season for exhaustive checks: two weeks, one or two programmes.
func Small(seed uint64) Size {
	return Size{Weeks: 2, Programmes: 1, Parts: 1, Passages: 2, Lead: 10, Tightness: 0.5, Seed: seed}
}

// Season makes the season of a size.
func Season(z Size) *model.Season {
	r := rand.New(rand.NewPCG(z.Seed, 0x70726f7661))
	from := model.NewDate(2027, time.January, 11)
	s := &model.Season{
		Title: fmt.Sprintf("Invented season %d", z.Seed), TimeZone: "Europe/Oslo", Instrument: "double bass",
		From: from, To: from + model.Date(7*z.Weeks-1),
		Limits: model.DefaultLimits(), Habits: model.DefaultHabits(),
	}
	s.Limits.RestDays = []time.Weekday{time.Monday}
	if z.Weeks >= 20 {
		mid := from + model.Date(7*(z.Weeks/2))
		s.Limits.DaysOff = []model.Range{{From: mid, To: mid + 6}}
	}
	for i := range z.Programmes {
		s.Programmes = append(s.Programmes, programme(s, z, r, i))
	}
	tighten(s, z)
	return s
}

func programme(s *model.Season, z Size, r *rand.Rand, i int) model.Programme {
	// The last programme's week is the season's last; the first one has a lead.
	lead := min(z.Lead, 7*z.Weeks-5)
	room := 7*z.Weeks - lead - 5
	first := s.From + model.Date(lead+room*(i+1)/z.Programmes)
	p := model.Programme{ID: fmt.Sprintf("p%d", i+1), Title: fmt.Sprintf("Programme %d", i+1)}
	if z.Weeks >= 4 {
		first = first.Monday() + 2 // rehearsals from Wednesday, concert on Saturday
	}
	for d := range 3 {
		p.Services = append(p.Services, model.Service{Kind: model.Rehearsal, Date: min(first+model.Date(d), s.To), Start: 600, Lasts: 150, Playing: 55 + r.IntN(15)})
	}
	p.Services = append(p.Services, model.Service{Kind: model.Concert, Date: min(first+3, s.To), Start: 1170, Lasts: 110, Playing: 60 + r.IntN(15)})
	for j := range z.Parts {
		part := model.Part{ID: fmt.Sprintf("w%d", j+1), Work: fmt.Sprintf("Work %d.%d", i+1, j+1),
			Arrives:   max(s.From, first-model.Date(lead)),
			Listening: model.Minutes(20 + 5*r.IntN(10)), ReadThrough: model.Minutes(15 + 5*r.IntN(6)), Recordings: 20}
		if r.Float64() < z.Late {
			part.Arrives = max(s.From, first-model.Date(5+r.IntN(9)))
		}
		n := max(1, z.Passages/2+r.IntN(z.Passages+1))
		if r.Float64() < z.Estimates {
			part.Estimate = model.Minutes(30 * n)
			n = 0
		}
		for k := range n {
			part.Passages = append(part.Passages, passage(z, r, k))
		}
		p.Parts = append(p.Parts, part)
	}
	return p
}

func passage(z Size, r *rand.Rand, k int) model.Passage {
	q := model.Passage{ID: fmt.Sprintf("%d-%d", 20*k+1, 20*k+5+r.IntN(15)), Hard: 1 + r.IntN(3), Exposed: r.IntN(5) == 0}
	q.Bars = q.ID
	if z.Irregular {
		q.Minutes = model.Minutes(6 + r.IntN(10))
		for range 3 + r.IntN(3) {
			q.Visits = append(q.Visits, model.Minutes(5+5*r.IntN(4)))
		}
	}
	return q
}

// tighten sets the caps so that wanted playing over room is z.Tightness, and
// spoils one part if the season is to be impossible.
func tighten(s *model.Season, z Size) {
	var want, days model.Minutes
	for _, w := range s.Work(nil) {
		want += w.Part.ReadThrough
		for i := range w.Passages {
			want += model.RecipeMinutes(w.Passages[i].Recipe)
		}
	}
	var services model.Minutes
	for d := s.From; d <= s.To; d++ {
		r := s.RoomOn(d)
		if !r.Rest {
			days++
			services += min(r.Services+r.WarmUp, 120)
		}
	}
	if days > 0 && z.Tightness > 0 {
		every := (float64(want)/z.Tightness + float64(services)) / float64(days)
		s.Limits.Playing.Every = max(40, model.Minutes(every).ToStep(5))
	}
	if z.Impossible {
		part := &s.Programmes[0].Parts[0]
		part.Arrives = max(s.From, s.Programmes[0].FirstRehearsal()-2)
	}
}
