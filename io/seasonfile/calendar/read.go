package calendar

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"
	"unicode"
)

// Options say how a calendar is looked at.
type Options struct {
	From, To time.Time      // what happens between these instants is wanted
	Zone     *time.Location // of the reader: of times without a zone, and of whole days
	Instead  *time.Location // stands in for zones that nobody knows; nil: they are faults
	Without  bool           // the entries at fault, which are named and left out
}

// Occurrence is one time at which something happens.
type Occurrence struct {
	*Entry
	From, To time.Time // To does not belong to it; it may equal From
	AllDay   bool
}

// Busy tells whether the occurrence takes time.
func (o *Occurrence) Busy() bool { return !o.Cancelled && !o.Transparent && o.From.Before(o.To) }

// file is a calendar while it is read.
type file struct {
	options   Options
	own       *zone // of the reader
	zones     map[string]*zone
	described map[string]*description // by the file itself, by name in lower case
	expanded  map[string]*expanded    // what of them was needed
	entries   []*entry
	method    bool // the calendar at hand has a METHOD
	cancels   bool // and it is CANCEL
	dates     int  // RDATE and EXDATE values so far
	found     int  // occurrences so far
	left      int  // work that may still be done
	faults    []Fault
	more      int  // faults beside those
	broken    bool // nothing can be given, whatever is left out
}

// Read gives what happens in a span of time, by time; or else every fault that
// keeps the calendar from being used, at most twenty. There is no half of a
// calendar: with a fault the list is nil. Only where Options.Without says so
// what is sound is given beside the faults of the rest.
//
// Cancelled and transparent entries are given too, and say so.
func Read(in io.Reader, o Options) ([]Occurrence, []Fault) { return newFile(o).read(in) }

func newFile(o Options) *file {
	return &file{options: o, zones: map[string]*zone{}, described: map[string]*description{}, expanded: map[string]*expanded{}, left: mostWork,
		own: &zone{id: o.Zone.String(), known: true, iana: o.Zone}}
}

func (f *file) read(in io.Reader) ([]Occurrence, []Fault) {
	o := f.options
	p := &parser{f: f}
	mere := false // a line alone of a calendar is at fault, which could be left out
	odd := func(w Fault) bool {
		mere = !o.Without && p.seen
		return o.Without && f.fault(&w)
	}
	whole, fault := readLines(in, p.line, odd)
	if fault != nil {
		fault.Whole = !mere
		return nil, append(f.faults, *fault)
	}
	if whole {
		p.end()
	}
	f.broken = f.broken || !whole
	if f.broken && o.Without || len(f.faults) >= mostFaults && !o.Without {
		return nil, f.faults
	}
	// After a fault too: rules and zones may have theirs.
	f.settle()
	out := f.occurrences()
	slices.SortStableFunc(f.faults, func(a, b Fault) int { return cmp.Compare(a.Line, b.Line) })
	if n := len(f.faults); n > 0 && (f.broken || f.left < 0) {
		f.faults[n-1].Whole = true
	}
	switch {
	case f.broken, len(f.faults) > 0 && !o.Without:
		return nil, f.faults
	case f.more > 0:
		f.faults = append(f.faults, Fault{Text: fmt.Sprintf("and %d faults more", f.more)})
	}
	return append([]Occurrence{}, out...), f.faults
}

// fault notes a fault, and tells whether reading goes on.
func (f *file) fault(w *Fault) bool {
	switch {
	case w == nil:
	case len(f.faults) < mostFaults || !f.options.Without:
		f.faults = append(f.faults, *w)
	default:
		f.more++
	}
	return len(f.faults) < mostFaults || f.options.Without
}

// freeBusy takes the times of a FREEBUSY: somebody's, without a title.
func (f *file) freeBusy(l line) *Fault {
	list, w := f.periods(l)
	for _, v := range list {
		e := &entry{Entry: Entry{Line: l.number}, start: v.start, end: v.end, length: v.length}
		if v.end == nil && v.length == nil {
			w := wrong(l.number, l.value, "FREEBUSY is no period of iCalendar")
			return &w
		}
		if w := f.full(l.number); w != nil {
			return w
		}
		f.entries = append(f.entries, e)
	}
	return w
}

// full tells that no further event is read.
func (f *file) full(line int) *Fault {
	if len(f.entries) < mostEntries {
		return nil
	}
	w := wrong(line, "", "the calendar holds more than %d events", mostEntries)
	return &w
}

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
