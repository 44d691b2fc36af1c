package main

import (
	"fmt"
	"slices"
	"strconv"

	"primaprova/io/recordfile"
	"primaprova/model"
)

// What the record says already: it is not written twice, and can be taken back.

// saying gives the last of the events that speaks of a session of a day, or nil.
func saying(events []model.Event, name model.SessionDay) *model.Event {
	for i := len(events) - 1; i >= 0; i-- {
		if e := &events[i]; e.Session != "" && e.Key() == name {
			return e
		}
	}
	return nil
}

// anew leaves away what the record says of sessions and lost days word for word: written
// twice, --undo would take back one of the two and change nothing. Pain is written each
// time: what goes with it is said again.
func anew(r *recordfile.Record, events []model.Event) (out []model.Event) {
	live := model.Counting(model.Standing(r.Events))
	for _, e := range events {
		if e.Session != "" {
			if had := saying(live, e.Key()); had != nil && had.Kind == e.Kind && had.Took == e.Took && had.Tempo == e.Tempo && (e.Note == "" || had.Note == e.Note) {
				continue
			}
		}
		if e.Kind == model.DayLost && lost(live, &e) {
			continue
		}
		out, live = append(out, e), append(live, e)
	}
	return out
}

// lost tells whether a day is lost already in just these words, and nothing has ended
// that since.
func lost(events []model.Event, e *model.Event) bool {
	for i := len(events) - 1; i >= 0; i-- {
		switch o := &events[i]; {
		case o.Kind == model.Better:
			return false
		case o.Kind == e.Kind && o.Date == e.Date && o.Last == e.Last && o.Open == e.Open && o.Services == e.Services && o.Note == e.Note:
			return true
		}
	}
	return false
}

// nothingNew says why what was said adds nothing to the record.
func (b *book) nothingNew(all []*sayings) string {
	for _, o := range all {
		if on, err := b.day(o); err == nil && (o.dayLost || b.plan != nil && len(b.view.Days[on]) > 0) {
			return "The record says all that already"
		}
	}
	return "Nothing is planned on that day"
}

// takeBack finds the entry that an undo speaks of: the last one that holds, or
// the one that is named.
func takeBack(o *sayings, r *recordfile.Record) (e model.Event, gone []model.Event, err error) {
	live := model.Standing(r.Events)
	e = model.Event{Kind: model.Undo, Note: o.note}
	if o.undo == "last" {
		if len(live) == 0 {
			return e, nil, fmt.Errorf("--undo: the record holds nothing to take back")
		}
		e.Undoes = live[len(live)-1].Entry
	} else if at := slices.IndexFunc(r.Events, func(x model.Event) bool { return o.undo == strconv.Itoa(x.Entry) || o.undo == x.ID }); at < 0 {
		return e, nil, fmt.Errorf("--undo: the record has no entry %q", o.undo)
	} else {
		e.Undoes = r.Events[at].Entry
	}
	for _, x := range live {
		if x.Entry == e.Undoes {
			gone = append(gone, x)
		}
	}
	return e, gone, nil
}
