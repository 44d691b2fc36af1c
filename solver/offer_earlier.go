package solver

import (
	"context"
	"slices"

	"primaprova/model"
)

// earlier looks for parts that would have to arrive earlier, each by the fewest
// days that let everything be placed: those whose arrival is a reason.
func (l *looking) earlier(ctx context.Context) (out []Offer, err error) {
	s := l.p.season
	for i := range l.p.parts {
		w := l.p.parts[i].work
		reason := slices.ContainsFunc(l.r.Facts, func(f Fact) bool { return f.Kind == ArrivalFact && f.Part == w.Name })
		if !reason && (len(l.r.Facts) > 0 || !l.parts[w.Name]) {
			continue
		}
		at := l.at(w.Name)
		first := s.From + model.Date(l.p.today)
		most := int(at.of(s).Arrives - first)
		if most < 1 {
			continue
		}
		n, t, smallest, err := l.least(ctx, 1, most, func(n int) change {
			c := at.edit(s)
			p := at.of(c)
			p.Arrives -= model.Date(n)
			return change{c, l.goal}
		})
		if err != nil || t == nil {
			if err != nil {
				return out, err
			}
			continue
		}
		o, err := l.offer(ctx, Offer{Kind: EarlierOffer, Part: w.Name, Days: n, Arrives: at.of(s).Arrives - model.Date(n), Smallest: smallest}, t)
		if err != nil {
			return out, err
		}
		out = append(out, *o)
	}
	return out, nil
}

// partAt is the place of a part in a season.
type partAt struct{ i, j int }

// at finds a part by its name, which is that of one.
func (q *Inquiry) at(name string) partAt {
	for i := range q.p.season.Programmes {
		p := &q.p.season.Programmes[i]
		for j := range p.Parts {
			if model.PartName(p.ID, p.Parts[j].ID) == name {
				return partAt{i, j}
			}
		}
	}
	return partAt{}
}

func (a partAt) of(s *model.Season) *model.Part { return &s.Programmes[a.i].Parts[a.j] }

// edit gives a copy of a season in which the part may be changed.
func (a partAt) edit(s *model.Season) *model.Season {
	c := *s
	c.Programmes = slices.Clone(c.Programmes)
	p := &c.Programmes[a.i]
	p.Parts = slices.Clone(p.Parts)
	p.Parts[a.j].Passages = slices.Clone(p.Parts[a.j].Passages)
	return &c
}
