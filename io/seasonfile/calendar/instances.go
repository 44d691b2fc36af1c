package calendar

import "time"

// instances adds the occurrences of a series as its rules, additions,
// exceptions and changes have them. It gives false when the rules ask for more
// than is looked at.
func (s *series) instances(m *entry) bool {
	w := s.f.options
	// On the wall, with a margin for zones, for the length of an occurrence, and
	// for changes that bring later ones in from outside.
	margin := 48*time.Hour + m.ends(m.start).Sub(m.start.instant())
	margin = max(margin, s.margin)
	first, last := w.From.UTC().Add(-margin), w.To.UTC().Add(margin)
	if !s.earliest.IsZero() {
		first, last = earlier(first, s.earliest), later(last, s.latest)
	}

	except := map[int64]bool{}
	exceptDays := map[time.Time]bool{}
	for _, x := range m.except {
		except[key(x)] = true
		if x.allDay != m.start.allDay {
			exceptDays[midnight(x.wall)] = true
		}
	}
	for _, text := range m.but {
		if !s.rule(m, text, true, first, last, func(t time.Time) { except[key(stamp{t, m.start.zone, m.start.allDay})] = true }) {
			return false
		}
	}
	seen := map[int64]bool{}
	one := func(p period) {
		k := key(p.start)
		if seen[k] || except[k] || exceptDays[midnight(p.start.wall)] {
			return
		}
		seen[k] = true
		s.instance(m, p)
	}
	for _, p := range m.more { // an addition with a length of its own goes before the rule's
		if p.end != nil || p.length != nil {
			one(p)
		}
	}
	if len(m.rules) == 0 {
		one(period{start: m.start})
	}
	for _, text := range m.rules {
		if !s.rule(m, text, false, first, last, func(t time.Time) { one(period{start: stamp{t, m.start.zone, m.start.allDay}}) }) {
			return false
		}
	}
	for _, p := range m.more {
		one(p)
	}
	return true
}

func (s *series) rule(m *entry, text ruleText, excepts bool, first, last time.Time, give func(time.Time)) bool {
	r, w := parseRule(text.line, text.text, m.start.wall, m.start.allDay)
	if w != nil {
		s.f.fault(w)
		return true
	}
	r.excepts = excepts
	return s.f.expand(r, m.start.wall, m.start.zone, first, last, give)
}

// instance adds one occurrence, changed where it was changed.
//
// A change of this and all later instances moves them all by what it moves the
// first, and gives them all its length (RFC 5545, 3.8.4.4).
func (s *series) instance(m *entry, p period) {
	at := p.start
	if e := s.change(at); e != nil {
		s.used[e] = true
		s.add(e, e.start)
		return
	}
	if r := s.onwards(at); r != nil {
		z := r.start.zone
		from, to := r.replaces.in(z).wall, at.in(z).wall
		if r.start.allDay {
			from, to = midnight(r.replaces.wall), midnight(at.wall)
		}
		s.add(r, stamp{wall: to.Add(r.start.wall.Sub(from)), zone: z, allDay: r.start.allDay})
		return
	}
	switch {
	case p.end != nil:
		s.addTo(m, at, p.end.instant())
	case p.length != nil:
		s.addTo(m, at, at.after(*p.length))
	default:
		s.add(m, at)
	}
}

func earlier(a, b time.Time) time.Time {
	if b.Before(a) {
		return b
	}
	return a
}

func later(a, b time.Time) time.Time {
	if b.After(a) {
		return b
	}
	return a
}
