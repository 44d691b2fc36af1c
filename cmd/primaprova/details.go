package main

import (
	"github.com/spf13/cobra"

	"primaprova/io/table"
	"primaprova/model"
)

// details is how much of a plan is said after planning: the evening's few lines,
// or everything, in words, Markdown or JSON.
type details struct{ all, asJSON, asMarkdown bool }

func addDetails(c *cobra.Command) *details {
	d := &details{}
	c.Flags().BoolVar(&d.all, "details", false, "say every programme, and how far each wish is from the best possible")
	c.Flags().BoolVar(&d.asJSON, "json", false, "write all that as JSON")
	c.Flags().BoolVar(&d.asMarkdown, "markdown", false, "write all that as Markdown")
	return d
}

// plannedView is what a planning came to, for programs.
type plannedView struct {
	Season     string            `json:"season"`
	From       model.Date        `json:"from"`
	To         model.Date        `json:"to"`
	Status     model.PlanStatus  `json:"status"`
	Programmes []programmeView   `json:"programmes"`
	Load       loadsView         `json:"load"`
	LeftOut    leftOutView       `json:"left_out"`
	Wishes     []model.WishValue `json:"wishes"`
	Changes    *changesView      `json:"changes"` // null where no plan stood
}

// sayPlanned says what a planning came to: in the evening where a plan stood,
// on one screen where none did, and everything where it is asked for.
func (w *view) sayPlanned(stood *model.Plan, d details, today model.Date) error {
	var c *changesView
	if stood != nil {
		x := w.changes(stood, w.Plan, today).toPlay(today)
		if x.On = w.Plan.Changed; len(x.Sessions) > 0 {
			x.On = today
		}
		c = &x
	}
	switch {
	case d.asJSON:
		return w.say.json(plannedView{w.Season.Title, w.Plan.From, w.Plan.To, w.Plan.Provenance.Status, w.programmesAhead(),
			w.weekLoads(), w.leftOutAll(), w.Plan.Provenance.Wishes, c})
	case d.all || d.asMarkdown:
		if d.asMarkdown {
			w.say.write(inMarkdown)
		}
		w.sayPlan(w.Plan)
		w.sayWishes()
	case c != nil:
		w.sayEvening(stood, *c, today)
	default:
		w.sayPlan(w.Plan)
	}
	return nil
}

// sayWishes says how good a plan is, wish by wish, against what is proven.
func (w *view) sayWishes() {
	v := w.say
	v.space()
	v.line("%s", v.wishWords(w.Plan))
	v.space()
	t := &table.Table{Columns: []table.Column{{Name: "wish"}, {Name: "value", Right: true}, {Name: "best possible", Right: true}, {Name: "unit", From: phone}}}
	for _, x := range w.Plan.Provenance.Wishes {
		t.Row(x.Name, amount(x.Value), amount(x.Bound), x.Unit)
	}
	v.table(t)
}

// toPlay leaves away what changed in days gone by alone: it is the record's
// doing, and moves nothing that is still to be played.
func (c changesView) toPlay(today model.Date) changesView {
	out := c
	out.Sessions = []changeView{}
	for _, s := range c.Sessions {
		if s.Was != nil && *s.Was >= today || s.Is != nil && *s.Is >= today {
			out.Sessions = append(out.Sessions, s)
		}
	}
	out.Days = []dayChange{}
	for _, d := range c.Days {
		if d.Date >= today {
			out.Days = append(out.Days, d)
		}
	}
	return out
}
