package conflict

import (
	"cmp"
	"context"
	"slices"

	"primaprova/model"
	"primaprova/solver/oracle"
)

// earlier looks for parts that would have to arrive earlier, each by the fewest
// days that let everything be placed: those whose arrival is a reason.
func (l *looking) earlier(ctx context.Context) (out []Offer, err error) {
	type found struct {
		o Offer
		t *trial
	}
	var all []found
	for _, w := range l.awaited() {
		n, t, smallest, err := l.least(ctx, 1, l.wait(w), func(n int) change { return l.arriving(w.Name, n) })
		if err != nil {
			return nil, err
		}
		if t != nil {
			all = append(all, found{Offer{Kind: EarlierOffer, Part: w.Name, Days: n, Arrives: w.Part.Arrives - model.Date(n), Smallest: smallest}, t})
		}
	}
	slices.SortStableFunc(all, func(a, b found) int { return cmp.Compare(a.o.Days, b.o.Days) })
	for _, f := range all[:min(len(all), l.o.Tuning().EarlierMost)] {
		o, err := l.offer(ctx, f.o, f.t)
		if err != nil {
			return out, err
		}
		out = append(out, one(o)...)
	}
	return out, nil
}

// awaited gives the parts that could come earlier.
func (l *looking) awaited() (out []*model.PartWork) {
	for i := range l.p.Parts {
		w := l.p.Parts[i].Work
		reason := slices.ContainsFunc(l.r.Facts, func(f Fact) bool { return f.Kind == ArrivalFact && f.Part == w.Name })
		if (reason || len(l.r.Facts) == 0 && l.parts[w.Name]) && l.wait(w) > 0 {
			out = append(out, w)
		}
	}
	return out
}

// wait gives the most days by which a part could come earlier.
func (l *looking) wait(w *model.PartWork) int {
	return int(w.Part.Arrives-l.p.Season.From) - l.p.Today
}

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
