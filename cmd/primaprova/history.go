package main

import (
	"errors"
	"time"

	"primaprova/io/recordfile"
	"primaprova/io/seasonfile"
	"primaprova/model"
)

// recordPath gives the record beside a season file: season.yaml has
// season.record.jsonl.
func recordPath(season string) string {
	return beside(season, ".record.jsonl")
}

// today gives the date that is today where the season is at home, unless the
// setting says otherwise.
func (a *app) today(s *model.Season) model.Date {
	if d := a.set.date("today"); d != 0 {
		return d
	}
	zone, err := time.LoadLocation(s.TimeZone)
	if err != nil {
		zone = time.UTC
	}
	return model.DateIn(time.Now(), zone)
}

// happened is a season with what its record says.
type happened struct {
	record  *recordfile.Record
	season  *model.Season // with the days that turned out otherwise
	history *model.History
	today   model.Date
	path    string         // of the season file
	stood   [32]byte       // of the plan file, when it was read to plan from; see putPlan
	broken  []model.Breach // the rules for which today is planned anew; see model.Season.Resume
}

// happened reads the record beside a season file. What was planned before today
// and the record does not speak of is taken as the setting unrecorded says.
func (a *app) happened(f *seasonfile.File, standing *model.Plan) (*happened, error) {
	return a.replayed(f, func(events []model.Event, o model.Replaying) (*model.History, []model.Remark, []model.Breach) {
		h, remarks := f.Season.Replay(events, standing, o)
		return h, remarks, nil
	})
}

// planned is a season with the plan that stands and what became of it.
func (a *app) planned(path string) (f *seasonfile.File, p *model.Plan, h *happened, err error) {
	if f, err = a.standingSeason(path); err != nil {
		return nil, nil, nil, err
	}
	if p, err = a.standing(f); err != nil {
		return nil, nil, nil, err
	}
	h, err = a.happened(f, p)
	return f, p, h, err
}

// resumed is happened for whoever plans on: today stays as it stands where that
// can be, unless it is asked for.
func (a *app) resumed(f *seasonfile.File, standing *model.Plan, fromToday bool) (*happened, error) {
	if fromToday {
		return a.happened(f, standing)
	}
	return a.replayed(f, func(events []model.Event, o model.Replaying) (*model.History, []model.Remark, []model.Breach) {
		return f.Season.Resume(events, standing, o)
	})
}

func (a *app) replayed(f *seasonfile.File, replay func([]model.Event, model.Replaying) (*model.History, []model.Remark, []model.Breach)) (*happened, error) {
	r, err := a.record(f.Path)
	if err != nil {
		return nil, err
	}
	if r.Broken != nil {
		a.say.aside("%s: %s.", r.Path, r.Broken)
	}
	today := a.today(f.Season)
	h, remarks, broken := replay(r.Events, model.Replaying{Today: today,
		TakeAsDone: a.set.get("unrecorded") == "done", Scaled: a.set.get("learn") == "yes"})
	out := &happened{path: f.Path, record: r, season: f.Season.With(h), history: h, today: today, broken: broken}
	a.sayPassedOver(out, remarks)
	return out, nil
}

// mostPassedOver is how many entries of a record that can't be followed are named.
const mostPassedOver = 3

// sayPassedOver says what of the record could not be followed, and why.
func (a *app) sayPassedOver(h *happened, remarks []model.Remark) {
	if len(remarks) == 0 {
		return
	}
	w := newView(a.say, h.season, nil, h.history)
	for i, m := range remarks {
		if more := len(remarks) - i; i == mostPassedOver && more > 1 {
			a.say.aside("%s: and %d more that can't be followed; passed over.", h.record.Path, more)
			return
		}
		a.say.aside("%s: entry %d: %s; passed over.", h.record.Path, m.Entry, w.inWords(m.Text))
	}
}

// sayNewer says that the record holds more than the plan was made from.
func (a *app) sayNewer(season string, h *happened, p *model.Plan) {
	if h.record.Last > p.Season.Record {
		a.say.aside("%s: is newer than the plan: from entry %d on.", h.record.Path, p.Season.Record+1)
		a.say.next("plan %s", quoted(season))
	}
}

// record reads a record. Its faults are the user's to mend, since nothing but
// an editor makes them.
func (a *app) record(season string) (*recordfile.Record, error) {
	r, err := recordfile.Read(recordPath(season))
	return r, recordTrouble(err)
}

func recordTrouble(err error) error {
	var faults recordfile.Error
	switch {
	case err == nil:
		return nil
	case errors.As(err, &faults):
		return &trouble{code: exitInput, err: err}
	}
	return fileTrouble(err)
}

// sayTaken says what was taken as done though the record does not say so, and
// what becomes of today.
//
// It is told on the day after, with what was silent before: read every evening,
// the same line would be read by nobody.
//
// After some days without any record it asks: a plan built on what was hoped is not
// one built on what was done.
func (a *app) sayTaken(h *happened, standing *model.Plan) {
	before, yesterday, now := 0, 0, 0
	first, days := h.today, map[model.Date]bool{}
	for _, t := range h.history.Taken {
		if t.Date < h.today {
			before, first = before+1, min(first, t.Date)
			days[t.Date] = true
			if t.Date == h.today-1 {
				yesterday++
			}
		} else {
			now++
		}
	}
	asks := len(days) >= silentDays // which says it all
	switch day := a.say.locale.Day(first); {
	case yesterday == 0 || asks:
	case yesterday == before:
		a.say.aside("Not recorded: %s of yesterday, taken as done (setting unrecorded).", several(yesterday, "session", "sessions"))
	default:
		a.say.aside("Not recorded: %s of yesterday, %d since %s, taken as done (setting unrecorded).", several(yesterday, "session", "sessions"), before, day)
	}
	if asks {
		last := first
		for d := range days {
			last = max(last, d)
		}
		a.say.aside("This plan takes %s without a record as played as planned. Were they? Say so for all at once, or --not-done, or --day-lost:", several(len(days), "day", "days"))
		a.say.next("record %s all --on %s..%s", quoted(h.path), first, last)
	}
	if note := h.history.Days[h.today]; len(h.broken) > 0 && (note == model.Lost || note == model.Stopped) {
		a.say.aside("The record takes today: what stood on it is planned later.")
	} else if len(h.broken) > 0 {
		a.say.aside("Today is planned anew, for as it stood it breaks a rule: %s.", newView(a.say, h.season, standing, h.history).inWords(h.broken[0].Text))
	} else if now > 0 {
		a.say.aside("Today stays as it stands; --from-today plans it anew too.")
	}
}

// silentDays is how many days without a record it takes for the player to be asked
// about them. Common practice, no source.
const silentDays = 3
