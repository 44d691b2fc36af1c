package recordfile

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"primaprova/model"
)

// line is one line as it stands in the file.
type line struct {
	Format  string          `json:"format,omitempty"` // the first line only
	Entry   int             `json:"entry,omitempty"`
	At      *time.Time      `json:"at,omitempty"`
	ID      string          `json:"id,omitempty"`
	Unseen  int             `json:"unseen,omitempty"`
	Kind    model.EventKind `json:"kind,omitempty"`
	Date    *model.Date     `json:"date,omitempty"`
	Session string          `json:"session,omitempty"`
	Planned model.Minutes   `json:"planned,omitempty"`
	Minutes model.Minutes   `json:"minutes,omitempty"`
	Part    string          `json:"part,omitempty"`
	Passage string          `json:"passage,omitempty"`
	Bars    string          `json:"bars,omitempty"`
	Hard    int             `json:"hard,omitempty"`
	Exposed bool            `json:"exposed,omitempty"`
	Heard   bool            `json:"heard,omitempty"`
	Due     *model.Date     `json:"due,omitempty"`
	Tempo   model.Tempo     `json:"tempo,omitempty"`
	Last    *model.Date     `json:"last,omitempty"`
	Open    bool            `json:"open,omitempty"`

	Services model.ServicesWord `json:"services,omitempty"`
	Stood    []model.DayMinutes `json:"stood,omitempty"`

	Undoes int    `json:"undoes,omitempty"`
	From   int    `json:"from,omitempty"` // set-aside: the first of the lines
	To     int    `json:"to,omitempty"`   // set-aside: the last of them
	Note   string `json:"note,omitempty"`
	More   bool   `json:"more,omitempty"` // the entry goes on in the next line
}

// setAside is the kind of the lines by which an append names what a power cut
// left of an earlier one.
const setAside model.EventKind = "set-aside"

func lineOf(e *model.Event) line {
	l := line{Entry: e.Entry, ID: e.ID, Unseen: e.Unseen, Heard: e.Heard, Kind: e.Kind, Session: e.Session, Planned: e.Planned, Minutes: e.Took, Part: e.Part,
		Passage: e.Passage, Bars: e.Bars, Hard: e.Hard, Exposed: e.Exposed, Tempo: e.Tempo, Undoes: e.Undoes, Note: e.Note,
		Open: e.Open, Services: e.Services, Stood: e.Stood}
	if e.Last != 0 {
		l.Last = &e.Last
	}
	if !e.At.IsZero() {
		l.At = &e.At
	}
	if e.Date != 0 {
		l.Date = &e.Date
	}
	if e.Due != 0 {
		l.Due = &e.Due
	}
	return l
}

func (l *line) event() model.Event {
	e := model.Event{Entry: l.Entry, ID: l.ID, Unseen: l.Unseen, Heard: l.Heard, Kind: l.Kind, Session: l.Session, Planned: l.Planned, Took: l.Minutes, Part: l.Part,
		Passage: l.Passage, Bars: l.Bars, Hard: l.Hard, Exposed: l.Exposed, Tempo: l.Tempo, Undoes: l.Undoes, Note: l.Note,
		Open: l.Open, Services: l.Services, Stood: l.Stood}
	if l.Last != nil {
		e.Last = *l.Last
	}
	if l.At != nil {
		e.At = *l.At
	}
	if l.Date != nil {
		e.Date = *l.Date
	}
	if l.Due != nil {
		e.Due = *l.Due
	}
	return e
}

// encode writes a line with its newline.
func (l *line) encode(b *bytes.Buffer) error {
	e := json.NewEncoder(b) // it ends with a newline, and no text has one
	e.SetEscapeHTML(false)
	return e.Encode(l)
}

// parse reads a line strictly. syntax tells that it is no JSON object at all,
// as what a power cut leaves of one; any other fault is someone's mistake.
func parse(b []byte) (l line, syntax bool, err error) {
	d := json.NewDecoder(bytes.NewReader(b))
	d.DisallowUnknownFields()
	if err := d.Decode(&l); err != nil {
		var s *json.SyntaxError
		var t *json.UnmarshalTypeError
		switch {
		case errors.As(err, &s), errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
			return l, true, errors.New("is no JSON object")
		case errors.As(err, &t):
			return l, false, fmt.Errorf("%s: a %s is not what is wanted here", t.Field, t.Value)
		}
		return l, false, errors.New(strings.TrimPrefix(err.Error(), "json: "))
	}
	if _, err := d.Token(); err != io.EOF {
		return l, true, errors.New("holds more than one JSON object")
	}
	return l, false, nil
}

// check says what is wrong with a line that was read, its place in the file
// apart.
func (l *line) check() []string {
	if l.Entry < 1 || l.Entry > mostEntries {
		return []string{fmt.Sprintf("entry: %d: is not between 1 and %d", l.Entry, mostEntries)}
	}
	if l.Kind == setAside {
		if l.ID != "" || l.Unseen != 0 {
			return []string{"id: lines that set others aside have none"}
		}
		if l.From < 1 || l.To < l.From {
			return []string{fmt.Sprintf("from: %d: lines to set aside are given from the first to the last", l.From)}
		}
		return nil
	}
	e := l.event()
	out := e.Check()
	if l.At == nil {
		out = append(out, "at: the time at which it was recorded is missing")
	}
	if l.From != 0 || l.To != 0 {
		out = append(out, "from: only lines that set others aside have it")
	}
	return out
}
