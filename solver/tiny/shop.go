package tiny

import (
	"fmt"
	"slices"

	"primaprova/model"
	"primaprova/model/invent"
)

// Job is worked on for length of the days release..due-1.
type Job struct{ Release, Due, Length int }

// Shop is a season of jobs, each visit left out costing 1.
func Shop(days int, jobs ...Job) *Case {
	from := model.NewDate(2027, 1, 11)
	s := &model.Season{TimeZone: "Europe/Oslo", From: from, To: from + model.Date(days-1), Limits: model.DefaultLimits(), Habits: model.DefaultHabits()}
	s.Limits.Playing.Every, s.Limits.WarmUp, s.Limits.Heavy = 5, 0, 100
	s.Limits.RiseFloor = model.NoLimit
	h := &s.Habits
	h.LeastGaps, h.PreferredGaps, h.ReadyDays, h.FreshDays = []int{1}, []int{days}, 0, days
	h.VisitValues = []int{1}
	part := model.Part{ID: "w", Arrives: from, ReadThrough: 5}
	for i, j := range jobs {
		part.Passages = append(part.Passages, model.Passage{ID: fmt.Sprint(i + 1), Hard: 1, Visits: slices.Repeat([]model.Minutes{5}, j.Length),
			Due: from + model.Date(j.Due), Found: from + model.Date(j.Release)})
	}
	first := model.Service{Kind: model.Rehearsal, Date: s.To + 1, Start: 600, Lasts: 60}
	s.Programmes = []model.Programme{{ID: "a", Services: []model.Service{first}, Parts: []model.Part{part}}}
	return &Case{Season: s, History: &model.History{Today: from, Stages: map[string]model.Date{"a/w/read-through": from - 1}, Visits: map[string][]model.Date{}}}
}

// Late makes a job that is not finished cost 1, however much of it is: all
// recipes get the length of the longest, of which a job's last visits are
// still to come, and only the very last visit is worth anything.
func (c *Case) Late() *Case {
	jobs := c.Season.Programmes[0].Parts[0].Passages
	most := 0
	for i := range jobs {
		most = max(most, len(jobs[i].Visits))
	}
	for i := range jobs {
		for n := most - len(jobs[i].Visits); n > 0; n-- {
			jobs[i].Visits = append(jobs[i].Visits, 5)
			name := "a/w/" + jobs[i].ID
			c.History.Visits[name] = append(c.History.Visits[name], c.Season.From-model.Date(n))
		}
	}
	c.Season.Habits.VisitValues = append(make([]int, most-1), 1)
	return c
}

func Shifted(jobs []Job, by int) []Job {
	out := slices.Clone(jobs)
	for i := range out {
		out[i].Due += by
	}
	return out
}

// Every gives the jobs of a task that returns each period, as far as they are
// due by the end.
func Every(period, due, length, end int) (out []Job) {
	for at := 0; at+due <= end; at += period {
		out = append(out, Job{at, at + due, length})
	}
	return out
}

// LeftOf gives the ids that a plan leaves out, by part.
func LeftOf(p *model.Plan) (parts []string, ids map[string][]string) {
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

// FewWeeks are seasons that other solvers can do whole: three weeks with
// everything placed, with too little room, with late parts, with an estimate only;
// and a fortnight or so with a record, a standing plan and pins.
func FewWeeks() (out []*Case) {
	for _, z := range []invent.Size{
		{Weeks: 3, Programmes: 1, Parts: 2, Passages: 4, Lead: 16, Tightness: 0.6, Irregular: true, Seed: 1},
		{Weeks: 3, Programmes: 1, Parts: 2, Passages: 3, Lead: 12, Tightness: 1.3, Irregular: true, Seed: 2},
		{Weeks: 3, Programmes: 2, Parts: 2, Passages: 2, Lead: 14, Tightness: 0.8, Late: 0.5, Irregular: true, Seed: 3},
		{Weeks: 3, Programmes: 2, Parts: 1, Passages: 2, Lead: 12, Tightness: 0.7, Estimates: 1, Seed: 4},
	} {
		out = append(out, &Case{Season: invent.Season(z)})
	}
	for seed := 5000; len(out) < 12; seed++ {
		if c := Draw(DieOf(seed), Size{16, 4, 3}); c.History != nil && len(c.Season.Wanted(c.History)) > 8 {
			out = append(out, c)
		}
	}
	return out
}

// Middling is a season of some weeks that is tight enough to need every step.
func Middling(seed uint64) *model.Season {
	z := invent.Demo(seed)
	z.Weeks, z.Programmes, z.Parts, z.Passages, z.Tightness = 12, 3, 3, 8, 0.45
	return invent.Season(z)
}
