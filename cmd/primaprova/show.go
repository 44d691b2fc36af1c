package main

import (
	"encoding/json"
	"slices"

	"github.com/spf13/cobra"

	"primaprova/io/seasonfile"
	"primaprova/model"
)

// views are what show can show. Each says its view in words and tables, or
// gives a value for --json.
var views = map[string]func(w *view, on model.Date, name string) (say func(), value any, err error){
	"day": showDay, "week": showWeek, "part": showPart, "programme": showProgramme, "load": showLoad,
	"changes": showChanges, "chances": showChances, "memory": showMemory, "left-out": showLeftOut,
	"urgent": showUrgent,
}

func showCommand(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:   "show [VIEW] [SEASON] [NAME]",
		Short: "what to play today, this week, for this part; where the load is",
		Long: `Shows the plan that stands beside the season file.

    show [day]                 today: in what order, how long, and what to mind
    show week --on 2027-02-01  the week that holds this date
    show part                  the parts, by the names that commands take
    show part NAME             one part: every passage and its visits
    show programme [NAME]      what stands ready when
    show load                  playing minutes by week, and the heaviest days
    show chances [NAME]        how sure each part is to be ready in time; of one
                               part, what it would lack
    show memory                how surely passages hold after some days, by
                               what the record says of checks
    show left-out              what the plan leaves out, and what it holds on to
    show urgent                today by what can wait least, with what may come
                               forward where the days ahead are full
    show changes               what the last planning moved; --since FILE: since
                               that plan

An argument that ends in .yaml or .yml, or that is a file, is the season file;
without one the setting season counts. A part's NAME is programme/part.
Off a terminal tables are tab-separated, with ISO dates and minutes, and the
other lines begin with "# ". --csv gives the table alone; --markdown gives all
that a wide terminal would show; --json gives more than both.`,
		Args: atMost(3),
	}
	var o showing
	c.Flags().StringVar(&o.on, "on", "", "the `date` to show, like 2027-01-31, or tomorrow, -1; day also takes from..to; empty: today")
	c.Flags().StringVar(&o.since, "since", "", "show changes: compare with the plan in this `file`; empty: the plan before")
	c.Flags().BoolVar(&o.json, "json", false, "write JSON")
	c.Flags().BoolVar(&o.csv, "csv", false, "write the table as comma-separated values")
	c.Flags().BoolVar(&o.markdown, "markdown", false, "write Markdown")
	c.Flags().BoolVar(&o.ids, "ids", false, "list the sessions of a day, week, part or programme with the ids that pin, why and record take")
	addSettings(c, append([]string{"width", "formulas"}, localeSettings...)...)
	c.RunE = func(_ *cobra.Command, args []string) error {
		var path string
		o.view, path, o.name = a.showArgs(args)
		if err := a.showable(&o); err != nil {
			return err
		}
		f, p, h, err := a.planned(path)
		if err != nil {
			return err
		}
		a.sayNewer(f.Path, h, p)
		w := newView(a.say, h.season, p, h.history)
		w.path = f.Path
		w.know(h.record.Events)
		return a.show(&o, f, w)
	}
	return c
}

// showing is what is asked of show.
type showing struct {
	view, name, on, since    string
	json, csv, markdown, ids bool
}

// showable judges what is asked before any file is looked at, and takes up the form.
func (a *app) showable(o *showing) error {
	if o.view == "" {
		return wrong("show: %q is neither a season file nor one of day, week, part, programme, load, changes, chances, memory, left-out, urgent", o.name).then("show --help")
	}
	if o.name != "" && o.view != "part" && o.view != "programme" && o.view != "chances" {
		return wrong("show %s: %q is no season file, and a %s takes no name", o.view, o.name, o.view).then("show --help")
	}
	if _, err := a.saidDays(o.on, a.set.date("today")+1); o.on != "" && err != nil {
		return wrong("--on: %v", err)
	}
	switch {
	case o.json && o.csv || o.json && o.markdown || o.csv && o.markdown:
		return wrong("show: --json, --csv and --markdown are three forms; name one").then("show --help")
	case o.csv:
		a.say.write(inCSV)
	case o.markdown:
		a.say.write(inMarkdown)
	}
	return nil
}

func (a *app) show(o *showing, f *seasonfile.File, w *view) error {
	date, asked := a.today(f.Season), model.Range{}
	var err error
	if o.on != "" {
		if asked, err = a.saidDays(o.on, date); err != nil {
			return wrong("--on: %v", err)
		}
		if date = asked.From; o.view != "day" && asked.To != asked.From {
			return wrong("show %s: --on %s: takes one day", o.view, o.on).then("show %s --on %s", o.view, asked.From)
		}
	}
	if o.view == "day" || o.view == "week" {
		if date, err = inside(a.say, f.Season, date, o.on != ""); err != nil {
			return err
		}
	}
	if o.ids {
		sessions, err := w.idsOf(o.view, date, o.name)
		switch {
		case err != nil:
			return err
		case o.json:
			return a.say.json(sessions)
		}
		w.sayIDs(sessions)
		return nil
	}
	if asked.Days() > 1 {
		if _, err = inside(a.say, f.Season, asked.To, true); err != nil {
			return err
		}
		return a.showDays(w, asked, o.json)
	}
	name := o.name
	switch {
	case o.view == "changes" && o.since != "":
		name = sincePrefix + o.since
	case o.view == "changes":
		name = earlierPath(f.Path)
	case o.since != "":
		return wrong("show %s: --since is for changes", o.view).then("show changes --since %s", quoted(o.since))
	}
	say, value, err := views[o.view](w, date, name)
	if err != nil {
		return err
	}
	if o.json {
		return a.say.json(value)
	}
	say()
	if o.view == "left-out" && len(w.Plan.Unplaced) > 0 {
		a.say.next("why %s", quoted(f.Path))
	}
	if d, ok := value.(urgentView); ok && d.Date == date {
		if i := slices.IndexFunc(d.Sessions, func(x urgentOne) bool { return x.forward }); i >= 0 {
			a.say.next("record %s %s", quoted(f.Path), quoted(d.Sessions[i].ID))
		}
	}
	return nil
}

// showDays shows the sheets of a run of days, one after the other.
func (a *app) showDays(w *view, days model.Range, asJSON bool) error {
	var all []dayView
	for d := days.From; d <= days.To; d++ {
		all = append(all, w.pointing(d))
	}
	if asJSON {
		return a.say.json(all)
	}
	for i, d := range all {
		if i > 0 {
			a.say.space()
		}
		w.sayDay(d)
	}
	return nil
}

// json says a value for programs.
func (v *voice) json(value any) error {
	b, err := json.MarshalIndent(value, "", "  ")
	if err != nil {
		return err
	}
	v.result(string(b) + "\n")
	return nil
}

// showArgs sorts out what is to be shown, from which season file, and the name
// of a part or programme. what is empty when a lone word is none of these.
func (a *app) showArgs(args []string) (what, path, name string) {
	what, path = "day", a.set.get("season")
	if len(args) > 0 && views[args[0]] != nil {
		what, args = args[0], args[1:]
	} else if len(args) > 0 && !isSeason(args[0]) {
		return "", path, args[0]
	}
	for i, arg := range args {
		if isSeason(arg) && !slices.ContainsFunc(args[:i], isSeason) {
			path = arg
		} else {
			name = arg
		}
	}
	return what, path, name
}

// inside keeps a date in the season: one that was asked for must lie there;
// today may not, and then the season's nearest day is shown.
func inside(say *voice, s *model.Season, d model.Date, asked bool) (model.Date, error) {
	season := model.Range{From: s.From, To: s.To}
	switch {
	case season.Holds(d):
		return d, nil
	case asked:
		return 0, wrong("--on: %s lies outside the season (%s)", d, season)
	case d < s.From:
		say.aside("The season begins on %s; this is its first day.", say.locale.Long(s.From))
		return s.From, nil
	}
	say.aside("The season ended on %s; this is its last day.", say.locale.Long(s.To))
	return s.To, nil
}
