package chance

import (
	"cmp"
	"math"
	"slices"
)

// makeRoom looks for a day on which others leave room for a task: one that can be
// moved to another day without moving a third, else those that are worth least by
// the minute, if together they are worth less than this one.
func (g *game) makeRoom(k, from int) int {
	first, ok := g.earliest(k, true)
	if !ok {
		return none
	}
	v := &g.tasks[k]
	best, least := none, v.value*g.est[k]
	spare := 0.0 // the most that any day has left: nothing longer can be moved
	for d := from; d < min(v.due+fortnight, g.t.days); d++ {
		spare = max(spare, g.room[d].playing-g.load[d].playing)
	}
	first = max(first, from)
	for d := first; d < min(v.due, first+fortnight); d++ {
		if v.visit == 1 && !g.room[d].opens {
			continue
		}
		need := g.lacks(k, d)
		g.lower = g.lower[:0]
		for _, x := range g.days[d] {
			y := &g.tasks[x]
			if y.stage.Playing() != v.stage.Playing() || need >= full && y.visit == 0 {
				continue
			}
			if g.est[x] <= spare+nothing && (need >= full || g.est[x] >= need-nothing) {
				if e := g.elsewhere(x, d, from); e != none {
					g.takeOff(x)
					g.put(x, e)
					if g.fits(k, d) {
						return d
					}
					g.takeOff(x)
					g.put(x, d)
				}
			}
			if y.value < v.value {
				g.lower = append(g.lower, x)
			}
		}
		if cost := g.cost(need); cost < least {
			best, least = d, cost
		}
	}
	if best == none {
		return none
	}
	g.lower = g.lower[:0]
	for _, x := range g.days[best] {
		if y := &g.tasks[x]; y.stage.Playing() == v.stage.Playing() && y.value < v.value {
			g.lower = append(g.lower, x)
		}
	}
	slices.SortFunc(g.lower, g.cheaper)
	for _, x := range g.lower {
		if g.fits(k, best) {
			break
		}
		g.letGo(x)
	}
	if !g.fits(k, best) {
		return none
	}
	return best
}

// fortnight is how many days are looked at for room to be made: nobody turns a whole
// season around for one session.
const fortnight = 14

// cost gives what the least worthy of the tasks in g.lower are worth that leave so many
// minutes; more than anything where they don't.
func (g *game) cost(need float64) float64 {
	slices.SortFunc(g.lower, g.cheaper)
	sum := 0.0
	for i, x := range g.lower {
		sum += g.tasks[x].value * g.est[x]
		if need -= g.est[x]; need <= nothing || need >= full/2 && i == 0 {
			return sum
		}
	}
	return math.Inf(1)
}

// cheaper puts what is worth least by the minute first.
func (g *game) cheaper(a, b int) int {
	return cmp.Or(cmp.Compare(g.tasks[a].value, g.tasks[b].value), g.sooner(b, a))
}

// elsewhere gives another day with room for a task, between the visits around it.
func (g *game) elsewhere(k, but, from int) int {
	v := &g.tasks[k]
	first, ok := g.earliest(k, true)
	if !ok || v.first {
		return none // moving a first visit moves every third one
	}
	first = max(first, from)
	for d := first; d < min(v.due, first+fortnight); d++ {
		if next := v.next; next != none && g.done[next] == none && g.at[next] != none && d+g.gap(next, d) > g.at[next] {
			return none
		}
		if d != but && g.fits(k, d) {
			return d
		}
	}
	return none
}
