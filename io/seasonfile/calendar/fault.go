package calendar

import (
	"fmt"
	"strings"
	"unicode"
)

// Fault is one thing that keeps a calendar from being used.
type Fault struct {
	Line   int    // counted from 1; 0 when it is the file's as a whole
	Value  string // as written; may be empty
	Text   string // what is wrong
	Advice string // may be empty
	Whole  bool   // the calendar can't be used, whatever of it is left out
}

func (f Fault) Error() string { return f.Text }

func wrong(line int, value, form string, args ...any) Fault {
	return Fault{Line: line, Value: value, Text: fmt.Sprintf(form, args...)}
}

// Bounds of what is read. They stand between a season and a file that was
// never meant to be a player's calendar. Ten years of ten thousand entries,
// two thousand zones among them, stay below a tenth of the work.
const (
	MostBytes    = 32 << 20   // of a file
	mostLine     = 64 << 10   // bytes of an unfolded line that are kept; the rest is attachments
	mostEntries  = 25_000     // of a file
	mostZones    = 5_000      // that a file describes
	mostText     = 4 << 10    // bytes of a title or description that are kept, over all its lines
	mostDates    = 60_000     // RDATE and EXDATE values of a file
	mostWork     = 20_000_000 // over a file; see the units below
	mostInWindow = 50_000     // occurrences of a file in the days asked for
	mostInSet    = 20_000     // times of one period of a rule that BYSETPOS picks from
	mostFaults   = 20         // said of one file
)

// What is counted as work, in units of about 30 ns: a day or a time that a rule
// looks at is one, and one more for each eight entries of its lists.
const (
	workGiven  = 50  // an occurrence within the days asked for, with its zone's offsets
	workLookup = 300 // a name that the IANA database is asked for
)

// work counts what is done for the file. It gives false once that is more than
// any calendar of a player asks for: that, and not the end of a rule, is what
// ends a rule without end.
func (f *file) work(n int) bool {
	f.left -= n
	return f.left >= 0
}

func tooOften(line int, value string) *Fault {
	w := wrong(line, value, "recurs too often: up to here more than %d days and times had to be looked at", mostWork)
	return &w
}

// shown shortens foreign text for a message and takes away what a terminal
// would obey.
func shown(s string) string {
	const longest = 48
	if r := []rune(s); len(r) > longest {
		s = string(r[:longest-1]) + "…"
	}
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return '\ufffd'
		}
		return r
	}, s)
}
