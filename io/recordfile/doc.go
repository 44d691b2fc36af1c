// Package recordfile reads and appends the record beside a season file: what
// happened, one JSON object a line, only ever appended.
//
//	{"format":"primaprova/record/1"}
//	{"entry":1,"at":"2027-01-14T21:10:00+01:00","kind":"done","date":"2027-01-14","session":"tide/slate/45-61/visit-2","planned":10,"minutes":15,"more":true}
//	{"entry":1,"at":"2027-01-14T21:10:00+01:00","kind":"done","date":"2027-01-14","session":"tide/slate/listening","planned":30,"note":"on the train"}
//	{"entry":2,"at":"2027-01-14T21:12:00+01:00","kind":"undo","undoes":1,"note":"wrong day"}
//
// What one command records is one entry: every line of it but the last says
// "more", so that an entry cut off by a power cut is known for what it is. Such
// an entry at the end of the file, and a last line that is no JSON, is set
// aside: it has no effect, the reader is told, and the next append names its
// lines, so that the file stays strict everywhere else:
//
//	{"entry":4,"at":"…","kind":"set-aside","from":7,"to":8}
//
// What was recorded away from the file, on a phone, is an entry of one line with an
// id of its own, and says which entries it did not know of (model/merge.go has the
// rule, docs/meaning.md says it to others):
//
//	{"entry":5,"at":"…","id":"t3f9c…","unseen":4,"kind":"did-not-hold","date":"2027-01-14","session":"tide/slate/45-61/visit-2","planned":10}
//
// Nothing here knows what an event does to a plan: that is model's Replay.
package recordfile

import (
	"fmt"
	"strings"
)

// Format names the version of the record that this program writes.
const Format = "primaprova/record/1"

// Fault is one thing wrong in a record.
type Fault struct {
	File string
	Line int // from 1; 0 when it concerns the whole file
	Text string
}

// String writes file:line: what is wrong.
func (f Fault) String() string {
	if f.Line == 0 {
		return f.File + ": " + f.Text
	}
	return fmt.Sprintf("%s:%d: %s", f.File, f.Line, f.Text)
}

// Error is everything wrong in a record, in the order of its lines.
type Error []Fault

// mostFaults is how many faults are spelt out.
const mostFaults = 20

// Error writes one fault a line.
func (e Error) Error() string {
	var lines []string
	for i, f := range e {
		if i == mostFaults {
			lines = append(lines, fmt.Sprintf("%s: and %d faults more", f.File, len(e)-i))
			break
		}
		lines = append(lines, f.String())
	}
	return strings.Join(lines, "\n")
}
