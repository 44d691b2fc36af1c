package solver

import "slices"

// unit is what one weight decides: passages[first:last] of a part, and the
// part's frame if whole, in the frame given if not.
type unit struct {
	part, first, last int
	whole             bool
	held              bool // whole, but with its read-through and first round as the frame has them
	frame             frame
	box               *box                // whole, but only in frames of a box; nil: in any
	frees             func(k, d int) bool // a passage, whose visit k may lie on day d; nil: on any
}

// keeps tells whether a unit may take a plan in a frame.
func (u *unit) keeps(f frame) bool {
	if u.box != nil && !u.box.holds(f) {
		return false
	}
	return !u.held || f.read == none || f.read == u.frame.read && f.phi == u.frame.phi
}

// partPlan is a whole part: its frame and, passage by passage, its schedules.
type partPlan struct {
	ratedFrame
	days [][]int16
	s    score // every wish but body
}

// wholeParts gives the units of the whole season.
func (p *problem) wholeParts() []unit {
	out := make([]unit, len(p.parts))
	for i := range out {
		out[i] = p.wholePart(i)
	}
	return out
}

// wholePart gives a part as a unit of a master, in any frame.
func (p *problem) wholePart(i int) unit {
	q := &p.parts[i]
	return unit{part: i, first: q.first, last: q.last, whole: true}
}

// unitPlan gives a unit as it stands.
func (s *state) unitPlan(u *unit) partPlan {
	pl := partPlan{ratedFrame: ratedFrame{frame: s.frames[u.part]}, days: slices.Clone(s.sched[u.first:u.last])}
	if u.whole {
		pl.s = s.p.stagesScore(&s.p.parts[u.part], pl.frame)
	}
	for k, days := range pl.days {
		pl.s = pl.s.plus(s.p.scheduleScore(&s.p.passages[u.first+k], days))
	}
	return pl
}
