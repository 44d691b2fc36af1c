package main

import (
	"primaprova/io/seasonfile"
	"primaprova/model"
)

// mostDays is how many days late shows before it leaves the rest to show
// changes.
const mostDays = 4

// sayLate says what moves, day by day, what is left out, and how sure the part
// is; with --details what it costs each wish.
func (a *app) sayLate(w *view, f *seasonfile.File, h *happened, standing, p *model.Plan, n *news) {
	v := a.say
	v.title("%s: what moves", w.Season.Title)
	c := w.changes(standing, p, h.today).toPlay(h.today)
	days := mostDays
	if n.form.all {
		days = 0
	}
	w.sayChanges(c, days)
	v.space()
	if c.of > 0 {
		n := c.movedBeside(n.part)
		v.line("Other parts: %s moved, %.1f %% of what lies ahead.", several(n, "session", "sessions"), 100*float64(n)/float64(c.of))
	}
	w.sayMissing(standing)
	before := newView(v, f.Season.With(h.history), standing, h.history)
	if was, is := before.chanceOf(n.part), w.chanceOf(n.part); is != "" {
		if was != "" && was != is {
			is += ", before " + was
		}
		v.line("%s is ready in time with a chance of %s; show chances says what would help.", w.ShortTitle(n.part), is)
	}
	if n.form.all {
		v.space()
		v.sayCost(before.Season.Measure(standing, h.history, nil), h.season.Measure(p, h.history, standing))
	}
}

// chanceOf gives how sure a part is to be ready, empty where that is no matter of
// luck: nothing is left of it, or the plan leaves some of it out.
func (w *view) chanceOf(part string) string {
	if t := w.Stand(part); t == nil || t.Ready == 0 {
		return ""
	}
	for _, c := range w.chances().Parts {
		if c.Part == part {
			return model.Percent(c.Chance)
		}
	}
	return ""
}
