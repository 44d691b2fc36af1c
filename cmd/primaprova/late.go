package main

import (
	"errors"
	"strings"

	"github.com/spf13/cobra"

	"primaprova/io/planfile"
	"primaprova/io/seasonfile"
	"primaprova/model"
)

func lateCommand(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:   "late [SEASON] [PART] --arrives DATE",
		Short: "a part comes on another date, or a new one comes in",
		Long: `Changes one part in the season file, plans again close to the plan that stands,
and says what moves and what it costs.

    late tide/slate --arrives 2027-01-27
    late --new tide/ferry --work "Ferry Waltz" --arrives 2027-01-27
         --estimate "90 min"
    late --new tide/gale --instead-of tide/ferry --arrives 2027-01-27
         --passage "45-61, hard, exposed" --passage "102-110, easy, 8 min"

Nothing else in the season file changes, comments and layout included; of a part
that stands in a CSV file the date in its row does. With
--instead-of the lines of the part that goes are replaced by those of the one
that comes. With --try nothing is written. The plan before is kept as
season.plan.earlier.json; show changes compares with it.

The season file is written first, then the plan. Should the machine stop between
the two, show says that the plan is older, and plan makes the new one.
Exit code 3: something is not read, or a passage not worked at at all (setting
left_out).`,
		Args: atMost(2),
	}
	n, f := &news{}, c.Flags()
	f.StringVar(&n.arrives, "arrives", "", "the `date` it comes")
	f.StringVar(&n.fresh, "new", "", "a `part` that the season does not have yet: programme/part")
	f.StringVar(&n.work, "work", "", "the new part's work, by its `title`")
	f.StringVar(&n.estimate, "estimate", "", "all visits of the new part together, in `minutes`")
	f.StringArrayVar(&n.passages, "passage", nil, "a `passage` of the new part: bars, then hard or easy, exposed, minutes")
	f.StringVar(&n.listening, "listening", "", "`minutes` of listening to the new part's work")
	f.StringVar(&n.read, "read-through", "", "`minutes` of the new part's read-through")
	f.StringVar(&n.recordings, "recordings", "", "`minutes` of the return to the recordings")
	f.StringVar(&n.instead, "instead-of", "", "the `part` that the new one replaces")
	f.BoolVar(&n.try, "try", false, "say what would move, and write nothing")
	f.BoolVar(&n.fromToday, "from-today", false, "plan today's work too, in place of leaving it as it stands")
	n.form = addDetails(c)
	addSettings(c, "engines", "seed", "budget", "tolerance", "gap", "limit", "left_out", "today", "unrecorded", "learn", "width")
	c.RunE = func(c *cobra.Command, args []string) error {
		path, args := a.seasonAmong(args)
		f, err := a.season(path)
		if err != nil {
			return err
		}
		edited, err := n.edit(a, f, args, a.today(f.Season))
		if err != nil {
			return err
		}
		return a.late(c, f, edited, n)
	}
	return c
}

// late plans the edited season, says what moves, and writes both.
func (a *app) late(c *cobra.Command, f, edited *seasonfile.File, n *news) error {
	a.warnings(edited)
	path := planPath(f.Path)
	if !n.try {
		if err := writable(path); err != nil {
			return err
		}
	}
	p, h, err := a.plan(c.Context(), edited, false, n.fromToday)
	if err != nil {
		return err
	}
	w := newView(a.say, h.season, p, h.history)
	standing, err := planfile.Read(path)
	switch {
	case isMissing(err):
		standing = nil
		if err := w.sayPlanned(nil, *n.form, h.today); err != nil {
			return err
		}
	case err != nil:
		return fileTrouble(err)
	case n.form.asJSON || n.form.asMarkdown:
		if err := w.sayPlanned(standing, *n.form, h.today); err != nil {
			return err
		}
	default:
		a.sayLate(w, f, h, standing, p, n)
	}
	a.sayPins(h, p)
	if n.try {
		a.say.aside("Nothing was written.")
	} else if err := a.keep(f, edited, p, h); err != nil {
		return err
	}
	return a.leavesOut(p)
}

// keep writes the season file and then its plan. In this order, because the
// season is what the player said, and the plan can be made of it again; the
// other way round the news would be lost.
func (a *app) keep(f, edited *seasonfile.File, p *model.Plan, h *happened) error {
	err := a.alone(f.Path, func() error {
		if err := edited.Replace(f); err != nil {
			return editTrouble(err)
		}
		err := a.putPlan(f.Path, p, h)
		var t *trouble
		if written := edited.Changed(f); written != "" && errors.As(err, &t) {
			t.lines = append([]string{written + ": was written; the plan of it was not, and is to be made again:"}, strings.Split(err.Error(), "\n")...)
			t.next = "plan " + quoted(f.Path)
		}
		return err
	})
	if err != nil {
		return err
	}
	a.keepCopies(f, false)
	if edited.SHA256 == f.SHA256 {
		a.say.aside("%s says so already. Wrote %s.", f.Path, planPath(f.Path))
	} else {
		a.say.aside("Wrote %s and %s.", edited.Changed(f), planPath(f.Path))
	}
	a.say.next("show changes %s", quoted(f.Path))
	return nil
}
