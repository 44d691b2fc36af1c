package calendar

import "fmt"

// Fault is one thing that keeps a calendar from being used.
type Fault struct {
	Line   int    // counted from 1; 0 when it is the file's as a whole
	Value  string // as written; may be empty
	Text   string // what is wrong
	Advice string // may be empty
}

func (f Fault) Error() string { return f.Text }

func wrong(line int, value, form string, args ...any) Fault {
	return Fault{Line: line, Value: value, Text: fmt.Sprintf(form, args...)}
}

// Bounds of what is read. They stand between a season and a file that was
// never meant to be a player's calendar; none is near what people have.
const (
	MostBytes    = 32 << 20  // of a file
	mostLine     = 64 << 10  // bytes of an unfolded line that are kept; the rest is attachments
	mostEntries  = 100_000   // of a file
	mostText     = 4 << 10   // bytes of a title or description that are kept
	mostDates    = 200_000   // RDATE and EXDATE values of a file
	mostSteps    = 4_000_000 // days and times that rules look at, over a file
	mostInWindow = 200_000   // occurrences of a file in the days asked for
	mostFaults   = 20        // said of one file
)

func tooOften(line int, value string) *Fault {
	w := wrong(line, value, "recurs too often: up to here more than %d days and times had to be looked at", mostSteps)
	return &w
}
