package calendar

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"time"
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
