package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"primaprova/io/planfile"
	"primaprova/io/recordfile"
	"primaprova/io/seasonfile"
	"primaprova/model"
)

func recordCommand(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:   "record [SEASON] [WHAT...]",
		Short: "writes down what became of the day's sessions",
		Long: `Writes down what happened, one line a thing, in the record beside the season
file: season.yaml has season.record.jsonl. The next plan starts from there.

    record                        the day's sessions with their numbers
    record all                    everything was done as planned
    record 2-5 7                  these were
    record 3 --minutes 15         done, in 15 minutes
    record 3 --tempo 84           done, and it worked at 84 on the metronome
    record 3-4 --not-done         planned again
    record 5 --did-not-hold       done, but it did not stick: visits again
    record --found 90-99 --part tide/slate --hard 3
                                  a new passage, due at the next service
    record --no-longer-needed tide/slate/45-61
    record --day-lost --note "a cold"
    record --day-lost --until 2027-01-20
                                  an illness; its services were missed unless you
                                  say --services-played
    record --pain                 stop; nothing more today, and light days after it
    record --pain --open          until further notice, which is --better
    record --undo                 the last entry does not hold

WHAT is a number as show day and record list them, a range, all, or the id of a
session. --on DATE speaks of another day than today. --lines FILE takes many at
once, written as above, one a line (- for standard input): all of them or none.

Nothing is ever taken out of the record: --undo adds a line, too. What hurts is
for a physician or physiotherapist to judge, not for a plan.`,
		Args: cobra.ArbitraryArgs,
	}
	o := recordFlags(c.Flags())
	lines := c.Flags().String("lines", "", "record what this `file` says, - for standard input")
	addSettings(c, "today", "width")
	c.RunE = func(c *cobra.Command, args []string) error {
		path := a.set.get("season")
		if len(args) > 0 && isSeason(args[0]) {
			path, args = args[0], args[1:]
		}
		f, err := a.standingSeason(path)
		if err != nil {
			return err
		}
		b, err := a.recordBook(f)
		if err != nil {
			return err
		}
		o.what = args
		switch {
		case *lines != "" && o.says(c.Flags()):
			return wrong("record: --lines stands alone: what else there is to say goes into its lines").then("record --help")
		case *lines != "":
			return b.recordLines(*lines)
		case !o.says(c.Flags()):
			return b.list(o)
		}
		all, err := o.eachDay(b.happened.today)
		if err != nil {
			return err
		}
		return b.record(all)
	}
	return c
}

// sayings is what one command, or one line of --lines, says.
type sayings struct {
	what                                       []string
	on, found, part, due, unneeded, undo, note string
	minutes, hard, tempo                       int
	notDone, notHeld, exposed, dayLost, pain   bool
	amongDays                                  bool // one of some days: those on which nothing is planned are passed over
	better, open, played, missed               bool
	until                                      string
	where                                      string // file:line, before what is wrong; empty for a command
	fault                                      error  // the line could not be read
}

func recordFlags(f *pflag.FlagSet) *sayings {
	o := &sayings{}
	f.StringVar(&o.on, "on", "", "the `date` it happened on, or yesterday, -2; from..to: each day of them; empty: today")
	f.IntVar(&o.minutes, "minutes", 0, "`minutes` that it really took, playing or listening")
	f.IntVar(&o.tempo, "tempo", 0, "`beats` a minute at which the passage worked")
	f.BoolVar(&o.notDone, "not-done", false, "it was not done and is planned again")
	f.BoolVar(&o.notHeld, "did-not-hold", false, "it was done, and the passage did not stick")
	f.StringVar(&o.found, "found", "", "`bars` of a passage that the season file does not have")
	f.StringVar(&o.part, "part", "", "`part` in which it was found: programme/part, or part where that is clear")
	f.IntVar(&o.hard, "hard", 2, "difficulty of the passage found: 1, 2 or 3 (`number`)")
	f.BoolVar(&o.exposed, "exposed", false, "the passage found is exposed")
	f.StringVar(&o.due, "due", "", "first `date` that is too late for it; empty: the next service")
	f.StringVar(&o.unneeded, "no-longer-needed", "", "`passage` that needs no more visits")
	f.BoolVar(&o.dayLost, "day-lost", false, "nothing is done on the day: illness, travel")
	f.BoolVar(&o.pain, "pain", false, "playing hurt: everything stops, and the days after are light")
	f.BoolVar(&o.better, "better", false, "what was recorded with --open is over from the day on")
	f.StringVar(&o.until, "until", "", "last `date` of days of pain or lost ones")
	f.BoolVar(&o.open, "open", false, "days of pain or lost ones until further notice: see --better")
	f.BoolVar(&o.played, "services-played", false, "the services of these days were played")
	f.BoolVar(&o.missed, "services-missed", false, "the services of these days were missed")
	f.StringVar(&o.undo, "undo", "", "take back the last `entry`, or the one given as --undo=NUMBER or its id")
	f.Lookup("undo").NoOptDefVal = "last"
	f.StringVar(&o.note, "note", "", "`words` to remember it by")
	return o
}

// eachDay gives what is said of a run of days once for each of them.
func (o *sayings) eachDay(today model.Date) ([]*sayings, error) {
	if !strings.Contains(o.on, "..") {
		return []*sayings{o}, nil
	}
	days, err := saidDays(o.on, today)
	if err != nil {
		return nil, wrong("--on: %v", err)
	}
	var out []*sayings
	for d := days.From; d <= days.To; d++ {
		one := *o
		one.on, one.amongDays = d.String(), true
		out = append(out, &one)
	}
	return out, nil
}

// says tells whether anything was said beside the day.
func (o *sayings) says(f *pflag.FlagSet) bool {
	any := len(o.what) > 0
	f.Visit(func(f *pflag.Flag) {
		any = any || !slices.Contains([]string{"on", "today", "width", "settings", "lines"}, f.Name)
	})
	return any
}

// book is a record with what it speaks of.
type book struct {
	a        *app
	f        *seasonfile.File
	plan     *model.Plan // nil: none yet
	happened *happened
	view     *view
}

func (a *app) recordBook(f *seasonfile.File) (*book, error) {
	b := &book{a: a, f: f}
	var err error
	if b.plan, err = planfile.Read(planPath(f.Path)); err != nil {
		b.plan = nil
	}
	if err != nil && !isMissing(err) {
		// What happened can't be made anew, a plan can.
		a.say.trouble(&trouble{err: err})
		a.say.aside("The plan is passed over; what does not need it can be recorded.")
	}
	if b.happened, err = a.happened(f, b.plan); err != nil {
		return nil, err
	}
	b.view = newView(a.say, b.happened.season, b.plan, b.happened.history)
	return b, nil
}

// record adds one entry made of all that is said.
func (b *book) record(all []*sayings) error {
	var undone []model.Event
	r, events, err := recordfile.Append(recordPath(b.f.Path), time.Now(), func(r *recordfile.Record) ([]model.Event, error) {
		if r.Broken != nil {
			b.a.say.aside("%s: %s.", r.Path, r.Broken)
		}
		var out []model.Event
		var faults []string
		for _, o := range all {
			events, gone, err := b.events(o, r)
			if err != nil {
				faults = append(faults, o.where+err.Error())
			}
			out, undone = append(out, events...), append(undone, gone...)
		}
		if len(faults) > 0 {
			return nil, &trouble{code: exitInput, lines: faults, next: "record --help"}
		}
		return out, nil
	})
	if err != nil {
		return b.notRecorded(err)
	}
	b.said(r, events, undone)
	b.a.say.next("plan %s", quoted(b.f.Path))
	return nil
}

// events turns what is said into events; gone are those that an undo takes
// back.
func (b *book) events(o *sayings, r *recordfile.Record) (out, gone []model.Event, err error) {
	if o.fault != nil {
		return nil, nil, o.fault
	}
	on, err := b.day(o)
	if err != nil {
		return nil, nil, err
	}
	e := model.Event{Date: on, Note: o.note}
	kinds := 0
	count := func(when bool) bool {
		if when {
			kinds++
		}
		return when
	}
	switch {
	case count(o.undo != ""):
		e, gone, err = takeBack(o, r)
	case count(o.dayLost):
		e.Kind = model.DayLost
		err = b.spell(o, &e)
	case count(o.pain):
		e.Kind = model.Pain
		err = b.spell(o, &e)
	case count(o.better):
		e.Kind = model.Better
	case count(o.found != ""):
		e, err = b.foundBy(o, e)
	case count(o.unneeded != ""):
		e.Kind = model.NotNeeded
		e.Passage, err = b.passageCalled(o.unneeded)
	}
	if err != nil {
		return nil, nil, err
	}
	if err := o.goTogether(kinds); err != nil {
		return nil, nil, err
	}
	if kinds > 0 {
		return []model.Event{e}, gone, nil
	}
	out, err = b.sessionsOf(o, e)
	return out, nil, err
}

// goTogether refuses flags that say two things at once, or nothing.
func (o *sayings) goTogether(kinds int) error {
	var said []string
	for _, f := range []struct {
		name string
		set  bool
	}{{"--undo", o.undo != ""}, {"--day-lost", o.dayLost}, {"--pain", o.pain}, {"--better", o.better}, {"--found", o.found != ""}, {"--no-longer-needed", o.unneeded != ""}} {
		if f.set {
			said = append(said, f.name)
		}
	}
	switch {
	case len(said) > 1:
		return fmt.Errorf("%s say different things: one at a time", strings.Join(said, " and "))
	case !o.dayLost && !o.pain && (o.until != "" || o.open || o.played || o.missed):
		return fmt.Errorf("--until, --open, --services-played and --services-missed go with --pain and --day-lost")
	case o.notDone && o.notHeld:
		return fmt.Errorf("--not-done and --did-not-hold say different things: one at a time")
	case kinds == 0 && len(o.what) == 0:
		return fmt.Errorf("of which session? A number, a range, all, or a session's id")
	case kinds > 0 && (len(o.what) > 0 || o.notDone || o.notHeld):
		rest := slices.Clone(o.what)
		if o.notDone {
			rest = append(rest, "--not-done")
		}
		if o.notHeld {
			rest = append(rest, "--did-not-hold")
		}
		return fmt.Errorf("%s is not said of sessions: leave %s away", said[0], strings.Join(rest, " "))
	case o.found == "" && (o.part != "" || o.due != "" || o.exposed):
		return fmt.Errorf("--part, --due, --hard and --exposed go with --found")
	case kinds > 0 && o.found == "" && o.minutes != 0 || o.notDone && o.minutes != 0:
		return fmt.Errorf("--minutes is said of sessions done and of a passage found")
	case o.tempo != 0 && (kinds > 0 || o.notDone):
		return fmt.Errorf("--tempo is said of a passage's visit that was done")
	case o.minutes < 0:
		return fmt.Errorf("--minutes: %d is less than nothing", o.minutes)
	}
	return nil
}

// day gives the day that is spoken of.
func (b *book) day(o *sayings) (model.Date, error) {
	on := b.happened.today
	if o.on != "" {
		d, err := saidDay(o.on, on)
		if err != nil {
			return 0, fmt.Errorf("--on: %v", err)
		}
		on = d
	}
	s := b.f.Season
	season := model.Range{From: s.From, To: s.To}
	switch {
	case o.undo != "":
	case !season.Holds(on):
		if o.on == "" {
			return 0, fmt.Errorf("today, %v, lies outside the season (%v); name a day with --on", on, season)
		}
		return 0, fmt.Errorf("--on: %v lies outside the season (%v)", on, season)
	case on > b.happened.today && !o.dayLost && !o.better:
		return 0, fmt.Errorf("--on: %v lies ahead: only a day that will be lost can be recorded beforehand", on)
	}
	return on, nil
}

// takeBack finds the entry that an undo speaks of: the last one that holds, or
// the one that is named.
func takeBack(o *sayings, r *recordfile.Record) (e model.Event, gone []model.Event, err error) {
	live := model.Standing(r.Events)
	e = model.Event{Kind: model.Undo, Note: o.note}
	if o.undo == "last" {
		if len(live) == 0 {
			return e, nil, fmt.Errorf("--undo: the record holds nothing to take back")
		}
		e.Undoes = live[len(live)-1].Entry
	} else if at := slices.IndexFunc(r.Events, func(x model.Event) bool { return o.undo == strconv.Itoa(x.Entry) || o.undo == x.ID }); at < 0 {
		return e, nil, fmt.Errorf("--undo: the record has no entry %q", o.undo)
	} else {
		e.Undoes = r.Events[at].Entry
	}
	for _, x := range live {
		if x.Entry == e.Undoes {
			gone = append(gone, x)
		}
	}
	return e, gone, nil
}
