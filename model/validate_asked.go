package model

import (
	"fmt"
	"slices"
)

// More that can be planned but is hardly meant: dates of days that the season does not
// have, programmes without a concert, estimates that say nothing.

func (v *validator) asked() {
	l := &v.s.Limits
	for i, r := range l.RestDates {
		if r.To < v.s.From || r.From > v.s.To {
			v.warn("limits.rest_days", r, v.otherYear(l.RestDates[i].From), "lies outside the season, and changes nothing")
		}
	}
	askedByDay(v, "limits.playing", l.Playing)
	askedByDay(v, "limits.latest", l.Latest)
	askedByDay(v, "limits.quiet", l.Quiet)
	askedByDay(v, "hours", v.s.Hours)
	for i := range v.s.Programmes {
		p := &v.s.Programmes[i]
		path := fmt.Sprintf("programmes[%d]", i)
		v.noConcert(path, p)
		for j := range p.Parts {
			v.askedOf(fmt.Sprintf("%s.parts[%d]", path, j), &p.Parts[j])
		}
	}
	v.otherCollides()
}

// askedByDay finds values of dates that the season does not have.
func askedByDay[T any](v *validator, path string, b ByDay[T]) {
	for _, d := range b.Dates {
		if r := d.Range; r.To < v.s.From || r.From > v.s.To {
			v.warn(path+"."+r.String(), "", v.otherYear(r.From), "%v lies outside the season, and changes nothing", r)
		}
	}
}

// noConcert finds a programme that is rehearsed and never played: its last date is
// then a rehearsal, and nothing is kept up for a concert.
func (v *validator) noConcert(path string, p *Programme) {
	rehearsed := false
	for _, s := range p.Services {
		if !s.Kind.Rehearses() {
			return
		}
		rehearsed = rehearsed || s.Kind == Rehearsal
	}
	if rehearsed && len(p.Parts) > 0 {
		v.warn(path+".services", "", "{concert: 2027-02-06 19:30, lasts: 110 min}", "no concert is given: what is found at a rehearsal is prepared for rehearsals alone")
	}
}

// named gives the minutes of all visits of the passages that a part names.
func (s *Season) named(part *Part) (sum Minutes) {
	for k := range part.Passages {
		for _, visit := range s.Recipe(&part.Passages[k]) {
			sum += visit.Minutes
		}
	}
	return sum
}

// Estimated is a part with an estimate of which its passages take something.
type Estimated struct {
	Part            string // programme/part
	Estimate, Named Minutes
}

// Estimates gives the parts whose passages take some of their estimate, and leave some.
func (s *Season) Estimates() (out []Estimated) {
	for i := range s.Programmes {
		p := &s.Programmes[i]
		for j := range p.Parts {
			if q := &p.Parts[j]; q.Estimate > 0 && len(q.Passages) > 0 && s.named(q) < q.Estimate {
				out = append(out, Estimated{PartName(p.ID, q.ID), q.Estimate, s.named(q)})
			}
		}
	}
	return out
}

func (v *validator) askedOf(path string, part *Part) {
	seen := map[string]int{}
	for k := range part.Passages {
		q := &part.Passages[k]
		if first, twice := seen[q.Bars]; twice && q.Bars != "" {
			v.warn(fmt.Sprintf("%s.passages[%d].bars", path, k), q.Bars, "", "passage %d has the same bars: both are worked at", first+1)
		}
		seen[q.Bars] = k
	}
	if named := v.s.named(part); part.Estimate > 0 && named >= part.Estimate {
		v.warn(path+".estimate", part.Estimate, "an estimate of all its visits, those of its passages included, or none",
			"the visits of its passages take %v already, so the estimate adds nothing", named)
	}
}

// otherCollides finds services at a time of other playing, one for each service.
func (v *validator) otherCollides() {
	for i := range v.s.Programmes {
		for j, s := range v.s.Programmes[i].Services {
			for k := range v.s.Other {
				o := &v.s.Other[k]
				if o.On(s.Date) && !s.Missed && !v.busyAt(s.Date, o.At) && o.At.From < s.Start+Clock(s.Lasts) && s.Start < o.At.To {
					v.warn(fmt.Sprintf("programmes[%d].services[%d].%v", i, j, s.Kind), s.Date, "", "the %v at %v falls on %s, %v to %v", s.Kind, s.Start, o.Title, o.At.From, o.At.To)
					break
				}
			}
		}
	}
	for k := range v.s.Other {
		o, any := &v.s.Other[k], false
		for d := v.s.From; d <= v.s.To && !any; d++ {
			any = o.On(d)
		}
		if !any {
			v.warn(fmt.Sprintf("other_playing[%d].on", k), o.Title, "", "is on no day of the season, and changes nothing")
		}
	}
}

// busyAt tells whether a calendar takes the same time, which is said already.
func (v *validator) busyAt(d Date, at Span) bool {
	return slices.ContainsFunc(v.s.Busy, func(b Busy) bool { return b.Date == d && b.Span == at })
}
