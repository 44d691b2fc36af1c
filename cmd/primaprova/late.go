package main

import (
	"errors"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"primaprova/io/planfile"
	"primaprova/io/seasonfile"
	"primaprova/model"
)

// mostDays is how many days late shows before it leaves the rest to show
// changes.
const mostDays = 4

// news is what late is told.
type news struct {
	arrives, fresh, work, estimate, instead string
	listening, read, recordings             string
	passages                                []string
	try, fromToday                          bool
	form                                    *details
	part                                    string // the one that comes, programme/part; set by edit
}

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
	addSettings(c, "engines", "seed", "budget", "tolerance", "limit", "left_out", "today", "unrecorded", "learn", "width")
	c.RunE = func(c *cobra.Command, args []string) error {
		path := a.set.get("season")
		if len(args) > 0 && isSeason(args[0]) {
			path, args = args[0], args[1:]
		}
		f, err := a.season(path)
		if err != nil {
			return err
		}
		edited, err := n.edit(f, args, a.today(f.Season))
		if err != nil {
			return err
		}
		return a.late(c, f, edited, n)
	}
	return c
}

// edit changes the season as it was told.
func (n *news) edit(f *seasonfile.File, args []string, today model.Date) (*seasonfile.File, error) {
	if n.arrives == "" {
		return nil, wrong("late: say when it comes with --arrives DATE").then("late --help")
	}
	d, err := saidDay(n.arrives, today)
	if err != nil {
		return nil, wrong("--arrives: %v", err)
	}
	if n.fresh == "" {
		if len(args) != 1 {
			return nil, wrong("late: name one part, or a new one with --new").then("late --help")
		}
		if n.work+n.estimate+n.listening+n.read+n.recordings+n.instead != "" || len(n.passages) > 0 {
			return nil, wrong("late: what a part holds is said of a new one, with --new; of others only --arrives").then("late --help")
		}
		name, err := partNamed(f.Season, args[0])
		if err != nil {
			return nil, err
		}
		n.part = name
		out, err := f.SetArrival(name, d)
		if err != nil {
			return nil, editTrouble(err)
		}
		return out, nil
	}
	if len(args) > 0 {
		return nil, wrong("late: there is no use for %s beside --new", args[0]).then("late --help")
	}
	p, err := n.made(f.Season, d)
	if err != nil {
		return nil, err
	}
	programme, id, two := strings.Cut(n.fresh, "/")
	if !two {
		return nil, wrong("--new: %q is not programme/part", n.fresh)
	}
	p.ID, n.part = id, n.fresh
	var out *seasonfile.File
	if n.instead == "" {
		out, err = f.AddPart(programme, *p)
	} else {
		var old string
		if old, err = partNamed(f.Season, n.instead); err != nil {
			return nil, err
		}
		if !strings.HasPrefix(old, programme+"/") {
			return nil, wrong("--instead-of: %s is not in programme %s", old, programme)
		}
		out, err = f.ReplacePart(old, *p)
	}
	if err != nil {
		return nil, editTrouble(err)
	}
	return out, nil
}

// made makes the new part of what was said, the rest by the season's habits.
func (n *news) made(s *model.Season, arrives model.Date) (*model.Part, error) {
	p := &model.Part{Work: n.work, Arrives: arrives, Listening: s.Habits.Listening, ReadThrough: s.Habits.ReadThrough, Recordings: s.Habits.Recordings}
	for _, x := range []struct {
		flag, text string
		to         *model.Minutes
	}{{"estimate", n.estimate, &p.Estimate}, {"listening", n.listening, &p.Listening}, {"read-through", n.read, &p.ReadThrough}, {"recordings", n.recordings, &p.Recordings}} {
		if x.text == "" {
			continue
		}
		m, err := model.ParseMinutes(x.text)
		if err != nil || m < 0 {
			return nil, wrong("--%s: %q is not a length like 80 min or 1 h 20 min", x.flag, x.text)
		}
		*x.to = m
	}
	for _, text := range n.passages {
		q, err := passageOf(text)
		if err != nil {
			return nil, err
		}
		p.Passages = append(p.Passages, q)
	}
	return p, nil
}

// passageOf reads "45-61, hard, exposed, 8 min".
func passageOf(text string) (model.Passage, error) {
	words := strings.Split(text, ",")
	q := model.Passage{Bars: strings.TrimSpace(words[0]), Hard: 2}
	for _, w := range words[1:] {
		switch w = strings.TrimSpace(w); w {
		case "easy":
			q.Hard = 1
		case "ordinary":
			q.Hard = 2
		case "hard":
			q.Hard = 3
		case "exposed":
			q.Exposed = true
		default:
			m, err := model.ParseMinutes(w)
			if err != nil || m <= 0 {
				return q, wrong("--passage: %s: %q is none of easy, ordinary, hard, exposed, and no length like 8 min", strconv.Quote(text), w)
			}
			q.Minutes = m
		}
	}
	return q, nil
}

// partNamed takes programme/part, or the part alone where only one programme
// has it.
func partNamed(s *model.Season, name string) (string, error) {
	var found []string
	for i := range s.Programmes {
		for _, p := range s.Programmes[i].Parts {
			full := model.PartName(s.Programmes[i].ID, p.ID)
			if full == name {
				return full, nil
			}
			if p.ID == name {
				found = append(found, full)
			}
		}
	}
	switch len(found) {
	case 1:
		return found[0], nil
	case 0:
		return "", wrong("%q is no part of the season", name).then("show programme")
	}
	return "", wrong("%q is in more than one programme: %s", name, strings.Join(found, ", "))
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

// sayLate says what moves, day by day, what is left out, and how sure the part
// is; with --details what it costs each wish.
func (a *app) sayLate(w *view, f *seasonfile.File, h *happened, standing, p *model.Plan, n *news) {
	v := a.say
	v.title("%s: what moves", w.season.Title)
	c := w.changes(standing, p, h.history.Today)
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
		v.line("%s is ready in time with a chance of %s; show chances says what would help.", w.shortTitle(n.part), is)
	}
	if n.form.all {
		v.space()
		v.sayCost(before.season.Measure(standing, h.history, nil), h.season.Measure(p, h.history, standing))
	}
}

// chanceOf gives how sure a part is to be ready, empty where that is no matter of
// luck: nothing is left of it, or the plan leaves some of it out.
func (w *view) chanceOf(part string) string {
	if t := w.stands[part]; t == nil || t.Ready == 0 {
		return ""
	}
	for _, c := range w.chances().Parts {
		if c.Part == part {
			return percent(c.Chance)
		}
	}
	return ""
}
