package model

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"
)

// EventKind says what kind of thing happened.
type EventKind string

// The kinds of event.
const (
	Done       EventKind = "done"         // a session was done, as planned or in other minutes
	NotDone    EventKind = "not-done"     // a session was not done; it is wanted again
	DidNotHold EventKind = "did-not-hold" // a visit was done, and the passage did not stick
	Found      EventKind = "found"        // a passage that the season file does not know
	NotNeeded  EventKind = "not-needed"   // a passage needs no more visits
	DayLost    EventKind = "day-lost"     // nothing is done on a day, or on some running: illness, travel
	Pain       EventKind = "pain"         // playing hurt: everything stops, and the days after are light
	Better     EventKind = "better"       // from the day on a spell without an end is over
	Undo       EventKind = "undo"         // an earlier entry does not hold
)

// EventKinds lists them.
var EventKinds = []EventKind{Done, NotDone, DidNotHold, Found, NotNeeded, DayLost, Pain, Better, Undo}

// Event is one line of the record: one thing that happened. Which fields are
// set depends on the kind; Check says what is wrong with one.
type Event struct {
	Entry   int       // the entry it belongs to, from 1; what one command records is one entry
	At      time.Time // when it was recorded
	ID      string    // own name of an entry made away from the record; empty: none. See merge.go
	Unseen  int       // with ID: the first entry that whoever recorded it did not know of; 0: all above it were known
	Kind    EventKind
	Date    Date    // the day on which it happened; of a session, the day on which it was or should have been done
	Session string  // session id: done, not-done, did-not-hold
	Planned Minutes // length that the session had in the plan; 0: unknown
	Took    Minutes // length that it really took; 0: as planned. Of a passage found, the first visit's estimate; 0: by difficulty
	Part    string  // programme/part: found
	Passage string  // programme/part/passage: not-needed
	Bars    string  // found; also the passage's id within the part
	Hard    int     // found: 1..3
	Exposed bool    // found
	Heard   bool    // found: while listening, which says nothing of the read-through
	Due     Date    // found: zero for the next service of the programme
	Tempo   Tempo   // done, did-not-hold: the tempo at which a passage worked; found: its goal; 0: not said
	Last    Date    // day-lost, pain: the last day of it; zero: Date alone
	Open    bool    // day-lost, pain: until further notice
	// day-lost, pain: whether the services of its days were played. Empty: those of
	// days of pain were, those of lost days were not.
	Services ServicesWord
	Stood    []DayMinutes // day-lost, pain: planned playing that stood on the days after it; none: nothing is known of it
	Undoes   int          // undo: the entry that does not hold
	Note     string       // the reason, in the player's words
}

// ServicesWord says what became of the services of a spell's days.
type ServicesWord string

// The words.
const (
	ServicesPlayed ServicesWord = "played"
	ServicesMissed ServicesWord = "missed"
)

// DayMinutes is minutes of one day.
type DayMinutes struct {
	Date    Date    `json:"date"`
	Minutes Minutes `json:"minutes"`
}

const mostTook = 12 * 60 // minutes; more than a session can take

// Check gives what is wrong with an event by itself, field by field: "minutes:
// 900 min: is more than …".
func (e *Event) Check() []string {
	var out []string
	say := func(field string, value any, text string) {
		out = append(out, fmt.Sprintf("%s: %v: %s", field, value, text))
	}
	if !slices.Contains(EventKinds, e.Kind) {
		say("kind", strconv.Quote(string(e.Kind)), "is no kind of event")
		return out
	}
	if e.Entry < 1 {
		say("entry", e.Entry, "is not 1 or more")
	}
	if e.ID != "" && !entryID.MatchString(e.ID) {
		say("id", strconv.Quote(e.ID), "is not a letter and 7 to 63 letters, digits and dashes")
	}
	if e.Unseen != 0 && (e.ID == "" || e.Unseen < 1 || e.Unseen > e.Entry) {
		say("unseen", e.Unseen, "is given with an id, for an entry from 1 to its own")
	}
	if e.Date == 0 && e.Kind != Undo {
		say("date", `""`, "the day is missing")
	}
	if s := e.Kind == Done || e.Kind == NotDone || e.Kind == DidNotHold; s != (e.Session != "") {
		say("session", strconv.Quote(e.Session), "is given for sessions and for nothing else")
	} else if s && !sessionID(e.Session) {
		say("session", strconv.Quote(e.Session), "is not the id of a session like tide/slate/45-61/visit-2")
	}
	for _, m := range []struct {
		field string
		m     Minutes
	}{{"planned", e.Planned}, {"minutes", e.Took}} {
		if m.m < 0 || m.m > mostTook {
			say(m.field, m.m, fmt.Sprintf("is not between 0 and %v", Minutes(mostTook)))
		}
	}
	if e.Heard && e.Kind != Found {
		say("heard", e.Heard, "is given for a passage found and for nothing else")
	}
	if f := e.Kind == Found; f != (e.Part != "") || f != (e.Bars != "") || f != (e.Hard != 0) {
		say("found", strconv.Quote(e.Bars), "part, bars and hard are given for a passage found and for nothing else")
	} else if f {
		switch {
		case strings.Count(e.Part, "/") != 1:
			say("part", strconv.Quote(e.Part), "is not programme/part")
		case strings.ContainsAny(e.Bars, "/\n") || strings.HasPrefix(e.Bars, "unnamed-") || stageWord(e.Bars):
			say("bars", strconv.Quote(e.Bars), "cannot be the name of a passage")
		case e.Hard < 1 || e.Hard > 3:
			say("hard", e.Hard, "is not 1 (easy), 2 (ordinary) or 3 (hard)")
		case e.Due != 0 && e.Due <= e.Date:
			say("due", e.Due, fmt.Sprintf("is not after %v, when the passage was found", e.Date))
		}
	}
	if e.Tempo != 0 {
		if _, stage, _, ok := splitID(e.Session); e.Kind != Found && (e.Kind != Done && e.Kind != DidNotHold || !ok || stage != PassageStage) {
			say("tempo", int(e.Tempo), "is given for a passage's visit that was done, for a passage found, and for nothing else")
		} else if e.Tempo < metronome[0] || e.Tempo > metronome[len(metronome)-1] {
			say("tempo", int(e.Tempo), fmt.Sprintf("is not between %d and %d", metronome[0], metronome[len(metronome)-1]))
		}
	}
	if (e.Kind == NotNeeded) != (e.Passage != "") {
		say("passage", strconv.Quote(e.Passage), "is given for a passage no longer needed and for nothing else")
	} else if e.Passage != "" && strings.Count(e.Passage, "/") != 2 {
		say("passage", strconv.Quote(e.Passage), "is not programme/part/passage")
	}
	if spell := e.Kind == DayLost || e.Kind == Pain; !spell && (e.Last != 0 || e.Open || e.Services != "") || !spell && len(e.Stood) > 0 {
		say("kind", e.Kind, "last, open, services and stood are given for days of pain and lost ones, and for nothing else")
	} else if e.Last != 0 && (e.Last < e.Date || e.Open) {
		say("last", e.Last, "comes before the first day, or beside open")
	} else if e.Services != "" && e.Services != ServicesPlayed && e.Services != ServicesMissed {
		say("services", strconv.Quote(string(e.Services)), "is not played or missed")
	}
	if (e.Kind == Undo) != (e.Undoes != 0) || e.Kind == Undo && (e.Undoes < 1 || e.Undoes >= e.Entry) {
		say("undoes", e.Undoes, "an undo names an earlier entry, and nothing else does")
	}
	return out
}

func stageWord(s string) bool {
	s, _ = sittingWord(s)
	return slices.Contains([]string{string(ListeningStage), string(ReadStage), string(RecordingsStage), string(WarmUpStage)}, s)
}

// splitID takes a session id apart: a visit's passage and number, or a stage's
// part with visit 0.
func splitID(id string) (name string, stage Stage, visit int, ok bool) {
	at := strings.LastIndexByte(id, '/')
	if at < 0 {
		return "", "", 0, false
	}
	name, last := id[:at], id[at+1:]
	if n, is := strings.CutPrefix(last, "visit-"); is && strings.Count(name, "/") == 2 {
		visit, err := strconv.Atoi(n)
		return name, PassageStage, visit, err == nil && visit > 0 && n[0] != '+' && n[0] != '0'
	}
	word, _ := sittingWord(last)
	stage = Stage(word)
	return name, stage, 0, strings.Count(name, "/") == 1 && stage != WarmUpStage && stageWord(word)
}

// sessionID tells whether a text is the id of a session that can be recorded;
// warm-ups go with their day.
func sessionID(id string) bool {
	_, _, _, ok := splitID(id)
	return ok
}

// Standing gives the events that hold: those that no undo takes back, undos
// themselves apart. An undo may be undone.
func Standing(events []Event) []Event {
	gone := map[int]bool{}
	for i := len(events) - 1; i >= 0; i-- {
		if e := &events[i]; e.Kind == Undo && !gone[e.Entry] {
			gone[e.Undoes] = true
		}
	}
	var out []Event
	for _, e := range events {
		if e.Kind != Undo && !gone[e.Entry] {
			out = append(out, e)
		}
	}
	return out
}
