package calendar

import (
	"cmp"
	"fmt"
	"slices"
	"time"
)

// occurrences gives what happens in the span asked for, by time.
func (f *file) occurrences() []Occurrence {
	byUID := map[string]int{}
	var all [][]*entry
	for _, e := range f.entries {
		i, known := byUID[e.UID]
		if !known || e.UID == "" { // without a UID everything stands alone
			i = len(all)
			byUID[e.UID] = i
			all = append(all, nil)
		}
		all[i] = append(all[i], e)
	}
	var out []Occurrence
	for i, entries := range all {
		s := series{f: f}
		for _, e := range entries {
			s.enter(e)
		}
		all[i] = nil
		out = append(out, s.occurrences()...)
		if len(f.faults) >= mostFaults && !f.options.Without || f.broken {
			return nil
		}
		if f.found > mostInWindow {
			f.broken = true
			f.fault(&Fault{Text: fmt.Sprintf("holds more than %d times in the days of the season", mostInWindow)})
			return nil
		}
	}
	slices.SortStableFunc(out, func(a, b Occurrence) int { return cmp.Or(a.From.Compare(b.From), a.To.Compare(b.To)) })
	return out
}

// series is all that has one UID: one entry, or a recurring one with its
// changed instances.
type series struct {
	f       *file
	masters []*entry
	changes []*entry             // changed instances, by the instant they stand for
	ranges  []*entry             // those of them that hold from there on
	at      map[int64]*entry     // the changes by that instant
	on      map[time.Time]*entry // and by day, where one side gives a day and the other a time
	used    map[*entry]bool      // changes whose instance the rules hold
	given   map[given]bool
	out     []Occurrence

	margin           time.Duration // by which changes of all later instances move them
	earliest, latest time.Time     // of changes older than the masters: whether they still stand has to be known
}

// given is what makes two occurrences of a series one and the same.
type given struct {
	from, to               int64
	cancelled, transparent bool
}

func (s *series) enter(e *entry) {
	if e.replaces != nil {
		s.changes = append(s.changes, e)
		return
	}
	if len(s.masters) > 0 {
		switch newest := s.masters[0].sequence; {
		case e.sequence < newest:
			return
		case e.sequence > newest:
			s.masters = nil
		}
	}
	s.masters = append(s.masters, e)
}

// key names an instance: by its instant, a date by the beginning of its day.
func key(t stamp) int64 { return t.instant().Unix() }

// order puts the changes in the order of the instants they stand for, and
// drops those that a later version of themselves has overtaken.
func (s *series) order() {
	s.at, s.on, s.used, s.given = map[int64]*entry{}, map[time.Time]*entry{}, map[*entry]bool{}, map[given]bool{}
	for _, e := range s.changes {
		if old := s.at[key(*e.replaces)]; old == nil || e.sequence >= old.sequence {
			s.at[key(*e.replaces)] = e
		}
	}
	s.changes = slices.DeleteFunc(s.changes, func(e *entry) bool { return s.at[key(*e.replaces)] != e })
	slices.SortStableFunc(s.changes, func(a, b *entry) int { return cmp.Compare(key(*a.replaces), key(*b.replaces)) })
	for _, e := range s.changes {
		s.on[midnight(e.replaces.wall)] = e
		if e.onwards {
			s.ranges = append(s.ranges, e)
			s.margin = max(s.margin, 48*time.Hour+e.start.instant().Sub(e.replaces.instant()).Abs()+e.ends(e.start).Sub(e.start.instant()))
		}
		if len(s.masters) > 0 && e.sequence < s.masters[0].sequence {
			first, last := e.replaces.wall.Add(-slack), e.replaces.wall.Add(slack)
			if s.earliest.IsZero() {
				s.earliest, s.latest = first, last
			}
			s.earliest, s.latest = earlier(s.earliest, first), later(s.latest, last)
		}
	}
}

// occurrences gives those of the series.
func (s *series) occurrences() []Occurrence {
	s.order()
	for _, m := range s.masters {
		if !s.instances(m) {
			if s.f.found <= mostInWindow { // else that is what is said
				s.f.broken = true
				s.f.fault(tooOften(m.Line, m.Title))
			}
			return nil
		}
	}
	for _, e := range s.changes {
		// Of an instance that a later version of the series does not hold, an
		// earlier change is no more.
		if !s.used[e] && (len(s.masters) == 0 || e.sequence >= s.masters[0].sequence) {
			s.add(e, e.start)
		}
	}
	return s.out
}

// change gives what a changed instance has become; nil where nobody changed it.
func (s *series) change(at stamp) *entry {
	if e := s.at[key(at)]; e != nil {
		return e
	}
	if e := s.on[midnight(at.wall)]; e != nil && e.replaces.allDay != at.allDay {
		return e
	}
	return nil
}

// onwards gives the change of this and all later instances that holds for one.
func (s *series) onwards(at stamp) *entry {
	i, _ := slices.BinarySearchFunc(s.ranges, key(at)+1, func(e *entry, k int64) int { return cmp.Compare(key(*e.replaces), k) })
	if i == 0 {
		return nil
	}
	return s.ranges[i-1]
}

// slack is how far from where it is read a time of an unknown zone may lie.
const slack = 26 * time.Hour

// add enters one occurrence where it lies in the span asked for.
func (s *series) add(e *entry, at stamp) { s.addTo(e, at, e.ends(at)) }

func (s *series) addTo(e *entry, at stamp, end time.Time) {
	o := Occurrence{Entry: &e.Entry, From: at.instant(), To: end, AllDay: at.allDay}
	if o.To.Before(o.From) {
		o.To = o.From
	}
	w := s.f.options
	if !at.zone.known {
		if !e.Cancelled && o.From.Before(w.To.Add(slack)) && o.To.After(w.From.Add(-slack)) && !at.zone.said {
			at.zone.said = true
			s.f.fault(at.zone.unknown(e.Line))
		}
		return
	}
	inside := o.From.Before(w.To) && (o.To.After(w.From) || o.From.Equal(o.To) && !o.From.Before(w.From))
	k := given{o.From.Unix(), o.To.Unix(), o.Cancelled, o.Transparent}
	if inside && !s.given[k] {
		s.given[k] = true
		s.out = append(s.out, o)
		if s.f.found++; s.f.found > mostInWindow {
			s.f.left = -1 // looks at nothing more
		}
	}
}
