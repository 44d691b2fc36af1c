package model

import (
	"sort"
	"sync"
	"time"
)

// Free gives the spans of a date in which work may be planned: the free hours,
// up to the latest hour, less what other calendars take and the services with
// the way there and back. Spans come in order and do not touch. In quiet hours
// there is no playing: see Playable. What warming up again takes is no free time.
func (s *Season) Free(d Date) []Span {
	out := s.freeOf(d)
	for _, w := range s.warmingAgain(d, out) {
		out = without(out, w)
	}
	return out
}

// freeOf gives the free spans with what warming up again takes of them.
func (s *Season) freeOf(d Date) []Span {
	out := append([]Span(nil), s.Hours.On(d)...)
	if skipped := s.skipped(d); skipped.To > skipped.From {
		out = without(out, skipped)
	}
	if latest := s.Limits.Latest.On(d); latest > 0 {
		out = without(out, Span{latest, 24 * 60})
	}
	for _, b := range s.busyOn(d) {
		out = without(out, b.Span)
	}
	for _, o := range s.OtherOn(d) {
		out = without(out, o.At)
	}
	// A late concert reaches into the next day, the way to an early rehearsal
	// into the day before.
	for day := d - 1; day <= d+1; day++ {
		for _, v := range s.ServicesOn(day) {
			if v.Missed {
				continue
			}
			out = without(out, s.around(v, Clock(day-d)*24*60))
		}
	}
	return out
}

// zones holds the time zones that seasons are at home in, by name; nil where the
// system has none of that name.
var zones sync.Map

// skipped gives the time of a date that the clock leaves out where summer time
// begins there; all of the date where the calendar leaves it out. It is empty
// on other dates.
func (s *Season) skipped(d Date) Span {
	known, ok := zones.Load(s.TimeZone)
	if !ok {
		zone, err := time.LoadLocation(s.TimeZone)
		if err != nil {
			zone = nil
		}
		known, _ = zones.LoadOrStore(s.TimeZone, zone)
	}
	zone, _ := known.(*time.Location)
	if zone == nil {
		return Span{}
	}
	year, month, day := d.Time().Date()
	clock := func(c Clock) (Clock, bool) {
		t := time.Date(year, month, day, 0, int(c), 0, 0, zone)
		return Clock(60*t.Hour() + t.Minute()), t.Day() == day
	}
	if time.Date(year, month, day+1, 0, 0, 0, 0, zone).Sub(time.Date(year, month, day, 0, 0, 0, 0, zone)) >= 24*time.Hour {
		return Span{}
	}
	var out Span
	for c := Clock(0); c < 24*60; c++ {
		if shown, same := clock(c); shown != c || !same {
			if out.To == 0 {
				out.From = c
			}
			out.To = c + 1
		}
	}
	return out
}

// Playable gives the spans of a date in which may be played: the free ones less
// the quiet hours.
func (s *Season) Playable(d Date) []Span {
	out := s.Free(d)
	for _, q := range s.Limits.Quiet.On(d) {
		out = without(out, q)
	}
	return out
}

// working gives the spans of a date that planned work is counted by and first
// laid out in: those in which may be played, or where there are none the quiet
// ones, for listening alone. Listening beside playing may move to quiet hours
// when the day is laid out better, but the day never counts on it: a part's
// listening on the day of its read-through would have to come first.
func (s *Season) working(d Date) (spans []Span, quiet bool) {
	free, playable := s.Free(d), s.Playable(d)
	if len(s.Blocks(playable)) == 0 && len(s.Blocks(free)) > 0 {
		return free, true
	}
	return playable, false
}

// around gives the time that a service takes with what must lie between it and
// practice, its day beginning at the given minute.
func (s *Season) around(v Service, midnight Clock) Span {
	apart := Clock(max(v.Travel, s.Limits.ServiceGap))
	at := midnight + v.Start
	return Span{at - max(apart, Clock(s.Limits.WarmUpAgain)), at + Clock(v.Lasts) + apart}
}

// busyOn gives the times of a date that other calendars take. Season.Busy is in
// the order of dates.
func (s *Season) busyOn(d Date) []Busy {
	from := sort.Search(len(s.Busy), func(i int) bool { return s.Busy[i].Date >= d })
	to := from
	for to < len(s.Busy) && s.Busy[to].Date == d {
		to++
	}
	return s.Busy[from:to]
}

// without takes a span out of others.
func without(spans []Span, out Span) []Span {
	var next []Span
	for _, f := range spans {
		if out.To <= f.From || f.To <= out.From || out.To <= out.From {
			next = append(next, f)
			continue
		}
		if f.From < out.From {
			next = append(next, Span{f.From, out.From})
		}
		if out.To < f.To {
			next = append(next, Span{out.To, f.To})
		}
	}
	return next
}

// Taken gives what other calendars take of the free hours, and on how many days.
func (s *Season) Taken() (all Minutes, days int) {
	if len(s.Busy) == 0 {
		return 0, 0
	}
	without := *s
	without.Busy = nil
	for d := s.From; d <= s.To; d++ {
		var had Minutes
		for _, f := range without.Free(d) {
			had += f.Length()
		}
		for _, f := range s.Free(d) {
			had -= f.Length()
		}
		if all += had; had > 0 {
			days++
		}
	}
	return all, days
}

// Blocks cuts the free spans into blocks of at most Limits.Block minutes with
// Limits.BlockRest between two blocks. Blocks are whole steps long;
// what is shorter than a step is not kept.
func (s *Season) Blocks(free []Span) []Span {
	var out []Span
	block, rest, step := Clock(s.Limits.Block), Clock(s.Limits.BlockRest), Clock(s.Habits.Step)
	var rested Clock // from when on the last block is rested from: spans may lie close together
	for _, f := range free {
		for at := max(f.From, rested); f.To-at >= step; at = rested {
			whole := min(block, f.To-at) / step * step
			out = append(out, Span{at, at + whole})
			rested = at + whole + rest
		}
	}
	return out
}

// wholeSteps is the longest session that is never split over a rest, in steps.
const wholeSteps = 2

// held gives the minutes of planned work (warm-up, playing and listening
// together) that certainly fit the blocks of the day when they are laid out in
// order. Only a session of at most two steps can leave the end of a block
// unused, and only less than its own length: one step at most where all
// lengths are whole steps, else less than two. The last block needs no such
// allowance, since the session that does not fit it is itself longer than what
// is left there. So with blocks b1..bn and waste w
//
//	Held = Σ length − Σ over b1..bn−1 of min(w, length)
func (s *Season) held(spans []Span) Minutes {
	waste := (wholeSteps - 1) * s.Habits.Step
	if !s.inSteps() {
		waste = wholeSteps*s.Habits.Step - 1
	}
	var sum, spare Minutes
	for _, b := range s.Blocks(spans) {
		sum += b.Length()
		spare = min(waste, b.Length())
		sum -= spare
	}
	return sum + spare
}

// inSteps tells whether the lengths that the season gives outright are whole
// steps; those of visits always are.
func (s *Season) inSteps() bool {
	step := s.Habits.Step
	if s.Limits.WarmUp%step != 0 {
		return false
	}
	for i := range s.Programmes {
		for j := range s.Programmes[i].Parts {
			p := &s.Programmes[i].Parts[j]
			for _, m := range s.sittings(p) {
				if m%step != 0 {
					return false
				}
			}
			if p.ReadThrough%step != 0 || p.Recordings%step != 0 {
				return false
			}
		}
	}
	return true
}
