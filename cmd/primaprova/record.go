package main

import (
	"fmt"
	"time"

	"github.com/spf13/cobra"

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
    record all                    the rest of the day was done as planned
    record 2-5 7                  these were
    record 3 --minutes 15         done, in 15 minutes
    record 3 --tempo 84           done, and it worked at 84 on the metronome
    record 3-4 --not-done         planned again
    record 2 --passage "45-61, hard, exposed" --passage 90-99 --estimate 60
                                  read, and what was found; at a terminal a part
                                  with an estimate alone is asked about
    record 5 --did-not-hold       done, but it did not stick: visits again
    record --found 90-99 --part tide/slate --hard 3
                                  a new passage, worked at for the dates that follow
    record --no-longer-needed tide/slate/45-61
    record --day-lost --note "a cold"
    record --day-lost --until 2027-01-20
                                  an illness; its services were missed unless you
                                  say --services-played
    record --pain                 stop; nothing more today, and light days after it
    record --pain --open          until further notice, which is --better
    record --undo                 the last entry does not hold

WHAT is a number as show day and record list them, a range, all, or the id of a
session (show --ids), or the end of it where that is one session's alone.
--on DATE speaks of another day than today. --lines FILE takes many at once,
written as above, one a line (- for standard input): all of them or none.

Nothing is ever taken out of the record: --undo adds a line, too. What hurts is
for a physician or physiotherapist to judge, not for a plan.`,
		Args: cobra.ArbitraryArgs,
	}
	o := recordFlags(c.Flags())
	lines := c.Flags().String("lines", "", "record what this `file` says, - for standard input")
	addSettings(c, "today", "width")
	c.RunE = func(c *cobra.Command, args []string) error {
		path, args := a.seasonAmong(args)
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
		all, err := o.eachDay(b.a, b.happened.today)
		if err != nil {
			return err
		}
		return b.record(all)
	}
	return c
}

// book is a record with what it speaks of.
type book struct {
	a        *app
	f        *seasonfile.File
	plan     *model.Plan // nil: none yet
	happened *happened
	view     *view

	estimates []estimated // new ones, of parts that were read
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
	all, err := b.knowMore(all, b.a.attended())
	if err != nil {
		return err
	}
	edited, err := b.reestimated()
	if err != nil {
		return err
	}
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
		return anew(r, out), nil
	})
	if err != nil {
		return b.notRecorded(err)
	}
	if len(events) == 0 {
		b.a.say.line("%s: nothing was written.", b.nothingNew(all))
		return nil
	}
	b.said(r, events, undone)
	if err := b.keepEstimates(edited); err != nil {
		return err
	}
	if err := b.askTaught(); err != nil {
		return err
	}
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
	out, err = b.sessionsOf(o, e, r)
	return out, nil, err
}

// day gives the day that is spoken of.
func (b *book) day(o *sayings) (model.Date, error) {
	on := b.happened.today
	if o.on != "" {
		d, err := b.a.saidDay(o.on, on)
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
