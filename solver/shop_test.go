package solver

import (
	"fmt"
	"slices"

	"primaprova/model"
	"primaprova/model/invent"
)

// job is worked on for length of the days release..due-1.
type job struct{ release, due, length int }

// shop is a season of jobs, each visit left out costing 1.
func shop(days int, jobs ...job) *tiny {
	from := model.NewDate(2027, 1, 11)
	s := &model.Season{TimeZone: "Europe/Oslo", From: from, To: from + model.Date(days-1), Limits: model.DefaultLimits(), Habits: model.DefaultHabits()}
	s.Limits.Playing.Every, s.Limits.WarmUp, s.Limits.Heavy = 5, 0, 100
	s.Limits.RiseFloor = model.NoLimit
	h := &s.Habits
	h.LeastGaps, h.PreferredGaps, h.ReadyDays, h.FreshDays = []int{1}, []int{days}, 0, days
	h.VisitValues = []int{1}
	part := model.Part{ID: "w", Arrives: from, ReadThrough: 5}
	for i, j := range jobs {
		part.Passages = append(part.Passages, model.Passage{ID: fmt.Sprint(i + 1), Hard: 1, Visits: slices.Repeat([]model.Minutes{5}, j.length),
			Due: from + model.Date(j.due), Found: from + model.Date(j.release)})
	}
	first := model.Service{Kind: model.Rehearsal, Date: s.To + 1, Start: 600, Lasts: 60}
	s.Programmes = []model.Programme{{ID: "a", Services: []model.Service{first}, Parts: []model.Part{part}}}
	return &tiny{season: s, history: &model.History{Today: from, Stages: map[string]model.Date{"a/w/read-through": from - 1}, Visits: map[string][]model.Date{}}}
}

// late makes a job that is not finished cost 1, however much of it is: all
// recipes get the length of the longest, of which a job's last visits are
// still to come, and only the very last visit is worth anything.
func (c *tiny) late() *tiny {
	jobs := c.season.Programmes[0].Parts[0].Passages
	most := 0
	for i := range jobs {
		most = max(most, len(jobs[i].Visits))
	}
	for i := range jobs {
		for n := most - len(jobs[i].Visits); n > 0; n-- {
			jobs[i].Visits = append(jobs[i].Visits, 5)
			name := "a/w/" + jobs[i].ID
			c.history.Visits[name] = append(c.history.Visits[name], c.season.From-model.Date(n))
		}
	}
	c.season.Habits.VisitValues = append(make([]int, most-1), 1)
	return c
}

func shifted(jobs []job, by int) []job {
	out := slices.Clone(jobs)
	for i := range out {
		out[i].due += by
	}
	return out
}

// every gives the jobs of a task that returns each period, as far as they are
// due by the end.
func every(period, due, length, end int) (out []job) {
	for at := 0; at+due <= end; at += period {
		out = append(out, job{at, at + due, length})
	}
	return out
}

// leftOf gives the ids that a plan leaves out, by part.
func leftOf(p *model.Plan) (parts []string, ids map[string][]string) {
	ids = map[string][]string{}
	for i := range p.Unplaced {
		u := &p.Unplaced[i]
		if ids[u.Part] == nil {
			parts = append(parts, u.Part)
		}
		ids[u.Part] = append(ids[u.Part], u.ID)
	}
	return parts, ids
}

// fewWeeks are seasons that other solvers can do whole: three weeks with
// everything placed, with too little room, with late parts, with an estimate only;
// and a fortnight or so with a record, a standing plan and pins.
func fewWeeks() (out []*tiny) {
	for _, z := range []invent.Size{
		{Weeks: 3, Programmes: 1, Parts: 2, Passages: 4, Lead: 16, Tightness: 0.6, Irregular: true, Seed: 1},
		{Weeks: 3, Programmes: 1, Parts: 2, Passages: 3, Lead: 12, Tightness: 1.3, Irregular: true, Seed: 2},
		{Weeks: 3, Programmes: 2, Parts: 2, Passages: 2, Lead: 14, Tightness: 0.8, Late: 0.5, Irregular: true, Seed: 3},
		{Weeks: 3, Programmes: 2, Parts: 1, Passages: 2, Lead: 12, Tightness: 0.7, Estimates: 1, Seed: 4},
	} {
		out = append(out, &tiny{season: invent.Season(z)})
	}
	for seed := 5000; len(out) < 12; seed++ {
		if c := tinySeason(dieOf(seed), tinySize{16, 4, 3}); c.history != nil && len(c.season.Wanted(c.history)) > 8 {
			out = append(out, c)
		}
	}
	return out
}

// middling is a season of some weeks that is tight enough to need every step.
func middling(seed uint64) *model.Season {
	z := invent.Demo(seed)
	z.Weeks, z.Programmes, z.Parts, z.Passages, z.Tightness = 12, 3, 3, 8, 0.45
	return invent.Season(z)
}
