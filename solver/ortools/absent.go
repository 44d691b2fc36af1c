package ortools

import (
	"strings"
)

// An AbsentError says that a library cannot be had. Its text is one line: what was
// looked for, where, what was found there, and what to do.
type AbsentError struct {
	Library Library
	File    string   // the file looked for; empty where the platform has none
	Looked  []string // places, each with what is wrong there
	Advice  string
	Err     error // the last cause, for errors.Is
}

func (e *AbsentError) Error() string {
	var b strings.Builder
	b.WriteString("no " + e.Library.String() + " library")
	if e.File != "" {
		b.WriteString(" (" + e.File + " of OR-Tools " + Release + ")")
	}
	b.WriteString(": " + strings.Join(e.Looked, "; "))
	if e.Advice != "" {
		b.WriteString("; " + e.Advice)
	}
	// The causes come from the system and may hold line breaks in a file name.
	return strings.NewReplacer("\n", " ", "\r", " ").Replace(b.String())
}

func (e *AbsentError) Unwrap() error { return e.Err }
