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

import "primaprova/io/disk"

// Format names the version of the record that this program writes.
const Format = "primaprova/record/1"

// Fault is one thing wrong in a record; Error is all of them.
type (
	Fault = disk.Fault
	Error = disk.Faults
)
