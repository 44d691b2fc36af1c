package main

import (
	"cmp"
	"maps"
	"slices"

	"primaprova/model"
	"primaprova/model/chance"
	"primaprova/solver/conflict"
)

// Which changes are tried to make a part surer.

const (
	surerWeeks = 4  // before a part is due
	moreOnDays = 15 // minutes more on the days of one of these weeks, where the setting most allows them
	fewest     = 6  // visits that others give up
)

// changesFor gives the changes that are worth planning for.
func (y *asking) changesFor(part string, now []int) (out []conflict.Offer) {
	s, w := y.Season, y.Parts[part]
	for _, more := range []int{2, 4} {
		if days := s.ReadyDays(w.Part) + more; days <= s.Habits.FreshDays {
			out = append(out, conflict.Offer{Kind: soonerOffer, Part: part, Days: days, Smallest: true})
		}
	}
	if to := w.Part.Arrives - 7; to >= s.Today(y.h.history) {
		out = append(out, conflict.Offer{Kind: conflict.EarlierOffer, Part: part, Days: 7, Arrives: to, Smallest: true})
	}
	for _, tried := range [][]conflict.Offer{y.longerWeeks(w), y.fewerElsewhere(w)} {
		best, most := -1, 0.0
		for i := range tried {
			if g := chance.Compare(now, y.lacking(s, y.plan, part, y.asPlayed(&tried[i]))); g.Fewer > most {
				best, most = i, g.Fewer
			}
		}
		if best >= 0 {
			out = append(out, tried[best])
		}
	}
	return out
}

// asPlayed gives what an offer changes for a plan that stands.
func (y *asking) asPlayed(o *conflict.Offer) chance.Change {
	c := chance.Change{More: map[model.Date]model.Minutes{}, Without: map[string]bool{}}
	for i, d := range o.Dates {
		c.More[d] = o.Caps[i] - y.Season.Limits.Playing.On(d)
	}
	for _, name := range o.Passages {
		c.Without[model.VisitID(name, len(y.Passages[name].Recipe))] = true
	}
	return c
}

// longerWeeks gives the weeks before a part is due, with more minutes on their days.
func (y *asking) longerWeeks(w *model.PartWork) (out []conflict.Offer) {
	most := model.Minutes(y.a.set.number("most"))
	for week := range surerWeeks {
		o := conflict.Offer{Kind: conflict.MinutesOffer, Minutes: moreOnDays, Smallest: true}
		for d := w.Due - model.Date(7*week+7); d < w.Due-model.Date(7*week); d++ {
			if d < max(y.Season.Today(y.h.history), y.Season.From) || y.Season.RoomOn(d).Rest {
				continue
			}
			if cap := y.Season.Limits.Playing.On(d); cap < most {
				o.Dates, o.Caps = append(o.Dates, d), append(o.Caps, min(most, cap+moreOnDays))
			}
		}
		if len(o.Dates) > 0 {
			out = append(out, o)
		}
	}
	return out
}

// fewerElsewhere gives last visits of other parts in the weeks before a part is due, of
// what is easiest and worth least: half of them, and all.
func (y *asking) fewerElsewhere(w *model.PartWork) (out []conflict.Offer) {
	from := w.Due - 7*surerWeeks
	var all []*model.Session
	for i := range y.plan.Sessions {
		v := &y.plan.Sessions[i]
		if v.Passage == nil || v.Part == w.Name || v.Date < max(from, y.Season.Today(y.h.history)) || v.Date >= w.Due {
			continue
		}
		q := y.Passages[*v.Passage]
		if q == nil || q.Passage.Exposed || q.Passage.Hard > 2 || q.Passage.Found != 0 || len(q.Recipe) < 3 || v.ID != model.VisitID(q.Name, len(q.Recipe)) {
			continue
		}
		all = append(all, v)
	}
	slices.SortStableFunc(all, func(a, b *model.Session) int {
		return cmp.Or(cmp.Compare(y.Passages[*a.Passage].Passage.Hard, y.Passages[*b.Passage].Passage.Hard), cmp.Compare(b.Date, a.Date))
	})
	var names []string
	for _, v := range all {
		if len(names) == fewest {
			break
		}
		if _, err := y.f.SetVisits(y.shorter(*v.Passage)); err == nil { // what stands in a table, or for an estimate, can't be changed
			names = append(names, *v.Passage)
		}
	}
	for n := len(names); n > 0; n /= 2 {
		if out = append(out, conflict.Offer{Kind: fewerOffer, Passages: names[:n], Smallest: true}); n <= fewest/2 {
			break
		}
	}
	return out
}

// shorter gives a passage's recipe without its last visit, by its name.
func (y *asking) shorter(passage string) map[string][]model.Minutes {
	q := y.Passages[passage].Passage
	var out []model.Minutes
	for _, v := range y.Season.Recipe(&q) {
		out = append(out, v.Minutes)
	}
	return map[string][]model.Minutes{passage: out[:max(0, len(out)-1)]}
}

// recipes gives the recipes of an offer's passages.
func (y *asking) recipes(o *conflict.Offer) map[string][]model.Minutes {
	out := map[string][]model.Minutes{}
	for _, name := range o.Passages {
		maps.Copy(out, y.shorter(name))
	}
	return out
}
