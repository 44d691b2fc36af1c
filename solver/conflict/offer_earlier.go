package conflict

import (
	"cmp"
	"context"
	"slices"

	"primaprova/model"
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
