package solver

import (
	"context"
	"slices"

	"primaprova/model"
)

// daily looks for passages whose visits would have to follow each other day by
// day, their least gaps given up: of the parts asked about, and none of them
// in vain.
func (l *looking) daily(ctx context.Context) ([]Offer, error) {
	if !l.has(GapFact) {
		return nil, nil
	}
	var names []string
	for i := range l.p.passages {
		v := &l.p.passages[i]
		if l.parts[l.p.parts[v.part].work.Name] && !v.work.Passage.Unnamed && !v.work.Passage.Daily {
			names = append(names, v.work.Name)
		}
	}
	if len(names) == 0 {
		return nil, nil
	}
	v, t, err := l.try(ctx, l.dailyOf(names))
	if err != nil || v != fits {
		return nil, err
	}
	smallest := true
	for size := (len(names) + 1) / 2; size > 0; size /= 2 {
		for n := 0; n < len(names) && len(names) > 1; {
			fewer := slices.Delete(slices.Clone(names), n, min(n+size, len(names)))
			v, x, err := l.try(ctx, l.dailyOf(fewer))
			if err != nil {
				return nil, err
			}
			if v == fits {
				names, t = fewer, x
				continue
			}
			smallest = smallest && (size > 1 || v == fitsNot)
			n += size
		}
	}
	o, err := l.offer(ctx, Offer{Kind: DailyOffer, Passages: names, Smallest: smallest}, t)
	if err != nil {
		return nil, err
	}
	return []Offer{*o}, nil
}

// dailyOf lets the visits of some passages follow each other day by day.
func (l *looking) dailyOf(names []string) change {
	c := *l.p.season
	c.Programmes = slices.Clone(c.Programmes)
	for i := range c.Programmes {
		p := &c.Programmes[i]
		p.Parts = slices.Clone(p.Parts)
		for j := range p.Parts {
			part := model.PartName(p.ID, p.Parts[j].ID)
			q := &p.Parts[j]
			q.Passages = slices.Clone(q.Passages)
			for k := range q.Passages {
				q.Passages[k].Daily = q.Passages[k].Daily || slices.Contains(names, model.PassageName(part, q.Passages[k].ID))
			}
		}
	}
	return change{&c, l.goal}
}
