package solver

import (
	"context"

	"primaprova/model"
)

// estimate looks for the longest estimate that could take the place of all
// marked passages of a part asked about, or of a longer estimate: so much time
// for it, without saying for what. A part of which passages were worked at or
// found keeps them.
func (l *looking) estimate(ctx context.Context) (out []Offer, err error) {
	s := l.p.season
	ordinary := model.RecipeMinutes(s.Recipe(&model.Passage{Hard: 2}))
	for i := range l.p.parts {
		q := &l.p.parts[i]
		part := q.work.Part
		if !l.parts[q.work.Name] || len(q.work.Passages) < 2 || part.Estimate > 0 && len(part.Passages) > 0 {
			continue
		}
		var sum model.Minutes
		done := false
		for k := range q.work.Passages {
			sum += model.RecipeMinutes(q.work.Passages[k].Recipe)
			done = done || len(q.work.Passages[k].Done) > 0 || q.work.Passages[k].Passage.Found != 0
		}
		most := int(sum/ordinary) + 1
		if part.Estimate > 0 {
			most = len(q.work.Passages) - 1
		}
		if done || most < 1 {
			continue
		}
		// More of it is less of the estimate: the least n that fits is the longest.
		n, t, smallest, err := l.least(ctx, 0, most-1, func(n int) change {
			c := edited(s, func(name string, p *model.Part) {
				if name == q.work.Name {
					p.Passages, p.Estimate = nil, ordinary*model.Minutes(most-n)
				}
			})
			return change{c, func(p *problem) bid { return p.bidOf(l.placed, l.also(p, q.work.Name)) }}
		})
		if err != nil {
			return out, err
		}
		if t == nil {
			continue
		}
		o, err := l.offer(ctx, Offer{Kind: EstimateOffer, Part: q.work.Name, Minutes: ordinary * model.Minutes(most-n), Smallest: smallest || n == 0}, t)
		if err != nil {
			return out, err
		}
		out = append(out, one(o)...)
	}
	return out, nil
}

// also asks, beside what is asked about, for everything of a part as it is in a
// changed season.
func (l *looking) also(p *problem, part string) map[string]bool {
	out := map[string]bool{}
	for id := range l.asked {
		out[id] = true
	}
	for i := range p.parts {
		q := &p.parts[i]
		if q.work.Name != part {
			continue
		}
		for _, st := range stages {
			out[model.StageID(part, st)] = true
		}
		for k := q.first; k < q.last; k++ {
			v := &p.passages[k]
			for j := range v.visits {
				out[model.VisitID(v.work.Name, v.done+j+1)] = true
			}
		}
	}
	return out
}
