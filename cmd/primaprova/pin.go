package main

import (
	"errors"
	"slices"

	"github.com/spf13/cobra"

	"primaprova/io/planfile"
	"primaprova/io/seasonfile"
	"primaprova/model"
)

func pinCommand(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:   "pin [SEASON] SESSION [DATE]",
		Short: "keeps a session on a day",
		Long: `Writes a pin into the season file: the session stays on the day, or is left out
where it can't be there. Without DATE it is the day it is planned on now.
SESSION is its number on today's sheet, its id (show --ids), or the end of it
where that is one session's alone.

    pin 3 2027-01-20
    pin slate/read-through 2027-01-20
    pin tide/slate/45-61/visit-2 --off    free again

Only this pin changes in the file. The plan changes when it is made again.`,
		Args: atMost(3),
	}
	off := c.Flags().Bool("off", false, "take the session's pin out of the file")
	c.RunE = func(_ *cobra.Command, args []string) error {
		path, args := a.seasonAmong(args)
		if len(args) == 0 {
			return wrong("pin: name a session").then("pin --help")
		}
		if *off && len(args) > 1 || len(args) > 2 {
			return wrong("pin: there is no use for %s", args[len(args)-1]).then("pin --help")
		}
		return a.alone(path, func() error { return a.pin(path, args, *off) })
	}
	return c
}

// pin writes a pin, or takes one out. Who calls it holds the season, so that what
// is read is still there when it is written.
func (a *app) pin(path string, args []string, off bool) error {
	f, err := a.standingSeason(path)
	if err != nil {
		return err
	}
	p, err := planfile.Read(planPath(f.Path))
	if err != nil {
		p = nil // an id will do
	}
	args[0] = newView(a.say, f.Season, p, nil).idOf(args[0], a.today(f.Season))
	var out *seasonfile.File
	var d model.Date
	if off {
		out, err = f.Unpin(args[0])
	} else {
		if d, err = a.pinDay(f, args); err != nil {
			return err
		}
		if err := a.mayPin(f, p, args[0], d); err != nil {
			return err
		}
		out, err = f.Pin(args[0], d)
	}
	if err != nil {
		return editTrouble(err)
	}
	if out.SHA256 == f.SHA256 {
		a.say.aside("%s: it is pinned so already.", f.Path)
		return nil
	}
	a.warnings(out)
	if err := out.Replace(f); err != nil {
		return editTrouble(err)
	}
	w := newView(a.say, f.Season, nil, nil)
	if off {
		a.say.aside("Free again: %s. Wrote %s.", w.called(args[0]), f.Path)
	} else {
		a.say.aside("Pinned to %s: %s. Wrote %s.", a.say.locale.Day(d), w.called(args[0]), f.Path)
	}
	a.say.next("plan %s", quoted(f.Path))
	return nil
}

// mayPin refuses a pin that would change nothing: of a session that was done, or to a
// day gone by. A name that is no session's is refused where the file is changed.
func (a *app) mayPin(f *seasonfile.File, p *model.Plan, id string, d model.Date) error {
	h, err := a.happened(f, p)
	if err != nil {
		return err
	}
	wanted := func(h *model.History) bool {
		return slices.ContainsFunc(f.Season.With(h).Wanted(h), func(w model.Wanted) bool { return w.ID == id })
	}
	switch {
	case !wanted(nil) || h.history == nil:
		return nil
	case !wanted(h.history):
		return wrong("pin: %s is done, or no longer wanted: a pin would change nothing", id)
	case d < h.today:
		return wrong("pin: %v is past: a pin to it would change nothing", d).then("pin --help")
	}
	return nil
}

// pinDay gives the date of the arguments, or the one the session stands on.
func (a *app) pinDay(f *seasonfile.File, args []string) (model.Date, error) {
	if len(args) > 1 {
		d, err := a.saidDay(args[1], a.today(f.Season))
		if err != nil {
			return 0, wrong("pin: %v", err).then("pin --help")
		}
		return d, nil
	}
	if p, err := planfile.Read(planPath(f.Path)); err == nil {
		for i := range p.Sessions {
			if p.Sessions[i].ID == args[0] {
				return p.Sessions[i].Date, nil
			}
		}
	}
	return 0, wrong("pin: %s is not planned, so a date is needed", args[0]).then("pin --help")
}

// editTrouble is trouble with changing a season file.
func editTrouble(err error) error {
	var faults seasonfile.Errors
	if errors.As(err, &faults) {
		return &trouble{code: exitInput, lines: []string{faults.Error()}}
	}
	return fileTrouble(err)
}

// sayPins says of each pinned session that is left out why it could not stay:
// what the rules say of the plan with it on its day.
func (a *app) sayPins(h *happened, p *model.Plan) {
	w := newView(a.say, h.season, p, h.history)
	for _, pin := range h.season.Pins {
		for i := range p.Unplaced {
			if p.Unplaced[i].ID == pin.Session {
				a.say.aside("Pinned to %s and left out: %s, since %s.", a.say.locale.Day(pin.Date), w.called(pin.Session), w.inWords(whyNot(h, p, i, pin.Date)))
			}
		}
	}
}

func whyNot(h *happened, p *model.Plan, unplaced int, on model.Date) string {
	if on < h.history.Today {
		return "the day has gone by"
	}
	trial := *p
	trial.Sessions = append([]model.Session(nil), p.Sessions...)
	trial.Unplaced = append(append([]model.Unplaced(nil), p.Unplaced[:unplaced]...), p.Unplaced[unplaced+1:]...)
	for _, w := range h.season.Wanted(h.history) {
		if w.ID == p.Unplaced[unplaced].ID {
			trial.Sessions = append(trial.Sessions, w.On(on))
		}
	}
	h.season.FinishFrom(&trial, h.history)
	for _, b := range h.season.Audit(&trial, h.history) {
		return b.Text
	}
	return "the search found no place for it beside the rest"
}
