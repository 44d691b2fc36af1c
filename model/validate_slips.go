package model

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// What can be planned but is hardly meant: slips of the pen that nothing else
// notices. All are warnings.

func (v *validator) slips() {
	l := &v.s.Limits
	for _, x := range []struct {
		key  string
		days []Range
	}{{"days_off", l.DaysOff}, {"tours", l.Tours}, {"played", l.Played}} {
		for i, r := range x.days {
			if r.To < v.s.From || r.From > v.s.To {
				v.warn(fmt.Sprintf("limits.%s[%d]", x.key, i), r, v.otherYear(r.From), "lies outside the season, and changes nothing")
			}
		}
	}
	for i, r := range l.DaysOff {
		v.played(fmt.Sprintf("limits.days_off[%d]", i), r)
	}
	for i := range v.s.Programmes {
		p := &v.s.Programmes[i]
		path := fmt.Sprintf("programmes[%d]", i)
		if len(p.Parts) == 0 {
			v.warn(path+".parts", "", "parts: [{id: slate, work: Symphony in Slate, arrives: 2027-01-13}]", "the programme has no parts: nothing of it is planned")
		}
		v.concertFirst(path, p)
		for j := range p.Parts {
			v.slipsOf(fmt.Sprintf("%s.parts[%d]", path, j), &p.Parts[j])
		}
	}
	v.collisions()
	v.asked()
}

// played asks about services on days off: forgotten when the days were chosen, or not
// played, as during an illness that is known beforehand. Until that is said they count
// as played, which is the careful side of the load, and no time off to come back from.
func (v *validator) played(path string, r Range) {
	n, excuse := 0, ""
	for i := range v.s.Programmes {
		p, before := &v.s.Programmes[i], n
		days := Range{}
		for _, x := range p.Services {
			if r.Holds(x.Date) && !x.Missed {
				if n++; days.From == 0 {
					days = Range{x.Date, x.Date}
				}
				days = Range{min(days.From, x.Date), max(days.To, x.Date)}
			}
		}
		if n > before {
			excuse += fmt.Sprintf(", {programme: %s, date: %v}", p.ID, days)
		}
	}
	others := 0
	for d := max(r.From, v.s.From); d <= min(r.To, v.s.To); d++ {
		others += len(v.s.OtherOn(d))
	}
	what := ""
	switch {
	case n == 0 && others == 0:
		return
	case others == 0:
		what = fmt.Sprintf("has %s", counted(n, "service"))
	case n == 0:
		v.warn(path, r, "other dates under on in other_playing, if there is none", "has other playing on it %s, which counts as played", counted(others, "time"))
		return
	default:
		what = fmt.Sprintf("has %s and other playing", counted(n, "service"))
	}
	v.warn(path, r, "excused: ["+strings.TrimPrefix(excuse, ", ")+"], where you don't play them; rest_days in place of days_off, where you do",
		"%s, which %s as played, so that it is no time off", what, map[bool]string{true: "counts", false: "count"}[n+others == 1])
}

// counted writes how many there are of something.
func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// otherYear asks for a date that lies in the season, a year on or back.
func (v *validator) otherYear(d Date) string {
	for _, years := range []int{1, -1} {
		y, m, day := d.Time().Date()
		if other := NewDate(y+years, m, day); v.s.Holds(other) {
			return fmt.Sprintf("%v, if that is meant", other)
		}
	}
	return ""
}

// concertFirst finds a concert before the first rehearsal, which parts are due at.
func (v *validator) concertFirst(path string, p *Programme) {
	first := p.FirstRehearsal()
	for k, s := range p.Services {
		if !s.Kind.Rehearses() && s.Date < first {
			v.warn(fmt.Sprintf("%s.services[%d].%v", path, k, s.Kind), s.Date, "a programme of its own, if nothing is rehearsed for it",
				"the %v comes before the first rehearsal on %v, for which the parts are planned", s.Kind, first)
			return
		}
	}
}

func (v *validator) slipsOf(path string, part *Part) {
	if then := part.Source.Instrument; then != "" && v.s.Instrument != "" && then != v.s.Instrument {
		v.warn(path+".known_from", "", "", "that season was played on the %s, this one is for the %s", then, v.s.Instrument)
	}
	if part.Arrives != 0 && part.Arrives < v.s.From-longBefore {
		v.warn(path+".arrives", part.Arrives, v.otherYear(part.Arrives), "arrives long before the season begins on %v", v.s.From)
	}
	for k, q := range part.Passages {
		if meant := Backwards(q.Bars); meant != "" {
			v.warn(fmt.Sprintf("%s.passages[%d].bars", path, k), q.Bars, meant+", if that is meant", "the bars run backwards")
		}
	}
	if len(part.Passages) == 0 && part.Estimate == 0 {
		v.warn(path, "", "an estimate of all its visits, like estimate: 90 min, or passages",
			"has neither passages nor an estimate: it is heard and read, and nothing of it is worked at")
	}
}

// barRun finds a run of bars at the end of a passage's name: 45-61, I 134-141.
var barRun = regexp.MustCompile(`(?:^|\s)(\d{1,6})-(\d{1,6})$`)

// Backwards gives the bars that are meant where they end before they begin, else nothing.
func Backwards(bars string) string {
	bars = strings.TrimSpace(bars)
	m := barRun.FindStringSubmatchIndex(bars)
	if m == nil {
		return ""
	}
	from, to := bars[m[2]:m[3]], bars[m[4]:m[5]]
	a, _ := strconv.Atoi(from)
	if b, _ := strconv.Atoi(to); a <= b {
		return ""
	}
	return bars[:m[2]] + to + "-" + from
}

// wholeDay is how long a span may be and still collide: what takes the whole day
// is a holiday, or the calendar's word for the day.
const wholeDay = 12 * 60

// longBefore is how many days a part may come before the season without a question.
const longBefore = 180

// collisions finds services at a time that another calendar takes, one for each service.
func (v *validator) collisions() {
	for i := range v.s.Programmes {
		for j, s := range v.s.Programmes[i].Services {
			for _, b := range v.s.Busy {
				if b.Date == s.Date && !s.Missed && b.From < s.Start+Clock(s.Lasts) && s.Start < b.To && b.Length() < wholeDay && b.Title != "" {
					v.warn(fmt.Sprintf("programmes[%d].services[%d].%v", i, j, s.Kind), s.Date, "", "the %v at %v falls on %s, %v to %v", s.Kind, s.Start, b.Title, b.From, b.To)
					break
				}
			}
		}
	}
}
