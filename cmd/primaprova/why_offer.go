package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"primaprova/io/planfile"
	"primaprova/io/seasonfile"
	"primaprova/model"
	"primaprova/model/chance"
	"primaprova/solver/conflict"
)

// help looks for offers and says them, numbered on over all parts.
func (y *asking) help(ctx context.Context, r *conflict.Reason) error {
	if r.Outcome == conflict.Placed {
		return nil
	}
	most := model.Minutes(y.a.set.number("most"))
	done := y.say.working("Looking for what would help")
	offers, err := y.inquiry.Offers(ctx, r, most)
	done()
	if err != nil {
		return err
	}
	slices.SortStableFunc(offers, keepsMore)
	from := len(y.offers)
	y.offers = append(y.offers, offers...)
	if y.take != "" {
		return nil
	}
	v := y.say
	v.space()
	if len(offers) == 0 {
		v.line("No offer was found that would let it be placed.")
	} else {
		whole := slices.ContainsFunc(offers, func(o conflict.Offer) bool { return len(o.Left)+len(o.Out) == 0 })
		if whole {
			v.line("What would let it be placed, and what each changes%s (less is better):", y.inWishes())
		} else {
			v.line("Nothing that was tried lets all of it be placed. What would help in part, and what each changes%s (less is better):", y.inWishes())
		}
		v.space()
		v.table(y.offerTable(offers, from))
		if !y.wishes {
			v.line("%s", offerColumns)
		}
		y.sayCautions(offers)
		y.sayNames(offers, from)
	}
	for i := range r.Facts {
		if most == 0 && r.Facts[i].Kind == conflict.CapFact {
			v.line("More minutes on some days are looked for too once the setting most says the most you would ever play in a day.")
			break
		}
	}
	return nil
}

// signed writes a difference with its sign.
func signed(f float64) string {
	if s := amount(f); f > 0 && s != "0" {
		return "+" + s
	}
	return strings.Replace(amount(f), "-0", "0", map[bool]int{true: 1, false: 0}[amount(f) == "-0"])
}

// offerWords says an offer.
func (y *asking) offerWords(o *conflict.Offer) string {
	v := y.say
	end := ""
	if !o.Smallest {
		end = " (whether less would do was not found out)"
	}
	if len(o.Left) > 0 {
		end = ", in part" + end
	}
	switch o.Kind {
	case conflict.EarlierOffer:
		return fmt.Sprintf("ask for %s %s earlier, on %s%s", y.ShortTitle(o.Part), several(o.Days, "day", "days"), v.day(o.Arrives), end)
	case conflict.LeaveOffer:
		return fmt.Sprintf("leave out whole: %s%s", y.passageList(o.Passages), end)
	case conflict.EstimateOffer:
		before := "its marked passages"
		if w := y.Parts[o.Part]; w != nil && w.Part.Estimate > 0 {
			before = fmt.Sprint(int(w.Part.Estimate))
		}
		return fmt.Sprintf("%s: an estimate of %d min in place of %s%s", y.ShortTitle(o.Part), o.Minutes, before, end)
	case conflict.DailyOffer:
		return fmt.Sprintf("visits day by day, least gaps given up: %s%s", y.passageList(o.Passages), end)
	case soonerOffer:
		return fmt.Sprintf("%s ready %s before it is due, in place of %d", y.ShortTitle(o.Part), several(o.Days, "day", "days"), y.Season.ReadyDays(y.Parts[o.Part].Part))
	case fewerOffer:
		return "the last visit given up: " + y.passageList(o.Passages)
	case conflict.MinutesOffer:
		var days []string
		alike := len(o.Dates) > 3
		for i, d := range o.Dates {
			alike = alike && o.Caps[i] == y.Season.Limits.Playing.On(d)+o.Minutes
			days = append(days, fmt.Sprintf("%s (cap %d)", v.day(d), o.Caps[i]))
		}
		if n := len(days); alike {
			return fmt.Sprintf("%d min more on each of %d days, %s to %s%s", o.Minutes, n, v.day(o.Dates[0]), v.day(o.Dates[n-1]), end)
		}
		return fmt.Sprintf("%d min more on %s%s", o.Minutes, strings.Join(days, ", "), end)
	}
	return fmt.Sprintf("play on the rest day %s%s", v.day(o.Dates[0]), end)
}

// mostNamed is how many passages an offer names.
const mostNamed = 8

func (y *asking) passageList(names []string) string {
	var out []string
	for i, n := range names {
		if i == mostNamed {
			out = append(out, fmt.Sprintf("%d more", len(names)-i))
			break
		}
		part := n[:strings.LastIndexByte(n, '/')]
		out = append(out, y.Bars(n)+" of "+y.ShortTitle(part))
	}
	return strings.Join(out, ", ")
}

// sayCautions says what goes with offers that ask more of the body.
func (y *asking) sayCautions(offers []conflict.Offer) {
	for i := range offers {
		switch offers[i].Kind {
		case conflict.MinutesOffer:
			y.say.space()
			y.say.line("More minutes are a rise: none should be sudden, and the breaks stay. %s", model.OnPain)
			return
		case conflict.RestOffer:
			y.say.space()
			y.say.line("A rest day given up is not made up for by another: leave it as the last resort. %s", model.OnPain)
			return
		}
	}
}

// apply writes an offer into the season file, and plans.
func (y *asking) apply(c *cobra.Command, o *conflict.Offer) error {
	if o.Kind == conflict.EarlierOffer {
		return wrong("--take %s: when a part comes is not yours to decide: ask for it", y.take).
			then("late %s %s --arrives %s --try", quoted(y.f.Path), quoted(o.Part), o.Arrives)
	}
	edited, err := y.edit(o)
	if err != nil {
		return editTrouble(err)
	}
	path := planPath(y.f.Path)
	if err := writable(path); err != nil {
		return err
	}
	y.a.warnings(edited)
	p, h, err := y.a.plan(c.Context(), edited, false, false)
	if err != nil {
		return err
	}
	// What was offered is a plan already: it is kept where it is better, or places
	// something that was said to be placed and planning anew leaves out.
	standing, err := planfile.Read(path)
	if err != nil {
		return fileTrouble(err)
	}
	promised := o.Plan
	promised.Provenance = p.Provenance
	was, now := h.season.Measure(promised, h.history, standing), h.season.Measure(p, h.history, standing)
	if (was.Less(now) || !y.keeps(p, o)) && len(h.season.Audit(promised, h.history)) == 0 {
		promised.Provenance.Status = model.NotProven
		if err := remeasured(&promised.Provenance, was, now); err != nil {
			return err
		}
		p = y.a.signed(promised, edited, h, standing)
	}
	w := newView(y.say, h.season, p, h.history)
	y.say.line("Taken: %s.", y.offerWords(o))
	y.say.space()
	w.sayPlan(p)
	if y.surely != "" {
		before, after := y.lacking(y.Season, y.plan, y.surely, chance.Change{}), y.lacking(h.season, p, y.surely, chance.Change{})
		y.say.line("%s lacks %.1f sessions on its date, on average, where it lacked %.1f.", y.ShortTitle(y.surely), chance.Average(after), chance.Average(before))
	}
	y.a.sayPins(h, p)
	if err := y.a.keep(y.f, edited, p, h); err != nil {
		return err
	}
	return y.a.leavesOut(p)
}

// remeasured puts a plan's wishes in the place of another's, of which bounds were
// proven. They hold as long as nothing before them costs more.
func remeasured(p *model.Provenance, was, now model.Measures) error {
	p.Wishes = slices.Clone(p.Wishes)
	holds := true
	for i := range p.Wishes {
		w := &p.Wishes[i]
		if !holds {
			w.Bound = 0
		}
		if w.Value = was[i]; w.Bound > w.Value {
			return &trouble{code: exitInternal, err: fmt.Errorf("internal error: a plan costs %v %s in %s, and %v is proven to be the least", w.Value, w.Unit, w.Name, w.Bound)}
		}
		holds = holds && was[i] <= now[i]
	}
	return nil
}

// edit gives the season file with an offer in it.
func (y *asking) edit(o *conflict.Offer) (*seasonfile.File, error) {
	switch o.Kind {
	case conflict.EarlierOffer: // to look what comes of it; it is not the player's to take
		return y.f.SetArrival(o.Part, o.Arrives)
	case conflict.LeaveOffer:
		return y.f.LeavePassages(o.Passages)
	case conflict.EstimateOffer:
		return y.f.SetEstimate(o.Part, o.Minutes)
	case conflict.DailyOffer:
		return y.f.SetDaily(o.Passages)
	case soonerOffer:
		return y.f.SetReadyDays(o.Part, o.Days)
	case fewerOffer:
		return y.f.SetVisits(y.recipes(o))
	case conflict.MinutesOffer:
		return y.f.SetCaps(o.Dates, o.Caps)
	}
	return y.f.PlayOn(o.Dates[0])
}
