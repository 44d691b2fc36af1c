package solver

import (
	"math/rand/v2"
	"slices"

	"primaprova/model"
)

// Soonest due first: the days one after the other, each filled with the sessions
// that may lie there, those that have to happen soonest first (Jackson, Management
// Science Research Project report 43, UCLA 1955, from memory: for equal lengths
// and no order that is best). By what they have to happen counts in all that comes
// after them (span). It takes well under a millisecond, and where days are
// nearly full it often finds what moves of passages don't. Several tries
// differ in who goes first among those due at about the same time.

// errand is a session of a bid on its way into the calendar.
type errand struct {
	span
	passage, visit int // of a visit
	stage          int // of a stage; none for a visit
	minutes        int
}

// turn is when an errand comes in, in one number, since turns are sorted often:
// its last day and the luck of a try in 64ths of a day, the longer first, and its
// place in the list.
type turn uint64

func (e *errand) turn(at, luck int) turn {
	return turn(64*e.hi+luck)<<40 | turn(1<<16-1-min(e.minutes, 1<<16-1))<<24 | turn(at)
}

func (t turn) at() int { return int(t & (1<<24 - 1)) }

// soonestTries is how many orders are tried, soonestSpread by how many days
// sessions may trade places in them.
const (
	soonestTries  = 30
	soonestSpread = 5
)

// soonest looks for days on which a whole bid can be placed. Where order is not
// kept there is no state to show for it. It gives the number of orders that were tried, too.
func (p *problem) soonest(seed uint64, ordered bool) (st *state, tries int, ok bool) {
	spans, ok := p.spans(ordered)
	if !ok {
		return nil, 0, false
	}
	return p.fillInTurns(p.errands(spans), seed, ordered)
}

// sooner is by how many days sessions may come before the day on which they
// stand, the least that will do first; then by any number.
var sooner = []int{0, 1, 2, 4, 8, 16}

// soonestNear is soonest with what stands as near to its day as that goes.
func (p *problem) soonestNear(seed uint64) (st *state, tries int, ok bool) {
	spans, ok := p.spans(true)
	if !ok {
		return nil, 0, false
	}
	list := p.errands(spans)
	st, tries, ok = p.fillInTurns(slices.Clone(list), seed, true)
	if !ok {
		return nil, tries, false
	}
	for _, by := range sooner {
		held := slices.Clone(list)
		for i := range held {
			e := &held[i]
			if at := p.stands(e); at != none {
				e.lo = max(e.lo, min(at-by, e.hi))
			}
		}
		near, more, ok := p.fillInTurns(held, seed, true)
		if tries += more; ok {
			return near, tries, true
		}
	}
	return st, tries, true
}

// stands gives the day on which an errand stands; none.
func (p *problem) stands(e *errand) int {
	if e.stage != none {
		return p.parts[e.part].stand[e.stage]
	}
	return p.passages[e.passage].visits[e.visit].stand
}

// fillInTurns fills the days in several orders until one goes.
func (p *problem) fillInTurns(list []errand, seed uint64, ordered bool) (st *state, tries int, ok bool) {
	rng := rand.New(rand.NewPCG(seed, 0x736f6f6e))
	turns := make([]turn, len(list))
	for try := range soonestTries {
		for i := range list {
			luck := 0
			if try > 0 {
				luck = rng.IntN(64 * soonestSpread)
			}
			turns[i] = list[i].turn(i, luck)
		}
		slices.Sort(turns)
		if c := p.fill(list, turns, ordered); c != nil {
			if !ordered {
				return nil, try + 1, true
			}
			return c.state(), try + 1, true
		}
	}
	return nil, soonestTries, false
}

// errands names the sessions that spans are of, in the order of spansOf.
func (p *problem) errands(spans []span) []errand {
	out := make([]errand, 0, len(spans))
	add := func(e errand) {
		e.span = spans[len(out)]
		out = append(out, e)
	}
	for i := range p.parts {
		q := &p.parts[i]
		for k := q.first; k < q.last; k++ {
			for j := range p.passages[k].visits {
				add(errand{passage: k, visit: j, stage: none, minutes: p.passages[k].visits[j].minutes})
			}
		}
		for n, m := range [3]int{q.rec, q.read, q.listen} {
			if m > 0 {
				add(errand{stage: 2 - n, minutes: m})
			}
		}
	}
	return out
}

// calendar is days being filled.
type calendar struct {
	p      *problem
	stages [][3]int  // by part: day; none
	visits [][]int16 // by passage: days so far
	firsts []int     // by part: first visits of the first round that are still out
	round  []int     // by part: day of the last of them
}

// fill places errands in their turns, day by day. Nil where one of them comes
// too late.
func (p *problem) fill(list []errand, turns []turn, ordered bool) *calendar {
	c := &calendar{p, make([][3]int, len(p.parts)), make([][]int16, len(p.passages)), make([]int, len(p.parts)), make([]int, len(p.parts))}
	for i := range p.parts {
		c.stages[i], c.round[i] = [3]int{none, none, none}, before
	}
	for i := range p.passages {
		v := &p.passages[i]
		if v.inRound && len(v.visits) > 0 {
			c.firsts[v.part]++
		}
		c.visits[i] = make([]int16, 0, len(v.visits))
	}
	comes := make([][]int32, p.days) // by first day: places in turns
	for n, t := range turns {
		lo := list[t.at()].lo
		comes[lo] = append(comes[lo], int32(n))
	}
	var waiting []int32 // places in turns, in their order
	for d := p.today; d < p.days; d++ {
		if len(comes[d]) > 0 {
			waiting = append(waiting, comes[d]...)
			slices.Sort(waiting)
		}
		room := p.room[d]
		// Listening first: a read-through may follow it on the same day.
		for _, listening := range [2]bool{true, false} {
			left := waiting[:0]
			for _, n := range waiting {
				e := &list[turns[n].at()]
				if (e.stage == 0) == listening && c.may(e, d, ordered) && room.take(e) {
					c.put(e, d)
				} else {
					left = append(left, n)
				}
			}
			waiting = left
		}
		for _, n := range waiting {
			if list[turns[n].at()].hi <= d {
				return nil
			}
		}
	}
	return c
}

// take takes an errand off a day's room, if there is enough.
func (r *dayRoom) take(e *errand) bool {
	if e.minutes > r.held {
		return false
	}
	switch {
	case e.stage == 0 || e.stage == 2:
		if e.minutes > r.listening {
			return false
		}
		r.listening -= e.minutes
	case e.minutes > r.playing || e.stage == none && r.visits < 1:
		return false
	default:
		r.playing -= e.minutes
		if e.stage == none {
			r.visits--
		}
	}
	r.held -= e.minutes
	return true
}

// may tells whether the rules let an errand lie on a day, after all that lies
// there or before.
func (c *calendar) may(e *errand, d int, ordered bool) bool {
	q := &c.p.parts[e.part]
	read := c.stages[e.part][1]
	if e.stage != none {
		switch {
		case !c.p.stageFits(q, e.stage, e.minutes, d):
			return false
		case !ordered || e.stage == 0:
			return true
		case e.stage == 1:
			return q.listen == 0 || c.stages[e.part][0] != none
		}
		return q.readDone || q.read == 0 || read != none && read < d
	}
	v := &c.p.passages[e.passage]
	if len(c.visits[e.passage]) != e.visit || !c.p.visitFits(&v.visits[e.visit], d) {
		return false
	}
	switch {
	case e.visit > 0:
		if d < int(c.visits[e.passage][e.visit-1])+v.visits[e.visit].least {
			return false
		}
	case ordered && v.done == 0 && !q.readDone && q.read > 0:
		if read == none || read >= d {
			return false
		}
	}
	return e.visit != v.third || c.firsts[e.part] == 0 && c.round[e.part] < d
}

// put notes an errand on a day.
func (c *calendar) put(e *errand, d int) {
	if e.stage != none {
		c.stages[e.part][e.stage] = d
		return
	}
	c.visits[e.passage] = append(c.visits[e.passage], int16(d))
	if v := &c.p.passages[e.passage]; v.inRound && e.visit == 0 {
		c.firsts[e.part]--
		c.round[e.part] = d
	}
}

// state gives what the calendar holds as a state.
func (c *calendar) state() *state {
	st := newState(c.p)
	for i := range c.p.parts {
		q := &c.p.parts[i]
		f := frame{int16(c.stages[i][0]), int16(c.stages[i][1]), int16(c.stages[i][2]), int16(max(c.round[i], q.lo-1))}
		if q.readDone {
			f.read = before
		} else if f.phi < f.read {
			f.phi = f.read
		}
		st.setFrame(i, f)
		for k := q.first; k < q.last; k++ {
			if len(c.visits[k]) > 0 {
				st.place(k, c.visits[k])
			}
		}
	}
	if st.sum[model.Coverage] != 0 {
		panic("solver: a bid filled in whole leaves something out")
	}
	return st
}
