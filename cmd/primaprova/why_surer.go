package main

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"slices"

	"github.com/spf13/cobra"

	"primaprova/io/table"
	"primaprova/model"
	"primaprova/model/chance"
	"primaprova/solver"
	"primaprova/solver/conflict"
)

// What would make a part surer of which nothing is left out. Each change is one of the
// season file, planned again close to the plan that stands, and played with the same luck
// as that: so an offer says what would really come of it. Which days, and whose visits,
// is chosen by playing the plan as it stands first.

// The kinds of offer that are made here alone, beside earlier and minutes.
const (
	soonerOffer conflict.OfferKind = "sooner" // a part's ready-by lies Days before its date
	fewerOffer  conflict.OfferKind = "fewer"  // the last visit of each of Passages, of other parts, is given up
)

const (
	fewRuns     = 250 // lives of each plan; their common luck makes differences surer than the chances
	surerWork   = 0.03
	surerWeeks  = 4   // before a part is due
	moreOnDays  = 15  // minutes more on the days of one of these weeks, where the setting most allows them
	fewest      = 6   // visits that others give up
	sureAlready = 0.2 // sessions lacking on average below which nothing is looked for
)

// surer looks for what would make a part surer, and says it.
func (y *asking) surer(c *cobra.Command, part string) error {
	y.surely = part
	now := y.lives(y.Season, y.plan, part, chance.Change{})
	if now == nil {
		y.tell(func() { y.say.line("Nothing of it lies ahead that luck could change.") })
		return nil
	}
	if as := chance.Compare(now, now); as.Short < sureAlready && y.take == "" {
		y.tell(func() {
			y.say.line("It lacks %.1f sessions on its date, on average: nothing need be done.", as.Short)
		})
		return nil
	}
	done := y.say.working("Looking for what would make it surer")
	var offers []conflict.Offer
	gains := map[string]chance.Gain{}
	for _, o := range y.changesFor(part, now) {
		made, err := y.solved(c.Context(), o)
		if err != nil {
			done()
			return err
		}
		if made == nil {
			continue
		}
		g := chance.Compare(now, y.lives(made.Season, made.Plan, part, chance.Change{}))
		if g.Fewer > 2*g.Error && len(made.Gone) == 0 {
			offers = append(offers, *made)
			gains[nameOf(made)] = g
		}
	}
	done()
	slices.SortStableFunc(offers, func(a, b conflict.Offer) int {
		return cmp.Compare(gains[nameOf(&b)].Fewer, gains[nameOf(&a)].Fewer)
	})
	y.offers = offers
	if o := y.taken(); o != nil && o.Kind == conflict.EarlierOffer {
		return y.notYours(o)
	} else if o != nil {
		return y.apply(c, o)
	}
	if y.take != "" {
		return y.gone()
	}
	y.saySurer(part, now, gains)
	return nil
}

// saySurer says what would make a part surer.
func (y *asking) saySurer(part string, now []chance.Life, gains map[string]chance.Gain) {
	v, as := y.say, chance.Compare(now, now)
	v.space()
	if y.a.set.number("most") == 0 {
		defer v.line("Longer days are not tried. Say with --most how many minutes of playing a day you would ever do, and they are.")
	}
	if len(y.offers) == 0 {
		v.line("Sessions that it lacks on its date, on average: %.1f. Nothing that was tried leaves fewer for certain: being ready some days sooner, others' last visits.", as.Short)
		return
	}
	v.line("What would make it surer, each planned again and played %d times with the same luck:", fewRuns)
	v.space()
	t := &table.Table{Columns: []table.Column{{Name: "no", Right: true}, {Name: "change", Wraps: true}, {Name: "lacks", Right: true}, {Name: "fewer", Right: true}, {Name: "±", Right: true, From: phone},
		{Name: "moved", Right: true, From: phone}, {Name: "heavy", Right: true, From: phone}, {Name: "gaps", Right: true, From: phone}}}
	t.Row("", "as it is", fmt.Sprintf("%.1f", as.Short), "", "", "", "", "")
	for i := range y.offers {
		o := &y.offers[i]
		g, by := gains[nameOf(o)], changed(o)
		t.Row(fmt.Sprint(i+1), y.offerWords(o), fmt.Sprintf("%.1f", g.Short), fmt.Sprintf("%.1f", g.Fewer), fmt.Sprintf("%.1f", max(0.1, g.Error)), fmt.Sprint(y.moved(o)), signed(by[model.Body]), signed(by[model.Spacing]))
	}
	v.table(t)
	v.line("Lacks: sessions not done on its date, on average. Moved: sessions on another day. Heavy: minutes of heavy days and rises. Gaps: days from the preferred ones.")
	y.sayCautions(y.offers)
	y.sayNames(y.offers, 0)
}

// lives plays a season's plan until a part is due.
func (y *asking) lives(s *model.Season, p *model.Plan, part string, change chance.Change) []chance.Life {
	o := y.luck()
	o.Runs, o.Change = fewRuns, change
	return chance.Lives(s, y.h.history, p, part, o)
}

// changesFor gives the changes that are worth planning for.
func (y *asking) changesFor(part string, now []chance.Life) (out []conflict.Offer) {
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
			if g := chance.Compare(now, y.lives(s, y.plan, part, y.asPlayed(&tried[i]))); g.Fewer > most {
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
		c.More[d] = o.Caps[i] - y.Season.RoomOn(d).Cap
	}
	for _, name := range o.Passages {
		c.Without[y.lastVisit(name).ID] = true
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
			if cap := y.Season.RoomOn(d).Cap; cap < most {
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
		if q == nil || q.Passage.Exposed || q.Passage.Hard > 2 || q.Passage.Found != 0 || len(q.Done)+len(q.Recipe) < 3 || y.lastVisit(*v.Passage) != v {
			continue
		}
		if _, err := y.f.SetVisits(y.shorter(*v.Passage)); err == nil { // what stands in a table, or for an estimate, can't be changed
			all = append(all, v)
		}
	}
	slices.SortStableFunc(all, func(a, b *model.Session) int {
		return cmp.Or(cmp.Compare(y.Passages[*a.Passage].Passage.Hard, y.Passages[*b.Passage].Passage.Hard), cmp.Compare(b.Date, a.Date))
	})
	all = all[:min(len(all), fewest)]
	for n := len(all); n > 0; n /= 2 {
		o := conflict.Offer{Kind: fewerOffer, Smallest: true}
		for _, v := range all[:n] {
			o.Passages = append(o.Passages, *v.Passage)
		}
		if out = append(out, o); n <= fewest/2 {
			break
		}
	}
	return out
}

// lastVisit gives the last planned visit of a passage, nil where there is none.
func (y *asking) lastVisit(passage string) (last *model.Session) {
	for i := range y.plan.Sessions {
		v := &y.plan.Sessions[i]
		if v.Passage != nil && *v.Passage == passage && (last == nil || v.Date > last.Date) {
			last = v
		}
	}
	return last
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

// solved gives an offer with its season and a plan of it, close to the one that stands.
// Nil where the season file can't be changed so, or the change would have faults.
func (y *asking) solved(ctx context.Context, o conflict.Offer) (*conflict.Offer, error) {
	edited, err := y.edit(&o)
	if err != nil {
		return nil, nil
	}
	options := y.options
	options.Work *= surerWork
	o.Season = edited.Season.With(y.h.history)
	if o.Plan, err = solver.Solve(ctx, o.Season, options); err != nil {
		return nil, err
	}
	o.Before = y.Season.Measure(y.plan, y.h.history, y.plan)
	o.After = o.Season.Measure(o.Plan, y.h.history, y.plan)
	in := map[string]bool{}
	for i := range o.Plan.Sessions {
		in[o.Plan.Sessions[i].ID] = true
	}
	for _, w := range o.Season.Wanted(y.h.history) {
		if !in[w.ID] && slices.ContainsFunc(y.plan.Sessions, func(v model.Session) bool { return v.ID == w.ID }) {
			o.Gone = append(o.Gone, w.ID)
		}
	}
	return &o, nil
}
