package oracle

import (
	"math/rand/v2"
	"slices"

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
	for try := range p.Params.DueTries {
		for i := range list {
			luck := 0
			if try > 0 {
				luck = rng.IntN(64 * p.Params.DueSpread)
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
	return nil, p.Params.DueTries, false
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
