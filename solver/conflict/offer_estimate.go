package conflict

import (
	"context"

	"primaprova/model"
	"primaprova/solver/instance"
	"primaprova/solver/oracle"
)

// estimate looks for the longest estimate that could take the place of all
// marked passages of a part asked about, or of a longer estimate: so much time
// for it, without saying for what. A part of which passages were worked at or
// found keeps them.
func (l *looking) estimate(ctx context.Context) (out []Offer, err error) {
	s := l.p.Season
	ordinary := model.RecipeMinutes(s.Recipe(&model.Passage{Hard: 2}))
	for i := range l.p.Parts {
		q := &l.p.Parts[i]
		part := q.Work.Part
		if !l.parts[q.Work.Name] || len(q.Work.Passages) < 2 || part.Estimate > 0 && len(part.Passages) > 0 {
			continue
		}
		var sum model.Minutes
		done := false
		for k := range q.Work.Passages {
			sum += model.RecipeMinutes(q.Work.Passages[k].Recipe)
			done = done || len(q.Work.Passages[k].Done) > 0 || q.Work.Passages[k].Passage.Found != 0
		}
		most := int(sum/ordinary) + 1
		if part.Estimate > 0 {
			most = len(q.Work.Passages) - 1
		}
		if done || most < 1 {
			continue
		}
		// More of it is less of the estimate: the least n that fits is the longest.
		n, t, smallest, err := l.least(ctx, 0, most-1, func(n int) change {
			c := edited(s, func(name string, p *model.Part) {
				if name == q.Work.Name {
					p.Passages, p.Estimate = nil, ordinary*model.Minutes(most-n)
				}
			})
			return change{c, func(p *instance.Instance) oracle.Demand { return oracle.DemandOf(p, l.placed, l.also(p, q.Work.Name)) }}
		})
		if err != nil {
			return out, err
		}
		if t == nil {
			continue
		}
		o, err := l.offer(ctx, Offer{Kind: EstimateOffer, Part: q.Work.Name, Minutes: ordinary * model.Minutes(most-n), Smallest: smallest || n == 0}, t)
		if err != nil {
			return out, err
		}
		out = append(out, one(o)...)
	}
	return out, nil
}

// also asks, beside what is asked about, for everything of a part as it is in a
// changed season.
func (l *looking) also(p *instance.Instance, part string) map[string]bool {
	out := map[string]bool{}
	for id := range l.asked {
		out[id] = true
	}
	for i := range p.Parts {
		q := &p.Parts[i]
		if q.Work.Name != part {
			continue
		}
		for n := range instance.Stages {
			for _, id := range q.IDs(n) {
				out[id] = true
			}
		}
		for k := q.First; k < q.Last; k++ {
			v := &p.Passages[k]
			for j := range v.Visits {
				out[model.VisitID(v.Work.Name, v.Done+j+1)] = true
			}
		}
	}
	return out
}
