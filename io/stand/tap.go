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
