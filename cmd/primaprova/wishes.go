package main

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"primaprova/model"
)

// mostLeftOut is how many parts with something left out are named on the one
// screen after planning.
const mostLeftOut = 6

// sayPlan says on one screen what a plan comes to.
func (w *view) sayPlan(p *model.Plan) {
	v := w.say
	all, loads := w.programmesAhead(), w.weekLoads()
	v.title("%s, %s to %s: %s", w.Season.Title, v.day(p.From), v.day(p.To), statusSaid(&p.Provenance))
	v.space()
	v.table(w.programmesTable(all))
	v.space()
	if loads.Tightest != "" {
		v.line("%s", w.tightestLine(loads))
	}
	w.sayMissing(nil)
	w.sayLeftOutByPart(all)
	w.sayReadyFor(all)
	v.line("%s", w.timeWords())
	w.saySpent()
	w.sayLeastSure()
}

// saySpent says what of body was spent on spacing, where the tolerance lets that be.
func (w *view) saySpent() {
	at := func(j model.Wish) (x model.WishValue) {
		if all := w.Plan.Provenance.Wishes; int(j) < len(all) {
			x = all[j]
		}
		return x
	}
	body, spacing := at(model.Body), at(model.Spacing)
	if gap := body.Value - body.Bound; gap > 0 && spends(body) {
		w.say.line("Heavy days and rises: at most %s above the best possible, spent on spacing, which is now %s from what is preferred.",
			several(int(math.Ceil(gap)), "minute", "minutes"), several(int(spacing.Value), "day", "days"))
	}
}

// spends tells whether a wish is above its bound by no more than its tolerance.
func spends(x model.WishValue) bool {
	return x.Tolerance > 0 && x.Value-x.Bound <= x.Bound*float64(x.Tolerance)/100
}

var statusWords = map[model.PlanStatus]string{
	model.Proven:    "planned, and proven the best",
	model.NotProven: "planned",
	model.CutShort:  "planned, cut short",
	model.FirstPlan: "first plan only",
}

// statusSaid says how good a plan is. One that is proven may still spend on a wish what
// the tolerance lets it, and is not called the best then.
func statusSaid(p *model.Provenance) string {
	if p.Status == model.Proven && slices.ContainsFunc(p.Wishes, func(x model.WishValue) bool { return x.Value > x.Bound }) {
		return "planned, and proven the best within its tolerances"
	}
	return statusWords[p.Status]
}

// sayLeftOutByPart names what is left out, as far as one screen goes.
func (w *view) sayLeftOutByPart(all []programmeView) {
	named, parts := 0, 0
	for _, programme := range all {
		for _, s := range programme.Parts {
			if s.LeftOut == 0 {
				continue
			}
			parts++
			if named < mostLeftOut {
				named++
				w.say.line("Left out of %s: %s.", s.Work, w.leftOutInShort(w.LeftOut(s.Part)))
			}
		}
	}
	if parts > named {
		w.say.line("Left out of %s more; show programme has them.", several(parts-named, "part", "parts"))
	}
}

// wishWords says how far a plan is from the best possible, wish by wish, in a
// sentence. A wish that is met whole is passed over, coverage apart.
func (v *voice) wishWords(p *model.Plan) string {
	var out []string
	for _, x := range p.Provenance.Wishes {
		gap := x.Value - x.Bound
		switch x.Name {
		case model.Coverage.String():
			switch {
			case x.Value == 0:
				out = append(out, "everything is placed")
			case gap <= 0:
				out = append(out, "nothing could be placed that isn't")
			default:
				out = append(out, fmt.Sprintf("at most %s of %s points left out could be placed", whole(gap), amount(x.Value)))
			}
		case model.ReadyBy.String():
			out = append(out, far(x, "every passage is ready by its date", "passage-days later"))
		case model.Closeness.String():
			switch on := v.day(p.Changed); {
			case x.Value > 0 && p.Changed != 0:
				out = append(out, far(x, "", closenessFar)+", in the planning of "+on)
			case x.Value > 0:
				out = append(out, far(x, "", closenessFar))
			case p.Changed != 0:
				out = append(out, "nothing moved since "+on)
			}
		case model.Body.String():
			out = append(out, far(x, "no day or week is heavy", "minutes heavier"))
		case model.Spacing.String():
			out = append(out, far(x, "every gap is as preferred", "days of gaps worse"))
		}
	}
	s := strings.Join(out, "; ")
	if s == "" {
		return ""
	}
	return capital(s) + "."
}

const closenessFar = "visit-days further from the plan that stood"

// far says how far one wish is from its bound.
func far(x model.WishValue, met, unit string) string {
	switch gap := x.Value - x.Bound; {
	case x.Value == 0:
		return met
	case gap <= 0:
		return fmt.Sprintf("%s as good as can be (%s %s)", x.Name, amount(x.Value), x.Unit)
	case spends(x):
		on := "the wishes after it"
		if x.Name == model.Body.String() {
			on = "days of spacing"
		}
		return fmt.Sprintf("at most %s %s than the best possible, spent on %s (up to %d %% may be)", whole(gap), unit, on, x.Tolerance)
	default:
		return fmt.Sprintf("at most %s %s than the best possible", whole(gap), unit)
	}
}

// amount writes a number with two decimals at most, none where they are zeros.
func amount(f float64) string {
	return strconv.FormatFloat(math.Round(100*f)/100, 'f', -1, 64)
}

// whole writes a distance in whole units: what is said to be the most must
// not be rounded down. The sums it comes from are exact to a hundredth.
func whole(f float64) string { return amount(math.Ceil(math.Round(100*f) / 100)) }
