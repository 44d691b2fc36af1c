// Package planfile reads and writes the plan beside a season file: JSON, one
// session a line, so that two plans can be compared with the tools at hand.
//
// It says whether a file is a plan, not whether the plan is a good one: the
// judgement is model's Audit. Nothing here knows of solving or of calendars.
package planfile

import (
	"fmt"
	"strings"
)

// Fault is one thing wrong in a file.
type Fault struct {
	File  string
	Line  int    // from 1; 0 when it concerns the whole file
	Field string // for example sessions[3].minutes
	Value string // as it stands in the file, shortened
	Text  string
}

// String writes file:line: field: value: what is wrong.
func (f Fault) String() string {
	var b strings.Builder
	b.WriteString(f.File)
	if f.Line > 0 {
		fmt.Fprintf(&b, ":%d", f.Line)
	}
	for _, s := range []string{f.Field, f.Value, f.Text} {
		if s != "" {
			b.WriteString(": " + s)
		}
	}
	return b.String()
}

// Error is everything wrong in a file, in the order of its lines.
type Error []Fault

// mostFaults is how many faults are spelt out; a file with more of them is
// something other than a plan.
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

// fileError is what the operating system said about a whole file. It keeps
// the cause, so that fs.ErrNotExist and its like can be asked for.
type fileError struct {
	path, text string
	cause      error
}

func (e *fileError) Error() string { return e.path + ": " + e.text }
func (e *fileError) Unwrap() error { return e.cause }
