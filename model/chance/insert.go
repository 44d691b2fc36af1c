package chance

import "slices"

// earliest gives the first day on which a task's turn can be, by what was done
// or, planned, by where the rest now stands; not ok where it has no turn yet.
func (g *game) earliest(k int, planned bool) (day int, ok bool) {
	on := func(k int) int { // the day of another
		if g.done[k] == none && planned {
			return g.at[k]
		}
		return g.done[k]
	}
	v := &g.tasks[k]
	day = v.since
	switch {
	case v.after != none:
		before := on(v.after)
		if before == none {
			return 0, false
		}
		day = max(day, before+g.gap(k, before))
	case v.before != never:
		day = max(day, v.before+g.gap(k, v.before))
	}
	if !v.third {
		return day, true
	}
	if g.round[v.part] == 0 {
		return max(day, g.closed[v.part]+1), true
	}
	for _, first := range g.t.parts[v.part].firsts {
		at := on(first)
		if at == none {
			return 0, false
		}
		day = max(day, at+1)
	}
	return day, true
}

// gap gives the least days from a visit done on a day to the one after it. Where
// gaps are shortened, as model does it: while those of the visits that are left
// are too many for the days until they should be done, the longest is a day
// shorter, of equals the latest.
func (g *game) gap(k, from int) int {
	v := &g.tasks[k]
	if v.visit == 0 || !g.t.short || v.least <= 1 {
		return v.least
	}
	var gaps [16]int
	n, sum := 0, 0
	for j := k; j != none && n < len(gaps); j = g.tasks[j].next {
		gaps[n] = g.tasks[j].least
		sum += gaps[n]
		n++
	}
	for left := v.due - g.t.parts[v.part].ready - from; sum > left; sum-- {
		longest := 0
		for i := range n {
			if gaps[i] >= gaps[longest] {
				longest = i
			}
		}
		if gaps[longest] <= 1 {
			break
		}
		gaps[longest]--
	}
	return gaps[0]
}

// full is more minutes than any day has.
const full = 1 << 20

// fits tells whether a day has room for a task beside what stands on it.
func (g *game) fits(k, d int) bool { return g.lacks(k, d) <= nothing }

// lacks gives the minutes by which a day has too little room for a task, many
// where no minutes would help.
func (g *game) lacks(k, d int) float64 {
	v, r, l := &g.tasks[k], &g.room[d], &g.load[d]
	if v.visit == 1 && !r.opens || v.visit > 0 && l.visits >= r.visits {
		return full
	}
	short := g.est[k] - (r.held - l.playing - l.listening)
	if v.stage.Playing() {
		return max(short, g.est[k]-(r.playing-l.playing))
	}
	return max(short, g.est[k]-(r.listening-l.listening))
}

// put gives a task its day, takeOff takes it off, set changes what is thought to be left of it.
func (g *game) put(k, d int) {
	g.at[k] = d
	g.wait(k, d)
	g.days[d] = append(g.days[d], k)
	g.load[d].add(&g.tasks[k], g.est[k], 1)
}

func (g *game) takeOff(k int) {
	d := g.at[k]
	if d == none {
		return
	}
	g.at[k] = none
	i := slices.Index(g.days[d], k)
	g.days[d] = slices.Delete(g.days[d], i, i+1)
	g.load[d].add(&g.tasks[k], g.est[k], -1)
}

func (g *game) set(k int, minutes float64) {
	if d := g.at[k]; d != none {
		v := &g.tasks[k]
		g.load[d].add(v, g.est[k], -1)
		g.load[d].add(v, minutes, 1)
	}
	g.est[k] = minutes
}

// wait notes that a task stands on a day later than planned.
func (g *game) wait(k, d int) {
	if d > g.tasks[k].planned && !slices.Contains(g.late, k) {
		g.late = append(g.late, k)
	}
}

// insert finds a day for a task from one on: the first with room that leaves the
// visit after it where it stands, else the first with room; else one where
// something can be moved for it, or let go. Visits after it that come too soon then are
// found other days, too. Where there is no day it is let go with them.
func (g *game) insert(k, from int) bool {
	d := g.find(k, from)
	if d == none {
		d = g.makeRoom(k, from)
	}
	if d == none {
		g.letGo(k)
		return false
	}
	g.put(k, d)
	if next := g.tasks[k].next; next != none && g.done[next] == none && g.at[next] != none && g.at[next] < d+g.gap(next, d) {
		g.takeOff(next)
		g.insert(next, from)
	}
	return true
}

// find gives the day for a task that has room; none where none has.
func (g *game) find(k, from int) int {
	first, ok := g.earliest(k, true)
	if !ok {
		return none
	}
	for d := max(first, from); d < g.tasks[k].due; d++ {
		if g.fits(k, d) {
			return d
		}
	}
	return none
}

// letGo gives up a task, and the visits after it.
func (g *game) letGo(k int) {
	for ; k != none; k = g.tasks[k].next {
		if g.done[k] != none {
			continue
		}
		g.takeOff(k)
		if !slices.Contains(g.gone, k) {
			g.gone = append(g.gone, k)
		}
		g.wait(k, g.tasks[k].due)
	}
}

// again finds days for what was let go, where there are any now.
func (g *game) again(from int) {
	g.gone = slices.DeleteFunc(g.gone, func(k int) bool {
		if g.at[k] != none || g.done[k] != none || g.tasks[k].due <= from {
			return true
		}
		d := g.find(k, from)
		if d != none {
			g.put(k, d)
		}
		return d != none
	})
}
