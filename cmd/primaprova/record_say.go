package main

import (
	"errors"
	"fmt"
	"io/fs"
	"slices"

	"primaprova/io/disk"
	"primaprova/io/recordfile"
	"primaprova/io/table"
	"primaprova/model"
)

// list says the day's sessions with their numbers, and what the record says of
// each.
func (b *book) list(o *sayings) error {
	v := b.a.say
	if b.plan == nil {
		return wrong("%s: there is no plan yet", planPath(b.f.Path)).then("plan %s", quoted(b.f.Path))
	}
	on, err := b.day(o)
	if err != nil {
		return wrong("%v", err)
	}
	b.view.know(b.happened.record.Events)
	said := b.view.recorded
	v.title("%s", v.longDay(on))
	sheet := b.view.sheet(on)
	if len(sheet.Sessions) == 0 {
		v.line("Nothing is planned.")
	}
	t := &table.Table{Columns: []table.Column{{Name: itemColumn, Right: true}, {Name: "min", Right: true}, {Name: "work", Wraps: true, From: phone}, {Name: "what", Wraps: true}, {Name: "visit"}, {Name: "record"}}}
	for _, s := range sheet.Sessions {
		what, visit := b.view.what(s)
		work := ""
		if s.Part != "" {
			work = b.view.ShortTitle(s.Part)
		}
		t.Row(fmt.Sprint(s.Number), fmt.Sprint(int(s.Minutes)), work, what, visit, said[s.Key()])
	}
	if len(sheet.Sessions) > 0 {
		v.space()
		v.table(t)
		v.space()
	}
	for _, e := range model.Standing(b.happened.record.Events) {
		if e.Date == on && e.Session == "" {
			v.line("The record says: %s.", b.words(&e))
		}
	}
	unsaid := slices.ContainsFunc(sheet.Sessions, func(s sessionView) bool { return s.Stage != model.WarmUpStage && said[s.Key()] == "" })
	switch {
	case unsaid && on != b.happened.today:
		v.next("record %s all --on %s", quoted(b.f.Path), on)
	case unsaid:
		v.next("record %s all", quoted(b.f.Path))
	default:
		v.next("plan %s", quoted(b.f.Path))
	}
	return nil
}

// outcome says in a few words what became of a session.
func outcome(e *model.Event) string {
	if e.Kind == model.NotDone {
		return "not done"
	}
	said := "done"
	if e.Kind == model.DidNotHold {
		said = "did not hold"
	}
	if e.Took != 0 {
		said += ", " + e.Took.String()
	}
	if e.Tempo != 0 {
		said += fmt.Sprintf(", at %d", e.Tempo)
	}
	return said
}

// words says an event in a few words.
func (b *book) words(e *model.Event) string {
	switch e.Kind {
	case model.Done, model.DidNotHold, model.NotDone:
		return outcome(e)
	case model.Found:
		return fmt.Sprintf("found bars %s of %s", e.Bars, b.view.ShortTitle(e.Part))
	case model.NotNeeded:
		return b.view.passageCalled(e.Passage) + ": no longer needed"
	case model.DayLost:
		return spellWords(e, "a day lost", "days lost")
	case model.Pain:
		return spellWords(e, "a day of pain", "days of pain")
	case model.Better:
		return "better"
	}
	return "taken back"
}

// spellWords says how long days of pain or lost ones last, and what became of
// their services.
func spellWords(e *model.Event, one, more string) string {
	said := one
	if e.Last > e.Date {
		said = fmt.Sprintf("%s until %s", more, e.Last)
	} else if e.Open {
		said = more + " until further notice"
	}
	switch e.Services {
	case model.ServicesPlayed:
		said += ", services played"
	case model.ServicesMissed:
		said += ", services missed"
	}
	if e.Note != "" {
		said += ": " + e.Note
	}
	return said
}

// mostTimes is how many times its minutes a session may take before it is asked
// whether that is a slip.
const mostTimes = 3

// said tells what was written down, and what follows from it.
func (b *book) said(r *recordfile.Record, events, undone []model.Event) {
	v := b.a.say
	v.title("%s: entry %d", r.Path, r.Last)
	for i := range events {
		e := &events[i]
		switch {
		case e.Session != "":
			v.line("%s: %s: %s.", v.day(e.Date), b.view.called(e.Session), b.words(e))
		case e.Kind == model.Undo:
			v.line("Entry %d no longer holds.", e.Undoes)
		default:
			v.line("%s: %s.", v.day(e.Date), b.words(e))
		}
		if e.Session != "" && e.Took > mostTimes*e.Planned && e.Took > e.Planned+60 {
			v.line("That is %d times the %s that were planned; record --undo takes a slip back.", e.Took/max(1, e.Planned), e.Planned)
		}
		if e.Kind == model.Found {
			b.sayDue(r, e)
		}
		if e.Kind == model.DidNotHold {
			b.sayAgain(r, e)
		}
		if e.Kind == model.Pain {
			b.sayPain(r, e)
		}
	}
	for i := range undone {
		what := b.words(&undone[i])
		if undone[i].Session != "" {
			what = b.view.called(undone[i].Session) + ": " + what
		}
		v.line("Taken back: %s: %s.", v.day(undone[i].Date), what)
	}
}

// sayAgain says how many visits a passage has, now that one did not hold: the day's
// sheet spoke of fewer.
func (b *book) sayAgain(r *recordfile.Record, e *model.Event) {
	if p := b.after(r, e.Key().Name); p != nil && len(p.Recipe) > len(p.Done) {
		b.a.say.line("It is worked at again: %s more, %d in all.", several(len(p.Recipe)-len(p.Done), "visit", "visits"), len(p.Recipe))
	}
}

// sayDue says for which date a passage found is worked at.
func (b *book) sayDue(r *recordfile.Record, e *model.Event) {
	p := b.after(r, model.PassageName(e.Part, e.Bars))
	switch {
	case e.Due != 0:
		b.a.say.line("It is due before %s.", b.a.say.day(e.Due))
	case p == nil || p.Over:
		b.a.say.line("No day is left for it before any date.")
	default:
		b.a.say.line("It is worked at for %s.", b.a.say.locale.For(b.view.dueFor(e.Part, p.Deadline)))
	}
}

// after gives a passage as it is with what was just recorded; nil where there is none.
func (b *book) after(r *recordfile.Record, passage string) *model.PassageWork {
	h, _ := b.f.Season.Replay(r.Events, b.plan, model.Replaying{Today: b.happened.today, TakeAsDone: b.a.set.get("unrecorded") == "done"})
	return b.f.Season.With(h).View(nil, h).Passages[passage]
}

// painDays is how many days back another day of pain is spoken of.
const painDays = 14

// sayPain says what matters on a day of pain: stop, and who to ask. Nothing
// here advises on how to go on playing; that is for those who are trained to.
func (b *book) sayPain(r *recordfile.Record, e *model.Event) {
	v, on := b.a.say, e.Date
	if l := &b.f.Season.Limits; l.LightDays > 0 {
		v.line("Stop for today: nothing more is planned on %s. The %s after it are light: at most %d %% of what stood planned on them.", v.day(on), several(l.LightDays, "day", "days"), l.Light)
	} else {
		v.line("Stop for today: nothing more is planned on %s.", v.day(on))
	}
	v.line("What is left is planned later, and comes back step by step.")
	if days := (model.Range{From: on, To: max(on, e.Last)}); e.Services == "" && b.serves(days) {
		v.line("Services on it count as played, unless you say --services-missed with it.")
	}
	v.line("%s", model.OnPain)
	v.line("Whether and how much to play then is for them to say. This program promises nothing about health.")
	before := 0
	for _, e := range model.Standing(r.Events) {
		if e.Kind == model.Pain && e.Date < on && e.Date >= on-painDays {
			before++
		}
	}
	if before > 0 {
		v.line("It is not the first time in %d days: see one of them before you play on.", painDays)
	}
}

// serves tells whether a service of some days counts as played.
func (b *book) serves(days model.Range) bool {
	for d := days.From; d <= days.To; d++ {
		if model.PlayingIn(b.f.Season.ServicesOn(d)) > 0 {
			return true
		}
	}
	return false
}

// notRecorded says why nothing was written.
func (b *book) notRecorded(err error) error {
	var t *trouble
	if errors.As(err, &t) {
		return t
	}
	if errors.Is(err, disk.ErrBusy) {
		return &trouble{code: exitInternal, err: err}
	}
	var p *fs.PathError
	if errors.As(err, &p) {
		return cannotWrite(recordPath(b.f.Path), err)
	}
	return recordTrouble(err)
}
