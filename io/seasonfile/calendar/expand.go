package calendar

import (
	"slices"
	"time"
)

// expand gives the local times of a rule that begins with start, in order, as
// far as they lie between first and last. It gives false when too much work has
// been done for the file.
//
// Without COUNT the rule is entered near first. With it all has to be counted
// from the start on. DTSTART counts as the first occurrence, but not as the
// first exception where the rule says what does not happen.
func (f *file) expand(r *rule, start time.Time, z *zone, first, last time.Time, give func(time.Time)) bool {
	x := &expansion{f: f, r: r, z: z, start: start, first: first, last: last, give: give}
	if !r.excepts {
		x.take(start)
	}
	if x.done {
		return f.left >= 0
	}
	from := start
	if r.count == 0 && first.After(start) {
		from = first
	}
	switch r.freq {
	case yearly:
		x.years(from)
	case monthly:
		x.months(from)
	case weekly:
		x.weeks(from)
	case daily:
		x.eachDay(from)
	default:
		x.clock(from)
	}
	return f.left >= 0
}

type expansion struct {
	f           *file
	r           *rule
	z           *zone
	start       time.Time
	first, last time.Time
	give        func(time.Time)
	taken       int
	latest      time.Time // the last one taken
	done        bool
	set         []time.Time // of the period at hand, where BYSETPOS picks from it
}

// take enters an occurrence, in order.
func (x *expansion) take(t time.Time) {
	switch {
	case x.done, x.taken > 0 && t.Equal(x.latest): // the first of a month stands for the 31st of that before it, too
		return
	case t.After(x.last) || x.past(t) && !t.Equal(x.start):
		x.done = true
		return
	}
	x.latest = t
	if x.taken++; x.r.count > 0 && x.taken >= x.r.count {
		x.done = true
	}
	if !t.Before(x.first) {
		if !x.f.work(workGiven) {
			x.done = true
			return
		}
		x.give(t)
	}
}

// past tells whether a local time lies after the rule's end.
func (x *expansion) past(t time.Time) bool {
	switch {
	case x.r.until.IsZero():
		return false
	case x.r.untilUTC && t.Before(x.r.until.Add(slack)) && t.After(x.r.until.Add(-slack)): // zones matter near it only
		return x.z.instant(t).After(x.r.until)
	}
	return t.After(x.r.until)
}

// look counts one day or time looked at.
func (x *expansion) look() bool {
	x.done = x.done || !x.f.work(x.r.weight)
	return !x.done
}

// add enters the times of a day.
func (x *expansion) add(day time.Time) {
	if x.look() && x.r.holdsDay(day) {
		x.times(day)
	}
}

// times enters those of a day that holds some.
func (x *expansion) times(day time.Time) {
	for _, h := range x.r.hour {
		for _, m := range x.r.minute {
			for _, s := range x.r.second {
				x.enter(day.Add(time.Duration(h)*time.Hour + time.Duration(m)*time.Minute + time.Duration(s)*time.Second))
			}
			if x.done {
				return
			}
		}
	}
}

// enter takes a time of the period at hand, or keeps it until the period is
// over, where BYSETPOS picks from all of them.
func (x *expansion) enter(t time.Time) {
	switch {
	case x.done:
	case !x.f.work(1), len(x.set) >= mostInSet:
		x.f.left = min(x.f.left, -1)
		x.done = true
	case len(x.r.place) > 0:
		x.set = append(x.set, t)
	default:
		x.pick(t)
	}
}

func (x *expansion) pick(t time.Time) {
	if t.After(x.start) || x.r.excepts && t.Equal(x.start) {
		x.take(t)
	}
}

// close ends a period: BYSETPOS picks from its set.
func (x *expansion) close() {
	if len(x.set) == 0 {
		return
	}
	x.done = x.done || !x.f.work(len(x.set)*(1+len(x.r.place)/8))
	for i, t := range x.set {
		if p := x.r.place; !x.done && (slices.Contains(p, i+1) || slices.Contains(p, i-len(x.set))) {
			x.pick(t)
		}
	}
	x.set = x.set[:0]
}

// over tells whether the period that begins on a day can hold nothing more.
func (x *expansion) over(day time.Time) bool {
	return x.done || day.After(x.last) || day.Year() > lastYear
}

func midnight(t time.Time) time.Time {
	return time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, time.UTC)
}

// aligned gives the first of the numbers a, a+step, … that is at most b and as
// near to it as can be; a itself where b lies before it.
func aligned(a, b, step int) int {
	if b <= a {
		return a
	}
	return a + (b-a)/step*step
}

// period enters the times of one hour, minute or second.
func (x *expansion) period(t time.Time) {
	in := func(list []int, n int) bool { return len(list) == 0 || slices.Contains(list, n) }
	if !in(x.r.hour, t.Hour()) || x.r.freq > hourly && !in(x.r.minute, t.Minute()) ||
		x.r.freq > minutely && !in(x.r.second, t.Second()) {
		return
	}
	minutes, seconds := x.r.minute, x.r.second
	if x.r.freq > hourly {
		minutes = []int{t.Minute()}
	}
	if x.r.freq > minutely {
		seconds = []int{t.Second()}
	}
	for _, m := range minutes {
		for _, s := range seconds {
			x.enter(time.Date(t.Year(), t.Month(), t.Day(), t.Hour(), m, s, 0, time.UTC))
		}
	}
	x.close()
}
