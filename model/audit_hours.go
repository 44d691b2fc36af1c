package model

import (
	"cmp"
	"slices"
)

// hoursKept judges the clock, in seasons that say when work may be planned: a
// session's minutes are those between its start and its end less its rests;
// they lie in the free hours, no two sessions meet, and nobody plays for longer
// than a block without a rest.
func (a *audit) hoursKept() {
	if !a.s.HasHours() {
		return
	}
	for i := range a.days {
		d := &a.days[i]
		if !d.more() && d.listened == d.done.listened {
			continue // nothing of it lies ahead
		}
		if over := d.playing + d.warmUp + d.listened - d.Held; over > 0 {
			a.breach(d.Date, over, "", "%v over what the free hours hold with rests (%v)", over, d.Held)
		}
		a.clockKept(d)
		a.restsKept(d)
	}
}

func (a *audit) clockKept(d *auditDay) {
	free, playable := a.s.Free(d.Date), a.s.Playable(d.Date)
	var timed []*Session
	for _, v := range d.sessions {
		if v.Start == nil && (slices.Contains(d.happened, v) || v.Stage == WarmUpStage && d.done.playing > 0) {
			continue // it was recorded and not planned: nobody knows when it was
		}
		if v.Start == nil || v.Ends == nil {
			a.breach(d.Date, v.Minutes, v.ID, "%s has no hours", v.ID)
			continue
		}
		timed = append(timed, v)
		spans := free
		if v.Stage.Playing() {
			spans = playable
		}
		if inside, sound := freely(spans, v); inside != v.Minutes || !sound {
			a.breach(d.Date, v.Minutes-inside, v.ID, "%s does not lie in the free hours with their rests", v.ID)
		}
	}
	slices.SortStableFunc(timed, func(x, y *Session) int { return cmp.Compare(*x.Start, *y.Start) })
	var ends Clock
	for k, v := range timed {
		if k > 0 && *v.Start < ends {
			a.breach(d.Date, Minutes(ends-*v.Start), v.ID, "%s begins before the session before it ends", v.ID)
		}
		ends = max(ends, *v.Ends)
	}
}

// freely gives the minutes of a session's pieces that lie in the free hours, and
// whether the pieces are sound: in order, none empty, all of them free.
func freely(free []Span, v *Session) (inside Minutes, sound bool) {
	var all Minutes
	at := *v.Start - 1
	sound = true
	for _, p := range v.Pieces() {
		sound = sound && at < p.From && p.From < p.To // a rest lasts a minute at least
		at, all = p.To, all+p.Length()
		for _, f := range free {
			if from, to := max(f.From, p.From), min(f.To, p.To); from < to {
				inside += Minutes(to - from)
			}
		}
	}
	return inside, sound && all == inside
}

// restsKept wants a rest after each block. A run of playing lasts from its
// first minute to its last, and ends where nothing is played for as long as a
// rest; listening is rest enough.
func (a *audit) restsKept(d *auditDay) {
	l := &a.s.Limits
	if l.BlockRest == 0 {
		return
	}
	for _, r := range runs(d.sessions, l.BlockRest) {
		if over := r.Length() - l.Block; over > 0 {
			a.breach(d.Date, over, "", "played from %v to %v without a rest of %v: %v over a block", r.From, r.To, l.BlockRest, over)
		}
	}
}

// runs gives the stretches of playing that no rest interrupts, in their order.
func runs(sessions []*Session, rest Minutes) []Span {
	var pieces []Span
	for _, v := range sessions {
		if v.Stage.Playing() {
			pieces = append(pieces, v.Pieces()...)
		}
	}
	slices.SortFunc(pieces, func(x, y Span) int { return cmp.Or(cmp.Compare(x.From, y.From), cmp.Compare(x.To, y.To)) })
	var out []Span
	for _, p := range pieces {
		if n := len(out); n > 0 && Minutes(p.From-out[n-1].To) < rest {
			out[n-1].To = max(out[n-1].To, p.To)
		} else {
			out = append(out, p)
		}
	}
	return out
}
