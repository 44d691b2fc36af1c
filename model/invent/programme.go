package invent

import (
	"fmt"
	"math"
	"math/rand/v2"

	"primaprova/model"
)

// programme makes programme i, counted from 0: rehearsals from Wednesday,
// concert on Saturday, sometimes another on Sunday. The last one fills the
// season's last week.
func (z Size) programme(s *model.Season, r *rand.Rand, i int, off map[int]bool, seen map[string]bool) model.Programme {
	week := min((i+1)*z.Weeks/z.Programmes, z.Weeks-1)
	// Seasons are uneven: now and then two programmes follow close upon another.
	if i > 0 && i < z.Programmes-1 && z.Weeks >= 2*z.Programmes {
		week -= r.IntN(2)
	}
	for off[week] && week > 0 {
		week--
	}
	first := s.From + model.Date(7*week) + 2
	p := model.Programme{ID: fmt.Sprintf("p%d", i+1), Title: fmt.Sprintf("Programme %d", i+1)}
	service := func(kind model.ServiceKind, day, start, lasts int) {
		p.Services = append(p.Services, model.Service{Kind: kind, Date: first + model.Date(day),
			Start: model.Clock(start), Lasts: model.Minutes(lasts), Playing: 55 + r.IntN(15)})
	}
	for day := range 3 {
		service(model.Rehearsal, day, 600, 150)
	}
	service(model.Concert, 3, 1170, 110)
	if z.Weeks >= 10 && r.IntN(4) == 0 {
		service(model.Concert, 4, 1080, 110)
	}
	for j := range z.Parts {
		p.Parts = append(p.Parts, z.part(s, r, i, j, first, seen))
	}
	return p
}

// part makes part j of programme i. The parts of a programme differ in size,
// and balance each other: an orchestra puts one symphony on the programme.
func (z Size) part(s *model.Season, r *rand.Rand, i, j int, first model.Date, seen map[string]bool) model.Part {
	part := model.Part{ID: fmt.Sprintf("w%d", j+1), Work: fmt.Sprintf("Work %d.%d", i+1, j+1),
		Arrives:   max(s.From, first-model.Date(z.Lead-r.IntN(z.Lead/4+1))),
		Listening: model.Minutes(20 + 5*r.IntN(10)), ReadThrough: model.Minutes(15 + 5*r.IntN(6)), Recordings: 20}
	share := 1.0
	if z.Parts > 1 {
		share = 0.5 + float64(j)/float64(z.Parts-1)
	}
	n := max(1, int(math.Round(share*float64(z.Passages)))+r.IntN(3)-1)
	if r.Float64() < z.Estimates {
		part.Estimate = model.Minutes(30 * n)
		return part
	}
	for k := range n {
		part.Passages = append(part.Passages, z.passage(r, k, seen))
	}
	return part
}

// passage makes passage k of a part.
func (z Size) passage(r *rand.Rand, k int, seen map[string]bool) model.Passage {
	q := model.Passage{ID: fmt.Sprintf("%d-%d", 20*k+1, 20*k+5+r.IntN(15))}
	q.Bars = q.ID
	// A long season runs out of recipes: then some do repeat.
	for range 20 {
		q.Hard, q.Exposed = 1+r.IntN(3), r.IntN(6) == 0
		if !z.Irregular {
			return q
		}
		q.Visits = recipe(r)
		key := fmt.Sprint(q.Hard, q.Exposed, q.Visits)
		if !seen[key] {
			seen[key] = true
			break
		}
	}
	return q
}

// recipe makes 3 to 5 visits, the first ones longer.
func recipe(r *rand.Rand) []model.Minutes {
	var out []model.Minutes
	for k := range 3 + r.IntN(3) {
		out = append(out, model.Minutes(5+5*r.IntN([]int{4, 3, 3, 2, 2}[k])))
	}
	return out
}
