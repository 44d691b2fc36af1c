package main

import (
	"context"
	"fmt"
	"os"
	"slices"
	"sync"
	"time"

	"primaprova/io/recordfile"
	"primaprova/io/seasonfile"
	"primaprova/io/stand"
	"primaprova/model"
)

// standDesk is what stands behind the page at the stand: the season's files, and the
// planning beside it.
type standDesk struct {
	a      *app
	season string
	files  *standFiles
	anew   *replanner

	mu    sync.Mutex // one at a time: the record is read and written as a whole
	book  *book      // season, plan and record as they were read
	made  stand.State
	stamp string     // of the files that these were made of; empty: not made
	day   model.Date // the last one that was planned from
}

func newDesk(a *app, season string) *standDesk {
	files := &standFiles{a: a, season: season}
	return &standDesk{a: a, season: season, files: files, anew: newReplanner(a, files)}
}

// watch lets the planning beside the page run until the context ends.
func (d *standDesk) watch(ctx context.Context) { go d.anew.run(ctx) }

// State gives the days as they stand.
func (d *standDesk) State() (stand.State, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if err := d.fresh(); err != nil {
		return stand.State{}, err
	}
	out := d.made
	out.Planning, out.Changed, out.Trouble = d.anew.stands()
	return out, nil
}

// fresh makes the days anew where one of the season's files has been written since, or
// another day has come. Days gone by are what the record says, so the first time that a new day is
// asked for the plan is made anew; at the beginning, where the record holds more than
// the plan was made from.
func (d *standDesk) fresh() error {
	f, p, stamp, err := d.files.read()
	if err != nil {
		return err
	}
	if stamp += stamped(recordPath(d.season)); stamp == d.stamp {
		return nil
	}
	h, err := d.a.happened(f, p)
	if err != nil {
		return err
	}
	d.book = &book{a: d.a, f: f, plan: p, happened: h}
	d.made = stand.StateOf(stand.At{Season: h.season, Plan: p, History: h.history, Events: h.record.Events, Unseen: h.record.Last + 1,
		Today: h.today, Locale: d.a.say.locale})
	if d.day == 0 && h.record.Last > p.Season.Record || d.day != 0 && h.today > d.day {
		d.anew.want(0)
	}
	d.stamp, d.day = stamp, h.today
	return nil
}

// Take puts taps into the record and has the plan made anew where they matter to it.
func (d *standDesk) Take(taps []model.Tap) ([]model.Arrival, int, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if err := d.fresh(); err != nil {
		return nil, 0, err
	}
	refused := map[string]string{}
	r, added, arrivals, err := recordfile.Merge(recordPath(d.season), time.Now(), func(r *recordfile.Record) ([]model.Tap, error) {
		var out []model.Tap
		for _, t := range taps {
			if !slices.ContainsFunc(r.Events, func(e model.Event) bool { return e.ID == t.ID }) {
				if why := d.book.fits(&t); why != "" {
					refused[t.ID] = why
					continue
				}
			}
			out = append(out, t)
		}
		return out, nil
	})
	if err != nil {
		return nil, 0, err
	}
	for id, why := range refused {
		arrivals = append(arrivals, model.Arrival{ID: id, Why: why})
	}
	for i := range added {
		switch e := &added[i]; {
		case e.Kind == model.Pain:
			d.anew.want(aPainSlip)
		case matters(r.Events, e):
			d.anew.want(aSlip)
		}
	}
	return arrivals, r.Last + 1, nil
}

// fits fills in what the plan says of a tap, or gives why it can't be recorded.
func (b *book) fits(t *model.Tap) string {
	s := b.f.Season
	switch {
	case t.Kind == model.Undo:
		return ""
	case !s.Holds(t.Date):
		return fmt.Sprintf("date: %v: lies outside the season", t.Date)
	case t.Date > b.happened.today+1: // the phone may be a zone ahead
		return fmt.Sprintf("date: %v: lies ahead", t.Date)
	}
	switch t.Kind {
	case model.Pain:
		t.Stood = b.standing(t.Date)
	case model.Found:
		all := b.happened.season.Work(b.happened.history)
		i := slices.IndexFunc(all, func(w model.PartWork) bool { return w.Name == t.Part })
		if i < 0 {
			return fmt.Sprintf("part: %q: is no part of the season", t.Part)
		}
		switch w := &all[i]; {
		case t.Date < w.Part.Arrives:
			return fmt.Sprintf("date: %v: %s is there from %v only", t.Date, t.Part, w.Part.Arrives)
		case slices.ContainsFunc(w.Passages, func(p model.PassageWork) bool { return p.Passage.ID == t.Bars || p.Passage.Bars == t.Bars }):
			return fmt.Sprintf("bars: %s: are a passage of %s already", t.Bars, t.Part)
		case w.Programme.NextService(t.Date) == 0:
			return fmt.Sprintf("part: %s: no service comes after %v", t.Part, t.Date)
		}
	default:
		for i := range b.plan.Sessions {
			if v := &b.plan.Sessions[i]; v.Date == t.Date && v.Key() == t.Key() {
				t.Planned = v.Minutes
			}
		}
	}
	return ""
}

// matters tells whether the plan is to be made anew at once. What was done as planned
// changes nothing that lies ahead, and waits for the evening or the next day.
func matters(events []model.Event, e *model.Event) bool {
	if e.Kind != model.Undo {
		return e.Kind != model.Done || e.Planned == 0 // the plan has it on another day
	}
	return slices.ContainsFunc(events, func(x model.Event) bool { return x.Entry == e.Undoes && x.Kind != model.Done })
}

// standFiles are the season and its plan as they stand, for whoever works beside the
// page: each is read again once it has been written.
type standFiles struct {
	a      *app
	season string

	mu               sync.Mutex
	f                *seasonfile.File
	p                *model.Plan
	seasonAt, planAt string // stamps of what was read
}

// read gives both, and a stamp that is another once one of them is. Nobody may change
// what is given.
func (s *standFiles) read() (*seasonfile.File, *model.Plan, string, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	// The season may name other files, and a day begins on an hour, in nearly every zone.
	seasonAt, planAt := time.Now().Format("2006-01-02 15")+stamped(s.season), stamped(planPath(s.season))
	if seasonAt != s.seasonAt {
		f, err := s.a.standingSeason(s.season)
		if err != nil {
			return nil, nil, "", err
		}
		s.f, s.seasonAt = f, seasonAt
	}
	if planAt != s.planAt {
		p, err := s.a.standing(s.f)
		if err != nil {
			return nil, nil, "", err
		}
		s.p, s.planAt = p, planAt
	}
	return s.f, s.p, seasonAt + planAt, nil
}

// stamped is another text whenever the file has been written.
func stamped(path string) string {
	info, err := os.Stat(path)
	if err != nil {
		return " none"
	}
	return fmt.Sprint(" ", info.Size(), info.ModTime().UnixNano())
}
