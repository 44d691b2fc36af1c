package main

import (
	"bytes"
	"cmp"
	"errors"
	"time"

	"github.com/spf13/cobra"

	"primaprova/io/planfile"
	"primaprova/io/seasonfile"
	"primaprova/model"
)

func newCommand(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:   "new [FILE]",
		Short: "a season file to start from",
		Long: `Writes a season file to start from: a small example that can be planned as it
stands, with every key explained. FILE is the setting season (season.yaml) when
none is named. A file that is there is never written over, unless --replace is
given; then what was there is kept as season.kept.yaml. On a terminal it asks
for what it can't know and no flag says.

    new --from-table spring.csv
    new --from-table services.csv --from-table parts.csv
    new --from-table autumn.csv --after ../spring/season.yaml

--from-table makes a season of a spreadsheet saved as CSV: a row with a date is
a service, one with a work is a part, one with bars is a passage of it. The
columns, in any order, as many as you need:
    programme, service, date, start, end or lasts, playing, travel,
    work, arrives, listening, read_through, recordings, estimate,
    bars, hard, exposed, minutes, tempo, strains
What a cell leaves open is as above it: the programme, the work, a service's
time and length (of its kind), the day on which parts arrive.

--after takes limits, hours, habits and the like over from the season before,
and what its record taught of the estimates.`,
		Args: atMost(1),
	}
	n, f := &beginning{}, c.Flags()
	f.BoolVar(&n.replace, "replace", false, "write over a file that is there, which is kept under another name")
	f.StringVar(&n.start.Title, "title", "", "the season's `title`")
	f.StringVar(&n.start.Instrument, "instrument", "", "your `instrument`")
	f.StringVar(&n.from, "from", "", "the season's first `date`; empty: next Monday, with tables when the first part arrives")
	f.StringVar(&n.to, "to", "", "the season's last `date`; empty: twelve weeks, with tables the last service")
	f.StringVar(&n.start.RestDays, "rest-days", "", "`weekdays` without playing, with commas between; empty: monday")
	f.StringVar(&n.zone, "time-zone", "", "the season's time `zone`, like Europe/Oslo; empty: this machine's")
	f.StringArrayVar(&n.tables, "from-table", nil, "a CSV `file` with programmes, services, parts or passages")
	f.StringVar(&n.after, "after", "", "the `season` file before this one")
	f.BoolVar(&n.start.Bare, "bare", false, "without the example: programmes come in with add")
	addSettings(c, "today", "dates", "unrecorded")
	c.RunE = func(_ *cobra.Command, args []string) error { return a.begin(n, a.seasonName(args)) }
	return c
}

// beginning is what new is told.
type beginning struct {
	start          seasonfile.Start
	from, to, zone string
	replace        bool
	tables         []string
	after          string
	passed         []string // columns of tables that were passed over
}

// begin writes a new season file.
func (a *app) begin(n *beginning, path string) error {
	n.start.TimeZone = n.zone
	if n.zone == "" {
		n.start.TimeZone = homeZone()
	} else if _, err := time.LoadLocation(n.zone); err != nil {
		return wrong("--time-zone: %q is no time zone like Europe/Oslo", n.zone)
	}
	if n.start.RestDays != "" {
		if err := restDays(&n.start.RestDays)(n.start.RestDays); err != nil {
			return wrong("--rest-days: %v", err)
		}
	}
	if len(n.tables) > 0 && n.start.Bare {
		return wrong("--bare: there is no use for it beside --from-table")
	}
	for _, x := range []struct {
		flag, text string
		to         *model.Date
	}{{"from", n.from, &n.start.From}, {"to", n.to, &n.start.To}} {
		var err error
		if x.text != "" {
			if *x.to, err = a.saidDate(x.text); err != nil {
				return wrong("--%s: %v", x.flag, err)
			}
		}
	}
	if n.start.From != 0 && n.start.To != 0 && n.start.To < n.start.From {
		return wrong("--to: %v comes before %v", n.start.To, n.start.From)
	}
	if n.after != "" {
		if err := a.goOver(n); err != nil {
			return err
		}
	}
	if a.attended() {
		if err := a.askAll(n); err != nil {
			return err
		}
	}
	b, err := a.newSeason(n, path)
	if err != nil {
		return err
	}
	if err := a.alone(path, func() error { return a.create(path, b, n.replace) }); err != nil {
		return err
	}
	for _, name := range n.passed {
		a.say.aside("Passed over: column %s.", name)
	}
	a.say.aside("Wrote %s.", path)
	if n.start.Bare {
		a.say.next("add --help")
	} else {
		a.say.next("check %s", quoted(path))
	}
	return nil
}

// goOver reads the season before, with what its record taught.
func (a *app) goOver(n *beginning) error {
	f, err := a.standingSeason(n.after)
	if err != nil {
		return err
	}
	p, err := planfile.Read(planPath(f.Path))
	if err != nil {
		p = nil // what was recorded is known without it
	}
	h, err := a.happened(f, p)
	if err != nil {
		return err
	}
	s := &n.start
	s.Earlier, s.Learnt, s.Works = f, h.history.Learnt, h.season.WholeWorks(h.history)
	s.Instrument = cmp.Or(s.Instrument, f.Season.Instrument)
	if n.zone == "" {
		s.TimeZone = f.Season.TimeZone
	}
	if s.From == 0 && len(n.tables) == 0 {
		s.From = max(a.nextMonday(s.TimeZone), (f.Season.To+1).Monday()+7)
	}
	return nil
}

// newSeason makes the file's bytes.
func (a *app) newSeason(n *beginning, path string) ([]byte, error) {
	var b bytes.Buffer
	var err error
	n.start.Path = path
	if len(n.tables) > 0 {
		n.passed, err = seasonfile.FromTables(&b, n.tables, n.start, a.strokes(), a.dayIn(n.start.TimeZone))
	} else {
		if n.start.From == 0 {
			n.start.From = a.nextMonday(n.start.TimeZone)
		}
		err = seasonfile.New(&b, n.start)
	}
	var faults seasonfile.Errors
	if errors.As(err, &faults) {
		return nil, &trouble{code: exitInput, lines: []string{faults.Error()}, next: "new --help"}
	} else if err != nil {
		return nil, wrong("%v", err)
	}
	return b.Bytes(), nil
}

// nextMonday gives the Monday after today, for a new season to begin with.
func (a *app) nextMonday(zone string) model.Date { return a.dayIn(zone).Monday() + 7 }

// dayIn gives today in a time zone.
func (a *app) dayIn(zone string) model.Date {
	if d := a.set.date("today"); d != 0 {
		return d
	}
	loc, err := time.LoadLocation(zone)
	if err != nil {
		loc = time.UTC
	}
	return model.DateIn(time.Now(), loc)
}
