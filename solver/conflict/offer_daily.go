package conflict

import (
	"context"
	"slices"

	"primaprova/model"
	"primaprova/solver/oracle"
)

// daily looks for passages whose visits would have to follow each other day by
// day, their least gaps given up: of the parts asked about, and none of them
// in vain.
func (l *looking) daily(ctx context.Context) ([]Offer, error) {
	if !l.has(GapFact) {
		return nil, nil
	}
	names := l.spaced()
	if len(names) == 0 {
		return nil, nil
	}
	v, t, err := l.try(ctx, l.dailyOf(names))
	if err != nil || v != oracle.Feasible {
		return nil, err
	}
	names, t, smallest, err := fewer(ctx, l, names, t, l.dailyOf)
	if err != nil {
		return nil, err
	}
	o, err := l.offer(ctx, Offer{Kind: DailyOffer, Passages: names, Smallest: smallest}, t)
	return one(o), err
}

// spaced gives the passages whose least gaps could be given up.
func (l *looking) spaced() (names []string) {
	for i := range l.p.Passages {
		v := &l.p.Passages[i]
		if l.parts[l.p.Parts[v.Part].Work.Name] && !v.Work.Passage.Unnamed && !v.Work.Passage.Upkeep && !v.Work.Passage.Daily {
			names = append(names, v.Work.Name)
		}
	}
	return names
}

// dailyOf lets the visits of some passages follow each other day by day.
func (l *looking) dailyOf(names []string) change {
	return change{edited(l.p.Season, func(part string, p *model.Part) {
		for k := range p.Passages {
			q := &p.Passages[k]
			q.Daily = q.Daily || slices.Contains(names, model.PassageName(part, q.ID))
		}
	}), l.goal}
}
