package model

import "slices"

// hoursKept judges the clock, in seasons that say when work may be planned. A
// session takes the minutes of the day's blocks between its start and its end;
// both lie on a block, so the rests between are no part of it.
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
		blocks := a.s.Blocks(a.s.Free(d.Date))
		var timed []*Session
		for _, v := range d.sessions {
			if v.Start == nil || v.Ends == nil {
				a.breach(d.Date, v.Minutes, v.ID, "%s has no hours", v.ID)
				continue
			}
			timed = append(timed, v)
			inside, edges := onBlocks(blocks, Span{*v.Start, *v.Ends})
			if inside != v.Minutes || !edges {
				a.breach(d.Date, v.Minutes-inside, v.ID, "%s does not lie in the free hours with their rests", v.ID)
			}
		}
		slices.SortStableFunc(timed, func(x, y *Session) int { return int(*x.Start) - int(*y.Start) })
		var ends Clock
		for k, v := range timed {
			if k > 0 && *v.Start < ends {
				a.breach(d.Date, Minutes(ends-*v.Start), v.ID, "%s begins before the session before it ends", v.ID)
			}
			ends = max(ends, *v.Ends)
		}
	}
}

// onBlocks gives the minutes of a span that lie on blocks, and whether its
// first and its last minute do.
func onBlocks(blocks []Span, v Span) (inside Minutes, edges bool) {
	var first, last bool
	for _, b := range blocks {
		if from, to := max(b.From, v.From), min(b.To, v.To); from < to {
			inside += Minutes(to - from)
			first = first || from == v.From
			last = last || to == v.To
		}
	}
	return inside, first && last
}
