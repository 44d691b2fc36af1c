package main

import (
	"cmp"
	"context"
	"fmt"
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
	surerWork   = 0.03 // of the ordinary work, for each change
	sureAlready = 0.2  // sessions lacking on average below which nothing is looked for
)

// surer looks for what would make a part surer, and says it.
func (y *asking) surer(c *cobra.Command, part string) error {
	y.surely = part
	now := y.lacking(y.Season, y.plan, part, chance.Change{})
	if now == nil {
		y.tell(func() { y.say.line("Nothing of it lies ahead that luck could change.") })
		return nil
	}
	if lacks := chance.Average(now); lacks < sureAlready && y.take == "" {
		y.tell(func() {
			y.say.line("It lacks %.1f sessions on its date, on average: nothing need be done.", lacks)
		})
		return nil
	}
	done := y.say.working("Looking for what would make it surer")
	var found []surerOffer
	for _, o := range y.changesFor(part, now) {
		made, err := y.solved(c.Context(), o)
		if err != nil {
			done()
			return err
		}
		if made == nil {
			continue
		}
		with := y.lacking(made.Season, made.Plan, part, chance.Change{})
		if g := chance.Compare(now, with); g.Fewer > 2*g.Error {
			found = append(found, surerOffer{made, chance.Average(with), g})
		}
	}
	done()
	slices.SortStableFunc(found, func(a, b surerOffer) int { return cmp.Compare(b.Fewer, a.Fewer) })
	for _, o := range found {
		y.offers = append(y.offers, *o.Offer)
	}
	if o := y.taken(); o != nil {
		return y.apply(c, o)
	}
	if y.take != "" {
		return y.gone()
	}
	y.saySurer(chance.Average(now), found)
	return nil
}

// surerOffer is a change that makes a part surer.
type surerOffer struct {
	*conflict.Offer
	lacks float64 // sessions that the part then lacks, on average
	chance.Gain
}

// saySurer says what would make a part surer that lacks so many sessions.
func (y *asking) saySurer(lacks float64, found []surerOffer) {
	v := y.say
	v.space()
	if y.a.set.number("most") == 0 {
		defer v.line("Longer days are not tried. Say with --most how many minutes of playing a day you would ever do, and they are.")
	}
	if len(found) == 0 {
		v.line("Sessions that it lacks on its date, on average: %.1f. Nothing that was tried leaves fewer for certain: being ready some days sooner, others' last visits.", lacks)
		return
	}
	v.line("What would make it surer, each planned again and played %d times with the same luck:", fewRuns)
	v.space()
	t := &table.Table{Columns: []table.Column{{Name: "no", Right: true}, {Name: "change", Wraps: true}, {Name: "lacks", Right: true}, {Name: "fewer", Right: true}, {Name: "±", Right: true, From: phone},
		{Name: "moved", Right: true, From: phone}, {Name: "heavy", Right: true, From: phone}, {Name: "gaps", Right: true, From: phone}}}
	t.Row("", "as it is", fmt.Sprintf("%.1f", lacks), "", "", "", "", "")
	for i, o := range found {
		by := changed(o.Offer)
		t.Row(fmt.Sprint(i+1), y.offerWords(o.Offer), fmt.Sprintf("%.1f", o.lacks), fmt.Sprintf("%.1f", o.Fewer), fmt.Sprintf("%.1f", max(0.1, o.Error)), fmt.Sprint(y.moved(o.Offer)), signed(by[model.Body]), signed(by[model.Spacing]))
	}
	v.table(t)
	v.line("Lacks: sessions not done on its date, on average. Moved: sessions on another day. Heavy: minutes of heavy days and rises. Gaps: days from the preferred ones.")
	y.sayCautions(y.offers)
	y.sayNames(y.offers, 0)
}

// lacking plays a season's plan until a part is due.
func (y *asking) lacking(s *model.Season, p *model.Plan, part string, change chance.Change) []int {
	o := y.luck()
	o.Runs, o.Change = fewRuns, change
	return chance.Lacking(s, y.h.history, p, part, o)
}

// solved gives an offer with its season and a plan of it, close to the one that stands.
// Nil where the season file can't be changed so, or something planned would be left out.
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
	if slices.ContainsFunc(o.Plan.Unplaced, func(u model.Unplaced) bool { return y.knows(u.ID) }) {
		return nil, nil // at the cost of what is planned
	}
	o.Before = y.Season.Measure(y.plan, y.h.history, y.plan)
	o.After = o.Season.Measure(o.Plan, y.h.history, y.plan)
	return &o, nil
}
