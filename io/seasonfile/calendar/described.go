package calendar

import (
	"fmt"
	"slices"
	"sort"
	"strings"
	"time"
)

// description is a VTIMEZONE as it stands in the file. It is read only where
// some time is in a zone that the IANA database does not know.
type description struct {
	line     int
	location string // X-LIC-LOCATION, where some programs give the IANA name
	list     []observance
}

// observance is a STANDARD or DAYLIGHT part of a VTIMEZONE: from each of its
// onsets on, given in local time by the offset before, an offset holds.
type observance struct {
	line     int
	start    stamp
	from, to int // seconds east
	rules    []ruleText
	more     []stamp
	has      [3]bool // those of needed that are there
	fault    *Fault  // the first thing that is wrong with it
}

// needed are the properties that every observance has (RFC 5545, 3.6.5).
var needed = [3]string{"DTSTART", "TZOFFSETFROM", "TZOFFSETTO"}

// read enters a property of an observance.
func (o *observance) read(f *file, l line) {
	if i := slices.Index(needed[:], l.name); i >= 0 {
		o.has[i] = true
	}
	ok := true
	var w *Fault
	switch l.name {
	case "DTSTART":
		l.params = nil // it is local time of the zone itself
		o.start, w = f.parseStamp(l, l.value)
	case "RRULE":
		o.rules = append(o.rules, ruleText{l.number, l.value})
	case "RDATE":
		l.params = nil
		var list []period
		list, w = f.periods(l)
		for _, v := range list {
			o.more = append(o.more, v.start)
		}
	case "TZOFFSETFROM":
		o.from, ok = parseOffset(l.value)
	case "TZOFFSETTO":
		o.to, ok = parseOffset(l.value)
	}
	if !ok {
		bad := wrong(l.number, l.value, "%s is not an offset of iCalendar", l.name)
		w = &bad
	}
	if o.fault == nil {
		o.fault = w
	}
}

// judge tells what is wrong with a description.
func (d *description) judge() *Fault {
	odd := func(line int, form string, args ...any) *Fault {
		w := wrong(line, "", form, args...)
		return &w
	}
	if len(d.list) == 0 {
		return odd(d.line, "this time zone has neither STANDARD nor DAYLIGHT")
	}
	for i := range d.list {
		o := &d.list[i]
		if o.fault != nil {
			return o.fault
		}
		for i, name := range needed {
			if !o.has[i] {
				return odd(o.line, "this part of a time zone has no %s", name)
			}
		}
	}
	return nil
}

// key is the same for descriptions that say the same of the same years.
func (d *description) key(year int) string {
	var b strings.Builder
	fmt.Fprint(&b, year)
	for i := range d.list {
		o := &d.list[i]
		fmt.Fprint(&b, "\n", o.start.wall.Unix(), o.from, o.to)
		for _, r := range o.rules {
			b.WriteString(" " + r.text)
		}
		for _, s := range o.more {
			fmt.Fprint(&b, " ", s.wall.Unix())
		}
	}
	return b.String()
}

// expanded is what a description comes to.
type expanded struct {
	changes []change
	before  int
}

// describe turns a description into the changes of a zone that matter between
// two times. What has been said in the same words is worked out once.
func (f *file) describe(d *description, from, until time.Time) ([]change, int, *Fault) {
	if w := d.judge(); w != nil {
		return nil, 0, w
	}
	key := d.key(from.Year())
	if e := f.expanded[key]; e != nil {
		return e.changes, e.before, nil
	}
	e := &expanded{}
	first := &d.list[0]
	for i := range d.list {
		o := &d.list[i]
		if o.start.wall.Before(first.start.wall) {
			first = o
		}
		onset := func(t time.Time) {
			e.changes = append(e.changes, change{t.Unix() - int64(o.from), o.to})
		}
		onset(o.start.wall)
		for _, s := range o.more {
			onset(s.wall)
		}
		for _, text := range o.rules {
			r, w := parseRule(text.line, text.text, o.start.wall, false)
			if w != nil {
				return nil, 0, w
			}
			if !f.expand(r, o.start.wall, &zone{iana: time.FixedZone("", o.from)}, r.entered(from), until, onset) {
				return nil, 0, tooOften(text.line, text.text)
			}
		}
	}
	e.before = first.from
	sort.SliceStable(e.changes, func(i, j int) bool { return e.changes[i].at < e.changes[j].at })
	f.expanded[key] = e
	return e.changes, e.before, nil
}

// entered gives from when on a rule of a zone has to be looked at, to know what
// holds at some time: some of its periods before that time, or before its end
// where that was earlier. The longest that rules of zones pause is eight
// years, from one 29 February to the next around 2100.
func (r *rule) entered(from time.Time) time.Time {
	if !r.until.IsZero() && r.until.Before(from) {
		from = r.until
	}
	return from.AddDate(-10*min(r.interval, 400), 0, 0)
}
