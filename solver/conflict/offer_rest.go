package conflict

import (
	"cmp"
	"context"
	"slices"

	"primaprova/model"
	"primaprova/solver/oracle"
)

// rest looks for one rest day on which playing would let everything be placed:
// where the days around say that it is worth most, first. It is the last of
// the offers, and whoever says it says the caution with it.
func (l *looking) rest(ctx context.Context) ([]Offer, error) {
	for _, d := range l.restDays() {
		v, t, err := l.try(ctx, l.playing(d))
		if err != nil || ctx.Err() != nil {
			return nil, err
		}
		if v != oracle.Feasible {
			continue
		}
		o, err := l.offer(ctx, Offer{Kind: RestOffer, Dates: []model.Date{d}, Smallest: true}, t)
		if o == nil && err == nil {
			continue
		}
		return one(o), err
	}
	return nil, nil
}

// restDays gives the rest days near the parts asked about on which something
// could be played, those first that would be worth most by the prices of the
// days around.
func (l *looking) restDays() (days []model.Date) {
	s := l.p.Season
	if !l.has(RestFact) {
		return nil
	}
	for d := s.From + model.Date(l.p.Today); d <= s.To; d++ {
		if r := s.RoomOn(d); r.Rest && !r.Off && r.Beside > 0 && l.near(d) {
			days = append(days, d)
		}
	}
	worth := map[model.Date]float64{}
	for _, d := range days {
		worth[d] = float64(s.RoomOn(d).Beside) * (l.worthAround(d) + 1e-3) // without prices those with most room
	}
	slices.SortStableFunc(days, func(a, b model.Date) int { return cmp.Compare(worth[b], worth[a]) })
	return days
}

// playing has one rest day be none.
func (l *looking) playing(d model.Date) change {
	c := *l.p.Season
	c.Limits.Played = append(slices.Clone(c.Limits.Played), model.Range{From: d, To: d})
	return change{&c, l.goal}
}

// near tells whether a day lies among those of a part asked about.
func (l *looking) near(d model.Date) bool {
	at := int(d - l.p.Season.From)
	for i := range l.p.Parts {
		if q := &l.p.Parts[i]; l.parts[q.Work.Name] && q.Lo <= at && at <= q.Hi {
			return true
		}
	}
	return false
}
