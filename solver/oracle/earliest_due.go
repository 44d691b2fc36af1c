package oracle

import (
	"math/rand/v2"
	"slices"

	"primaprova/model"
	"primaprova/solver/instance"
)

// Soonest due first: the days one after the other, each filled with the sessions
// that may lie there, those that have to happen soonest first (Jackson, Management
// Science Research Project report 43, UCLA 1955, from memory: for equal lengths
// and no order that is best). By what they have to happen counts in all that comes
// after them (span). It takes well under a millisecond, and where days are
// nearly full it often finds what moves of passages don't. Several tries
// differ in who goes first among those due at about the same time.

// job is a session of a demand on its way into the calendar.
type job struct {
	timeWindow
	passage, visit int // of a visit
	stage          int // of a stage; none for a visit
	minutes        int
}

// priority is when a job comes in, in one number, since they are sorted often:
// its last day and the luck of a try in 64ths of a day, the longer first, and its
// place in the list.
type priority uint64

func (e *job) priority(at, luck int) priority {
	return priority(64*e.Hi+luck)<<40 | priority(1<<16-1-min(e.minutes, 1<<16-1))<<24 | priority(at)
}

func (t priority) at() int { return int(t & (1<<24 - 1)) }

// dueTries is how many orders are tried, soonestSpread by how many days
// sessions may trade places in them.
const (
	dueTries  = 30
	dueSpread = 5
)

// EarliestDue looks for days on which a whole demand can be placed. Where order is not
// kept there is no solution to show for it. It gives the number of orders that were tried, too.
func EarliestDue(p *instance.Instance, seed uint64, ordered bool) (st *instance.Solution, tries int, ok bool) {
	spans, ok := TimeWindows(p, ordered)
	if !ok {
		return nil, 0, false
	}
	return fillInTurns(p, jobsOf(p, spans), seed, ordered)
}

// sooner is by how many days sessions may come before the day on which they
// stand, the least that will do first; then by any number.
var sooner = []int{0, 1, 2, 4, 8, 16}

// EarliestDueNear is soonest with what stands as near to its day as that goes.
func EarliestDueNear(p *instance.Instance, seed uint64) (st *instance.Solution, tries int, ok bool) {
	spans, ok := TimeWindows(p, true)
	if !ok {
		return nil, 0, false
	}
	list := jobsOf(p, spans)
	st, tries, ok = fillInTurns(p, slices.Clone(list), seed, true)
	if !ok {
		return nil, tries, false
	}
	for _, by := range sooner {
		held := slices.Clone(list)
		for i := range held {
			e := &held[i]
			if at := standsOn(p, e); at != instance.None {
				e.Lo = max(e.Lo, min(at-by, e.Hi))
			}
		}
		near, more, ok := fillInTurns(p, held, seed, true)
		if tries += more; ok {
			return near, tries, true
		}
	}
	return st, tries, true
}

// standsOn gives the day on which a job stands; none.
func standsOn(p *instance.Instance, e *job) int {
	if e.stage != instance.None {
		return p.Parts[e.Part].Stand[e.stage]
	}
	return p.Passages[e.passage].Visits[e.visit].Stand
}

// fillInTurns fills the days in several orders until one goes.
func fillInTurns(p *instance.Instance, list []job, seed uint64, ordered bool) (st *instance.Solution, tries int, ok bool) {
	rng := rand.New(rand.NewPCG(seed, 0x736f6f6e))
	turns := make([]priority, len(list))
	for try := range dueTries {
		for i := range list {
			luck := 0
			if try > 0 {
				luck = rng.IntN(64 * dueSpread)
			}
			turns[i] = list[i].priority(i, luck)
		}
		slices.Sort(turns)
		if c := fillDays(p, list, turns, ordered); c != nil {
			if !ordered {
				return nil, try + 1, true
			}
			return c.solution(), try + 1, true
		}
	}
	return nil, dueTries, false
}

// jobsOf names the sessions that spans are of, in the order of spansOf.
func jobsOf(p *instance.Instance, spans []timeWindow) []job {
	out := make([]job, 0, len(spans))
	add := func(e job) {
		e.timeWindow = spans[len(out)]
		out = append(out, e)
	}
	for i := range p.Parts {
		q := &p.Parts[i]
		for k := q.First; k < q.Last; k++ {
			for j := range p.Passages[k].Visits {
				add(job{passage: k, visit: j, stage: instance.None, minutes: p.Passages[k].Visits[j].Minutes})
			}
		}
		for n, m := range [3]int{q.Rec, q.Read, q.Listen} {
			if m > 0 {
				add(job{stage: 2 - n, minutes: m})
			}
		}
	}
	return out
}

// calendar is days being filled.
type calendar struct {
	p      *instance.Instance
	stages [][3]int  // by part: day; none
	visits [][]int16 // by passage: days so far
	firsts []int     // by part: first visits of the first round that are still out
	round  []int     // by part: day of the last of them
}

// fillDays places jobs by their priorities, day by day. Nil where one of them comes
// too late.
func fillDays(p *instance.Instance, list []job, turns []priority, ordered bool) *calendar {
	c := &calendar{p, make([][3]int, len(p.Parts)), make([][]int16, len(p.Passages)), make([]int, len(p.Parts)), make([]int, len(p.Parts))}
	for i := range p.Parts {
		c.stages[i], c.round[i] = [3]int{instance.None, instance.None, instance.None}, instance.Before
	}
	for i := range p.Passages {
		v := &p.Passages[i]
		if v.InRound && len(v.Visits) > 0 {
			c.firsts[v.Part]++
		}
		c.visits[i] = make([]int16, 0, len(v.Visits))
	}
	comes := make([][]int32, p.Days) // by first day: places in the priorities
	for n, t := range turns {
		lo := list[t.at()].Lo
		comes[lo] = append(comes[lo], int32(n))
	}
	var waiting []int32 // places in the priorities, in their order
	for d := p.Today; d < p.Days; d++ {
		if len(comes[d]) > 0 {
			waiting = append(waiting, comes[d]...)
			slices.Sort(waiting)
		}
		room := p.Room[d]
		// Listening first: a read-through may follow it on the same day.
		for _, listening := range [2]bool{true, false} {
			left := waiting[:0]
			for _, n := range waiting {
				e := &list[turns[n].at()]
				if (e.stage == 0) == listening && c.may(e, d, ordered) && takeRoom(&room, e) {
					c.put(e, d)
				} else {
					left = append(left, n)
				}
			}
			waiting = left
		}
		for _, n := range waiting {
			if list[turns[n].at()].Hi <= d {
				return nil
			}
		}
	}
	return c
}

// takeRoom takes a job off a day's room, if there is enough.
func takeRoom(r *instance.DayRoom, e *job) bool {
	if e.minutes > r.Held {
		return false
	}
	switch {
	case e.stage == 0 || e.stage == 2:
		if e.minutes > r.Listening {
			return false
		}
		r.Listening -= e.minutes
	case e.minutes > r.Playing || e.stage == instance.None && r.Visits < 1:
		return false
	default:
		r.Playing -= e.minutes
		if e.stage == instance.None {
			r.Visits--
		}
	}
	r.Held -= e.minutes
	return true
}

// may tells whether the rules let a job lie on a day, after all that lies
// there or before.
func (c *calendar) may(e *job, d int, ordered bool) bool {
	q := &c.p.Parts[e.Part]
	read := c.stages[e.Part][1]
	if e.stage != instance.None {
		switch {
		case !stageFits(c.p, q, e.stage, e.minutes, d):
			return false
		case !ordered || e.stage == 0:
			return true
		case e.stage == 1:
			return q.Listen == 0 || c.stages[e.Part][0] != instance.None
		}
		return q.ReadDone || q.Read == 0 || read != instance.None && read < d
	}
	v := &c.p.Passages[e.passage]
	if len(c.visits[e.passage]) != e.visit || !visitFits(c.p, &v.Visits[e.visit], d) {
		return false
	}
	switch {
	case e.visit > 0:
		if d < int(c.visits[e.passage][e.visit-1])+v.Visits[e.visit].Least {
			return false
		}
	case ordered && v.Done == 0 && !q.ReadDone && q.Read > 0:
		if read == instance.None || read >= d {
			return false
		}
	}
	return e.visit != v.Third || c.firsts[e.Part] == 0 && c.round[e.Part] < d
}

// put notes a job on a day.
func (c *calendar) put(e *job, d int) {
	if e.stage != instance.None {
		c.stages[e.Part][e.stage] = d
		return
	}
	c.visits[e.passage] = append(c.visits[e.passage], int16(d))
	if v := &c.p.Passages[e.passage]; v.InRound && e.visit == 0 {
		c.firsts[e.Part]--
		c.round[e.Part] = d
	}
}

// solution gives what the calendar holds as a solution.
func (c *calendar) solution() *instance.Solution {
	st := instance.NewSolution(c.p)
	for i := range c.p.Parts {
		q := &c.p.Parts[i]
		f := instance.Frame{Listen: int16(c.stages[i][0]), Read: int16(c.stages[i][1]), Rec: int16(c.stages[i][2]), Phi: int16(max(c.round[i], q.Lo-1))}
		if q.ReadDone {
			f.Read = instance.Before
		} else if f.Phi < f.Read {
			f.Phi = f.Read
		}
		st.SetFrame(i, f)
		for k := q.First; k < q.Last; k++ {
			if len(c.visits[k]) > 0 {
				st.Place(k, c.visits[k])
			}
		}
	}
	if st.Sum[model.Coverage] != 0 {
		panic("solver: a bid filled in whole leaves something out")
	}
	return st
}
