package main

import (
	"errors"
	"path/filepath"
	"strings"
	"time"

	"primaprova/io/recordfile"
	"primaprova/io/seasonfile"
	"primaprova/model"
)

// recordPath gives the record beside a season file: season.yaml has
// season.record.jsonl.
func recordPath(season string) string {
	return strings.TrimSuffix(season, filepath.Ext(season)) + ".record.jsonl"
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
	stood   [32]byte // of the plan file, when it was read to plan from; see putPlan
}

// happened reads the record beside a season file. Days before `first` are past:
// what was planned on them and the record does not speak of is taken as the
// setting unrecorded says.
func (a *app) happened(f *seasonfile.File, standing *model.Plan, first model.Date) (*happened, error) {
	r, err := a.record(f.Path)
	if err != nil {
		return nil, err
	}
	if r.Broken != nil {
		a.say.aside("%s: %s.", r.Path, r.Broken)
	}
	h, remarks := f.Season.Replay(r.Events, standing, model.Replaying{Today: first,
		TakeAsDone: a.set.get("unrecorded") == "done", Scaled: a.set.get("learn") == "yes"})
	for _, m := range remarks {
		a.say.aside("%s: entry %d: %s; passed over.", r.Path, m.Entry, m.Text)
	}
	return &happened{record: r, season: f.Season.With(h), history: h, today: a.today(f.Season)}, nil
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

// firstAhead gives the first day that may be planned. Where a plan stands, the
// day that has begun stays as it stands, unless it is asked for.
func (a *app) firstAhead(s *model.Season, standing *model.Plan, fromToday bool) model.Date {
	today := a.today(s)
	if standing != nil && !fromToday && today >= s.From {
		return today + 1
	}
	return today
}

// sayTaken says what was taken as done though the record does not say so.
func (a *app) sayTaken(h *happened, standing *model.Plan) {
	if standing == nil {
		return
	}
	on := map[string]model.Date{}
	for i := range standing.Sessions {
		on[standing.Sessions[i].ID] = standing.Sessions[i].Date
	}
	before, now := 0, 0
	for _, id := range h.history.Taken {
		if on[id] < h.today {
			before++
		} else {
			now++
		}
	}
	if before > 0 {
		a.say.aside("The record says nothing of %s before today: taken as done as planned (setting unrecorded).", several(before, "session", "sessions"))
	}
	if now > 0 && h.history.Today > h.today {
		a.say.aside("Today stays as it stands; --from-today plans it anew too.")
	}
}
