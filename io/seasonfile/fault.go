package seasonfile

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"
)

// Fault is one thing that is wrong in one place.
type Fault struct {
	File    string // as it was given to Read, or as the season file names it
	Line    int    // counted from 1; 0 when the fault is the file's as a whole
	Column  int    // in characters, counted from 1; 0 when not known
	Path    string // for example programmes[0].parts[1].arrives; may be empty
	Called  string // the path by names, as it is said; empty: as Path
	Value   string // the value as written; may be empty
	Text    string // what is wrong
	Advice  string // what to do about it; may be empty
	Warning bool   // the season can be used all the same
}

// longest is the most characters of a value that a message repeats.
const longest = 48

func shorten(s string) string {
	if r := []rune(s); len(r) > longest {
		return string(r[:longest-1]) + "…"
	}
	return s
}

// String writes "file:line: field: value: what is wrong", without the parts
// that are not known, and the advice on a line of its own.
func (f Fault) String() string {
	var b strings.Builder
	b.WriteString(f.File)
	if f.Line > 0 {
		fmt.Fprintf(&b, ":%d", f.Line)
	}
	if where := f.Where(); where != "" {
		b.WriteString(": " + where)
	}
	if f.Value != "" {
		fmt.Fprintf(&b, ": %q", shorten(f.Value))
	}
	b.WriteString(": ")
	if f.Warning {
		b.WriteString("warning: ")
	}
	b.WriteString(f.Text)
	if f.Advice != "" {
		b.WriteString("\n  try: " + f.Advice)
	}
	return b.String()
}

// Where gives the path as it is said to the player. An address that stands where
// a key is wanted is as secret as any.
func (f *Fault) Where() string {
	return addressed.ReplaceAllStringFunc(cmp.Or(f.Called, f.Path), discreet)
}

var addressed = regexp.MustCompile(`[A-Za-z][A-Za-z0-9+.-]+:/.*`)

// Errors is every fault of a season file, in the order of its lines.
type Errors []Fault

// mostFaults are spelt out; more of them are counted.
const mostFaults = 200

// Error writes the faults, one after the other.
func (e Errors) Error() string {
	if more := len(e) - mostFaults; more > 0 {
		return Text(e[:mostFaults]) + fmt.Sprintf("\n%s: and %d faults more", e[0].File, more)
	}
	return Text(e)
}

// Text writes faults as they are said to the player, each on its own line.
func Text(faults []Fault) string {
	lines := make([]string, len(faults))
	for i, f := range faults {
		lines[i] = f.String()
	}
	return strings.Join(lines, "\n")
}

// inOrder sorts faults by file (the season file first), line and column.
func inOrder(faults []Fault, first string) {
	slices.SortStableFunc(faults, func(a, b Fault) int {
		if a.File != b.File && (a.File == first || b.File == first) {
			return map[bool]int{true: -1, false: 1}[a.File == first]
		}
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
}
