package calendar

import (
	"sort"
	"strconv"
	"strings"
	"time"
)

// observance is a STANDARD or DAYLIGHT part of a VTIMEZONE: from each of its
// onsets on, given in local time by the offset before, an offset holds.
type observance struct {
	line     int
	start    stamp
	from, to int // seconds east
	rules    []string
	more     []stamp
}

// describe turns a VTIMEZONE into the changes of a zone up to an instant.
func (f *file) describe(list []observance, until time.Time) (*zone, *Fault) {
	if len(list) == 0 {
		return nil, nil
	}
	z := &zone{known: true}
	first := list[0]
	for _, o := range list {
		if o.start.wall.Before(first.start.wall) {
			first = o
		}
		onset := func(t time.Time) {
			z.changes = append(z.changes, change{t.Unix() - int64(o.from), o.to})
		}
		onset(o.start.wall)
		for _, s := range o.more {
			onset(s.wall)
		}
		for _, text := range o.rules {
			r, wrong := parseRule(o.line, text, o.start.wall, false)
			if wrong != nil {
				return nil, wrong
			}
			fixed := &zone{iana: time.FixedZone("", o.from)}
			if !f.expand(r, o.start.wall, fixed, o.start.wall, until, func(t time.Time) { onset(t) }) {
				return nil, tooOften(o.line, text)
			}
		}
	}
	z.before = first.from
	sort.SliceStable(z.changes, func(i, j int) bool { return z.changes[i].at < z.changes[j].at })
	return z, nil
}

// parseOffset reads +0100, -053000 and their like (RFC 5545, 3.3.14).
func parseOffset(s string) (int, bool) {
	s = strings.TrimSpace(s)
	if len(s) != 5 && len(s) != 7 || s[0] != '+' && s[0] != '-' {
		return 0, false
	}
	n, err := strconv.Atoi(s[1:])
	if err != nil || n < 0 {
		return 0, false
	}
	if len(s) == 5 {
		n *= 100
	}
	h, m, sec := n/10000, n/100%100, n%100
	if h > 23 || m > 59 || sec > 59 {
		return 0, false
	}
	sum := 3600*h + 60*m + sec
	if s[0] == '-' {
		sum = -sum
	}
	return sum, true
}
