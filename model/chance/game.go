package chance

import "slices"

// game plays a table. It is a workspace: one for each goroutine.
type game struct {
	t       *table
	lost    []bool
	left    []float64 // minutes that a task still takes
	done    []int     // the day on which it was done; none
	waiting []int     // tasks taken up and not done, what is due first first
	round   []int     // by part: first visits not done yet
	closed  []int     // by part: the day on which the first round was done
	drawn   []float64 // share of its minutes that each kind takes
}

func newGame(t *table) *game {
	return &game{t: t, lost: make([]bool, t.days), left: make([]float64, len(t.tasks)), done: make([]int, len(t.tasks)),
		round: make([]int, len(t.parts)), closed: make([]int, len(t.parts)), drawn: make([]float64, len(t.kinds))}
}

// leastShare and mostShare bound what a kind of work may take of its minutes:
// four times the ordinary doubt downwards.
const leastShare, mostShare = 0.2, 3

// draw sets what is lost and how long things take in one run.
func (g *game) draw(run uint64) {
	t := g.t
	r := luck(t.seed, run)
	for d := range g.lost {
		g.lost[d] = r.Float64() < t.lost
	}
	for i, k := range t.kinds {
		g.drawn[i] = min(mostShare, max(leastShare, k.Mean+k.Ratio*r.NormFloat64()))
	}
	for i := range t.wanted {
		w := &t.wanted[i]
		mean := g.drawn[w.kind] * w.minutes
		if scale := t.kinds[w.kind].Minute; scale > 0 && mean > 0 {
			mean = scale * gamma(r, mean/scale)
		}
		switch {
		case w.task == none:
		case t.exact:
			g.left[w.task] = w.minutes
		default:
			g.left[w.task] = mean
		}
	}
}

// nothing is so few minutes that they are none: sums of fractions of minutes
// are not exact.
const nothing = 1e-6

// play goes through the days as the package comment says.
func (g *game) play() {
	t := g.t
	for k := range g.done {
		g.done[k] = none
	}
	for i := range t.parts {
		g.round[i], g.closed[i] = t.parts[i].round, none
	}
	g.waiting = g.waiting[:0]
	for d := t.today; d < t.days; d++ {
		g.takeUp(t.byDay[d])
		g.waiting = slices.DeleteFunc(g.waiting, func(k int) bool { return t.tasks[k].due <= d })
		if !g.lost[d] && len(g.waiting) > 0 {
			g.day(d)
		}
	}
}

// takeUp puts a day's tasks among those that wait, in their order.
func (g *game) takeUp(tasks []int) {
	if len(tasks) == 0 {
		return
	}
	sorted := len(g.waiting) == 0
	g.waiting = append(g.waiting, tasks...)
	if !sorted {
		slices.SortFunc(g.waiting, func(a, b int) int { return g.t.rank[a] - g.t.rank[b] })
	}
}

// day does what can be done on one day.
func (g *game) day(d int) {
	t := g.t
	room := t.room[d]
	kept := g.waiting[:0]
	for _, k := range g.waiting {
		if !g.work(k, d, &room) {
			kept = append(kept, k)
		}
	}
	g.waiting = kept
}

// work does of a task what the day has room for, and tells whether it is done.
func (g *game) work(k, d int, room *dayRoom) bool {
	v := &g.t.tasks[k]
	if !g.may(v, d) {
		return false
	}
	kind := &room.playing
	if !v.stage.Playing() {
		kind = &room.listening
	}
	m := min(g.left[k], *kind, room.held)
	if g.left[k] > nothing && m <= nothing {
		return false
	}
	if v.visit > 0 {
		if room.visits == 0 || v.visit == 1 && !room.opens {
			return false
		}
		room.visits--
	}
	g.left[k] -= m
	*kind -= m
	room.held -= m
	if g.left[k] > nothing {
		return false
	}
	g.done[k] = d
	if v.first {
		if g.round[v.part]--; g.round[v.part] == 0 {
			g.closed[v.part] = d
		}
	}
	return true
}

// may tells whether a task's turn can be on a day.
func (g *game) may(v *task, d int) bool {
	if d < v.since {
		return false
	}
	if v.after != none {
		if before := g.done[v.after]; before == none || d < before+v.least {
			return false
		}
	}
	return !v.third || g.round[v.part] == 0 && g.closed[v.part] < d
}
