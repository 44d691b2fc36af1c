package stand

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"unicode/utf8"

	"primaprova/model"
)

// State is what the page is given: some days as they stand, what the record says of
// them, and what the last planning changed. Its JSON is read by page/state.js.
type State struct {
	Version  string        `json:"version"` // of the page that goes with it
	Season   string        `json:"season"`
	Today    model.Date    `json:"today"`
	Unseen   int           `json:"unseen"` // the first entry of the record that this state does not know
	Days     []Day         `json:"days"`
	Parts    []Part        `json:"parts"` // those in which something can be found
	Planning bool          `json:"planning"`
	Changed  *Changed      `json:"changed"` // nil: nothing has been planned since the server began
	Trouble  string        `json:"trouble,omitempty"`
	Pain     []string      `json:"pain"` // the caution
	Block    model.Minutes `json:"block"`
	Rest     model.Minutes `json:"rest"`
	Scale    []model.Tempo `json:"scale"`
}

// Changed is what a planning changed, in sentences. Its number rises.
type Changed struct {
	Number int      `json:"number"`
	Lines  []string `json:"lines"`
}

// Day is a day's sheet.
type Day struct {
	Date     model.Date `json:"date"`
	Title    string     `json:"title"`
	Services []string   `json:"services"`
	Free     string     `json:"free,omitempty"` // in a word, what keeps the day free of planned playing
	Pain     string     `json:"pain,omitempty"` // the entry that says that playing hurt: an id or a number
	Load     string     `json:"load"`           // in a sentence, where it is played and of how much
	Marks    []string   `json:"marks"`          // sentences: what services, pain and time off make of the day
	Ahead    string     `json:"ahead"`          // the first rehearsal to come
	Lines    []Line     `json:"lines"`
	Also     []Also     `json:"also"` // what is said of sessions that the plan does not have on the day (any more)
	Found    []Found    `json:"found"`
	Mind     []string   `json:"mind"`
}

// Line is a session, or a rest where ID is empty.
type Line struct {
	ID      string        `json:"id,omitempty"`
	Number  int           `json:"number,omitempty"`
	Stage   model.Stage   `json:"stage,omitempty"`
	Part    string        `json:"part,omitempty"`
	Work    string        `json:"work,omitempty"`
	Bars    string        `json:"bars,omitempty"`
	Nature  string        `json:"nature,omitempty"` // "hard, exposed"
	Visit   string        `json:"visit,omitempty"`  // "2 of 4"
	Check   bool          `json:"check,omitempty"`
	At      string        `json:"at,omitempty"`
	Minutes model.Minutes `json:"minutes"`
	Playing bool          `json:"playing,omitempty"`
	Do      string        `json:"do"`
	Tempo   *model.Rung   `json:"tempo,omitempty"`
	Said    *Said         `json:"said,omitempty"`
}

// Said is the line of the record that counts about a session.
type Said struct {
	Kind    model.EventKind `json:"kind"`
	Minutes model.Minutes   `json:"minutes,omitempty"`
	Tempo   model.Tempo     `json:"tempo,omitempty"`
	Entry   string          `json:"entry"` // its id, else its number: what an undo names
}

// Also is a session that the record speaks of and the plan does not have on the day.
type Also struct {
	ID   string `json:"id"`
	Said *Said  `json:"said"`
}

// Found is a passage that was found on the day.
type Found struct {
	Part  string `json:"part"`
	Work  string `json:"work"`
	Bars  string `json:"bars"`
	Entry string `json:"entry"`
}

// Part is one in which something can be found today.
type Part struct {
	Name    string   `json:"name"`
	Work    string   `json:"work"`
	Moves   []string `json:"moves"`             // what names of bars begin with: "I", "II"
	Letters bool     `json:"letters,omitempty"` // its bars are named by rehearsal letters: "17 after C"
}

// At is what a state is made of. The season is the one with its record
// (model.Season.With); the events are all of the record.
type At struct {
	Season  *model.Season
	Plan    *model.Plan
	History *model.History
	Events  []model.Event
	Unseen  int
	Today   model.Date
	Locale  model.Locale
}

// ahead is how many days the page can go without the server.
const ahead = 7

// StateOf gives the days from yesterday on, for what is ticked after midnight.
func StateOf(a At) State {
	l := &a.Season.Limits
	s := State{Season: a.Season.Title, Today: a.Today, Unseen: a.Unseen, Days: []Day{}, Parts: []Part{}, Scale: model.Metronome(),
		Block: l.Block, Rest: l.BlockRest, Pain: []string{model.OnPain,
			"Whether and how much to play after it is for them to say. This page promises nothing about health."}}
	days := model.Range{From: a.Today - 1, To: a.Today + ahead - 1}
	m := maker{View: a.Season.View(a.Plan, a.History), locale: a.Locale, loads: a.Season.LoadsDuring(a.Plan, days)}
	m.live = m.Know(a.Events)
	for d := days.From; d <= days.To; d++ {
		if a.Season.Holds(d) {
			s.Days = append(s.Days, m.day(d))
		}
	}
	for _, w := range m.Work {
		if w.Part.Arrives <= a.Today && w.Programme.NextService(a.Today) != 0 {
			s.Parts = append(s.Parts, Part{w.Name, model.ShortTitle(w.Part.Work), moves(w.Passages), lettered(w.Passages)})
		}
	}
	return s
}

// tap is one tap as the page sends it (page/keep.js).
type tap struct {
	ID      string          `json:"id"`
	Unseen  int             `json:"unseen"`
	Kind    model.EventKind `json:"kind"`
	Date    *model.Date     `json:"date"`
	Session string          `json:"session"`
	Minutes model.Minutes   `json:"minutes"`
	Tempo   model.Tempo     `json:"tempo"`
	Part    string          `json:"part"`
	Bars    string          `json:"bars"`
	Hard    int             `json:"hard"`
	Exposed bool            `json:"exposed"`
	Heard   bool            `json:"heard"`
	Undoes  string          `json:"undoes"`
}

// tappable are the kinds that the page has; the rest is for the desk.
var tappable = []model.EventKind{model.Done, model.NotDone, model.DidNotHold, model.Found, model.Pain, model.Undo}

const longest = 44 // characters of a passage's bars; as an id has

// decode reads {"taps": [...]} strictly: all of it or nothing.
func decode(b []byte) ([]model.Tap, error) {
	var in struct {
		Taps []tap `json:"taps"`
	}
	if !utf8.Valid(b) {
		return nil, errors.New("is not UTF-8 text")
	}
	d := json.NewDecoder(bytes.NewReader(b))
	d.DisallowUnknownFields()
	if err := d.Decode(&in); err != nil {
		return nil, err
	}
	if _, err := d.Token(); err != io.EOF {
		return nil, errors.New("holds more than one JSON object")
	}
	if len(in.Taps) > mostTaps {
		return nil, fmt.Errorf("%d taps: at most %d at once", len(in.Taps), mostTaps)
	}
	out := make([]model.Tap, 0, len(in.Taps))
	for i := range in.Taps {
		t := &in.Taps[i]
		if !slices.Contains(tappable, t.Kind) {
			return nil, fmt.Errorf("kind: %q: can't be tapped", t.Kind)
		}
		if utf8.RuneCountInString(t.Bars) > longest {
			return nil, fmt.Errorf("bars: longer than %d characters", longest)
		}
		e := model.Event{ID: t.ID, Unseen: t.Unseen, Kind: t.Kind, Session: t.Session, Took: t.Minutes, Tempo: t.Tempo, Part: t.Part, Bars: t.Bars,
			Hard: t.Hard, Exposed: t.Exposed, Heard: t.Heard}
		if t.Date != nil && t.Kind != model.Undo {
			e.Date = *t.Date
		}
		out = append(out, model.Tap{Event: e, TakesBack: t.Undoes})
	}
	return out, nil
}
