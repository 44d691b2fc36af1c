package solver

import (
	"context"
	"slices"

	"primaprova/model"
)

// rest looks for one rest day on which playing would let everything be placed:
// among those of the reason, the one with most room first. It is the last of
// the offers, and whoever says it says the caution with it.
func (l *looking) rest(ctx context.Context) ([]Offer, error) {
	if !l.has(RestFact) {
		return nil, nil
	}
	s := l.p.season
	var days []model.Date
	for d := s.From + model.Date(l.p.today); d <= s.To; d++ {
		if r := s.RoomOn(d); r.Rest && !r.Off && r.Beside > 0 && l.near(d) {
			days = append(days, d)
		}
	}
	slices.SortStableFunc(days, func(a, b model.Date) int { return int(s.RoomOn(b).Beside - s.RoomOn(a).Beside) })
	for _, d := range days {
		c := *s
		c.Limits.Played = append(slices.Clone(c.Limits.Played), model.Range{From: d, To: d})
		v, t, err := l.try(ctx, change{&c, l.goal})
		if err != nil || ctx.Err() != nil {
			return nil, err
		}
		if v != fits {
			continue
		}
		o, err := l.offer(ctx, Offer{Kind: RestOffer, Dates: []model.Date{d}, Smallest: true}, t)
		if err != nil {
			return nil, err
		}
		return []Offer{*o}, nil
	}
	return nil, nil
}

// near tells whether a day lies among those of a part asked about.
func (l *looking) near(d model.Date) bool {
	at := int(d - l.p.season.From)
	for i := range l.p.parts {
		if q := &l.p.parts[i]; l.parts[q.work.Name] && q.lo <= at && at <= q.hi {
			return true
		}
	}
	return false
}
