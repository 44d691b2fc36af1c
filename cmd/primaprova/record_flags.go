package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"primaprova/model"
)

// sayings is what one command, or one line of --lines, says.
type sayings struct {
	what                                       []string
	on, found, part, due, unneeded, undo, note string
	minutes, hard, tempo                       int
	notDone, notHeld, exposed, dayLost, pain   bool
	better, open, played, missed               bool
	until, estimate                            string
	passages                                   []string
	heard                                      bool   // of found: while listening
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
	f.StringVar(&o.found, "found", "", "`passage` that the season file does not have: bars, then hard or easy, exposed, minutes")
	f.StringVar(&o.part, "part", "", "`part` in which it was found: programme/part, or part where that is clear")
	f.IntVar(&o.hard, "hard", 2, "difficulty of the passage found: 1, 2 or 3 (`number`)")
	f.BoolVar(&o.exposed, "exposed", false, "the passage found is exposed")
	f.StringVar(&o.due, "due", "", "first `date` that is too late for it; empty: the dates that follow")
	f.StringVar(&o.unneeded, "no-longer-needed", "", "`passage` that needs no more visits")
	f.BoolVar(&o.dayLost, "day-lost", false, "nothing is done on the day: illness, travel")
	f.BoolVar(&o.pain, "pain", false, "playing hurt: everything stops, and the days after are light")
	f.StringArrayVar(&o.passages, "passage", nil, "a `passage` found in this session: bars, then hard or easy, exposed, minutes")
	f.StringVar(&o.estimate, "estimate", "", "`minutes` of all visits of its part together, now that it was read")
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
func (o *sayings) eachDay(a *app, today model.Date) ([]*sayings, error) {
	if !strings.Contains(o.on, "..") {
		return []*sayings{o}, nil
	}
	days, err := a.saidDays(o.on, today)
	if err != nil {
		return nil, wrong("--on: %v", err)
	}
	var out []*sayings
	for d := days.From; d <= days.To; d++ {
		one := *o
		one.on = d.String()
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

// spell fills in what is said of days of pain or lost ones: how long, what
// became of their services, and what stood planned on the days after.
func (b *book) spell(o *sayings, e *model.Event) error {
	switch {
	case o.until != "" && o.open:
		return fmt.Errorf("--until and --open say different things: one at a time")
	case o.played && o.missed:
		return fmt.Errorf("--services-played and --services-missed say different things: one at a time")
	case o.until != "":
		last, err := model.ParseDate(o.until)
		switch s := b.f.Season; {
		case err != nil:
			return fmt.Errorf("--until: %v", err)
		case last < e.Date || !s.Holds(last):
			return fmt.Errorf("--until: %v does not lie between %v and the season's end, %v", last, e.Date, s.To)
		}
		e.Last = last
	}
	e.Open = o.open
	if o.played {
		e.Services = model.ServicesPlayed
	} else if o.missed {
		e.Services = model.ServicesMissed
	}
	e.Stood = b.standing(max(e.Date, e.Last))
	return nil
}

// standing gives the planned playing that stands on each day after a date, as far
// as light days may reach.
func (b *book) standing(after model.Date) (out []model.DayMinutes) {
	if b.plan == nil {
		return nil
	}
	sum := map[model.Date]model.Minutes{}
	for i := range b.plan.Sessions {
		if v := &b.plan.Sessions[i]; v.Stage.Playing() && v.Stage != model.WarmUpStage {
			sum[v.Date] += v.Minutes
		}
	}
	last := b.f.Season.To
	for d := after + 1; d <= min(last, after+standingDays); d++ {
		out = append(out, model.DayMinutes{Date: d, Minutes: sum[d]})
	}
	return out
}

// standingDays is how many days after one of pain the record keeps what stood on
// them: a spell of three weeks and its light days.
const standingDays = 28
