package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"primaprova/model"
)

// What is read each evening, after planning again: what moved, tomorrow, the
// load of its week, what is not in, late or far apart, which first rehearsals
// come next. All of it stands on one small screen; the rest is in the views of
// show, and behind --details.

// nextRehearsals is how many programmes to come are named in the evening, and
// worksADay of how many works a day is named.
const (
	nextRehearsals = 2
	worksADay      = 3
)

// sayEvening says what a player wants to know after planning again.
func (w *view) sayEvening(stood *model.Plan, c changesView, today model.Date) {
	v := w.say
	v.title("%s: %s", w.Season.Title, strings.Replace(statusSaid(&w.Plan.Provenance), "planned", "planned again", 1))
	v.line("%s", w.movedWords(c))
	tomorrow := max(today+1, w.Season.From)
	if tomorrow <= w.Season.To {
		v.line("%s", w.dayWords(tomorrow, tomorrow == today+1))
		v.line("%s", w.weekWords(tomorrow))
	}
	w.sayMissing(stood)
	if len(w.Plan.Unplaced) > len(stood.Unplaced) && w.onTheWayBack(model.Range{From: tomorrow, To: w.Season.To}) {
		w.say.line("%s", heldBack)
	}
	w.sayReadyFor(w.programmesAhead())
	v.line("%s", w.timeWords())
	if len(c.Sessions) > 0 {
		w.saySpent()
	}
	w.sayRehearsals(today)
}

// movedWords says in a line what the planning moved.
func (w *view) movedWords(c changesView) string {
	if len(c.Sessions) > 0 {
		return w.changeWords(c)
	}
	if on := w.Plan.Changed; on != 0 {
		return fmt.Sprintf("Nothing moved; the last planning that changed something was on %s.", w.say.day(on))
	}
	return "Nothing moved."
}

// dayWords says a day to come in a line or two.
func (w *view) dayWords(d model.Date, isTomorrow bool) string {
	name := w.say.day(d)
	if isTomorrow {
		name = "Tomorrow, " + name
	}
	what := w.inShort(w.sheet(d), worksADay)
	if free := w.Season.RestWord(d, w.History); free != "" {
		name, what = name+", "+free, strings.TrimPrefix(strings.TrimPrefix(what, free), "; ")
	}
	for i := range w.Season.Programmes {
		if p := &w.Season.Programmes[i]; p.FirstRehearsal() == d {
			what = strings.TrimSuffix(p.FirstIs()+" of "+p.Title+"; "+what, "; ")
		}
	}
	load := w.Loads().On(d)
	var out []string
	if load.Playing() > 0 {
		out = append(out, "playing "+load.OfMost())
	}
	if load.Listening > 0 {
		out = append(out, "listening "+load.Listening.Hours())
	}
	if len(out) == 0 {
		return name + ": " + cmp.Or(what, "nothing is planned") + "."
	}
	return name + ": " + strings.TrimSuffix(strings.Join(out, ", ")+": "+what, ": ") + "."
}

// weekWords says how full a week is.
func (w *view) weekWords(d model.Date) string {
	days := w.say.locale.WeekOf(d)
	load := w.Loads().During(days)
	out := fmt.Sprintf("The week to %s: playing %s", w.say.day(load.Days.To), load.OfMost())
	if load.Playing() > load.Most { // services stand, whatever the limits say
		out = fmt.Sprintf("The week to %s: playing %s, more than the %s that its limits allow, since services and the like take %s",
			w.say.day(load.Days.To), load.Playing().Hours(), load.Most.Hours(), load.Services().Hours())
		if w.onTheWayBack(load.Days) {
			out += "; on the way back, what you need not play can be excused"
		}
	}
	if load.Heavy > 0 {
		out += fmt.Sprintf(", %s above %d %% of the cap", several(load.Heavy, "day", "days"), w.Season.Limits.Heavy)
	}
	return out + "."
}

// heldBack says why more is left out after a spell.
const heldBack = "The days after pain, illness or time off hold less: what they can't take is left out, not made up at once."

// onTheWayBack tells whether some of the days are on the way back after pain,
// illness or time off.
func (w *view) onTheWayBack(days model.Range) bool {
	for d := days.From; d <= days.To; d++ {
		if w.Season.RoomOn(d).Marks&(model.AfterTimeOff|model.LightDay) != 0 {
			return true
		}
	}
	return false
}

// sayRehearsals names the programmes that come next, and whether they stand ready.
func (w *view) sayRehearsals(today model.Date) {
	all := slices.DeleteFunc(w.programmesAhead(), func(p programmeView) bool { return p.First <= today || len(p.Parts) == 0 })
	slices.SortStableFunc(all, func(a, b programmeView) int { return cmp.Compare(a.First, b.First) })
	for i := range all {
		if i == nextRehearsals {
			return
		}
		p := &all[i]
		ready, lacks := w.together(p)
		text := fmt.Sprintf("%s: %s %s, in %s; ", p.Title, p.is, w.say.day(p.First), several(int(p.First-today), "day", "days"))
		switch {
		case ready == 0:
			text += fmt.Sprintf("lacks %s", several(lacks, "session", "sessions"))
		default:
			text += "stands ready " + w.say.day(ready)
		}
		w.say.line("%s.", text)
	}
}
