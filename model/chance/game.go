package chance

import (
	"cmp"
	"math"
	"slices"

	"primaprova/model"
)

// game plays a table. It is a workspace: one for each goroutine.
type game struct {
	t      *table
	run    uint64
	tasks  []task // those of the table, then what came up in this run
	lost   []bool
	left   []float64 // minutes that a task still takes
	est    []float64 // minutes that the player thinks it still takes
	done   []int     // the day on which it was done; none
	at     []int     // the day on which it now stands; none
	days   [][]int   // tasks by the day on which they now stand
	load   []load
	room   []dayRoom
	played []float64 // by day, services and warm-up with it
	gone   []int     // tasks that found no day
	late   []int     // tasks that stand later than planned
	spare  []int     // for the next such list
	lower  []int     // of one day: tasks that are worth less than one
	failed []int     // of one day: tasks that were not done
	round  []int     // by part: first visits not done yet
	closed []int     // by part: the day on which the first round was done
	comes  []int     // by part: the day on which it is there
	drawn  []float64
	stands []stand // by passage
	hard   []int   // of passages that were found
}

func newGame(t *table) *game {
	return &game{t: t, tasks: slices.Clone(t.tasks), lost: make([]bool, t.days), days: make([][]int, t.days), load: make([]load, t.days), room: make([]dayRoom, t.days), played: make([]float64, t.days),
		round: make([]int, len(t.parts)), closed: make([]int, len(t.parts)), comes: make([]int, len(t.parts)), drawn: make([]float64, len(t.kinds)),
		stands: make([]stand, len(t.passages)), hard: make([]int, len(t.passages)-t.unfound)}
}

// leastShare and mostShare bound what a kind of work may take of its minutes:
// four times the ordinary doubt downwards.
const leastShare, mostShare = 0.2, 3

// draw sets what is lost and how long things take in one run.
func (g *game) draw(run uint64) {
	t := g.t
	g.run = run
	r := luck(t.seed, run)
	lost, stays := t.guess.Lost, max(t.guess.Lost, t.guess.Stays)
	begins := 0.0
	if lost < 1 {
		begins = min(1, lost*(1-stays)/(1-lost)) // so that the share of lost days is the one meant
	}
	before := t.stayed
	for d := range g.lost {
		u := r.Float64()
		if d < t.today {
			continue
		}
		g.lost[d] = u < begins || before && u < stays
		before = g.lost[d]
	}
	all := r.NormFloat64() // a slow player is slow in all kinds: half of the doubt is common to them
	for i, k := range t.kinds {
		g.drawn[i] = min(mostShare, max(leastShare, k.Mean+k.Ratio*(all+r.NormFloat64())*math.Sqrt2/2))
	}
	n := len(t.tasks)
	g.tasks, g.left, g.est, g.done, g.at = g.tasks[:n], sized(g.left, n), sized(g.est, n), sized(g.done, n), sized(g.at, n)
	for i := range t.wanted {
		w := &t.wanted[i]
		m := g.takes(r, w.kind, w.minutes)
		if w.task != none {
			g.left[w.task] = m
		}
	}
	for i := range t.parts {
		g.comes[i] = 0
		if p := &t.parts[i]; p.awaited && uniform(t.seed, run, lateLuck, i, 0) < t.guess.Late {
			u := uniform(t.seed, run, lateLuck, i, 1)
			days := 1 + int(math.Log(1-u)/math.Log(1-1/max(1.01, t.guess.LateDays)))
			g.comes[i] = p.comes + days
		}
	}
}

func sized[T any](s []T, n int) []T { return slices.Grow(s[:0], n)[:n] }

// nothing is so few minutes that they are none: sums of fractions of minutes
// are not exact.
const nothing = 1e-6

// play goes through the days up to one, t.days for all, as the package comment says.
func (g *game) play(days int) {
	t := g.t
	for k := range t.tasks {
		g.done[k], g.at[k], g.est[k] = none, none, t.tasks[k].minutes
	}
	for d := range g.days {
		g.days[d] = append(g.days[d][:0], t.byDay[d]...)
		for _, k := range g.days[d] {
			g.at[k] = d
		}
	}
	copy(g.load, t.load)
	copy(g.room, t.room)
	copy(g.played, t.spells.known)
	for i := range t.parts {
		g.round[i], g.closed[i] = len(t.parts[i].firsts), none
	}
	for i := range t.passages {
		g.stands[i] = t.passages[i].stand
	}
	g.gone, g.late = g.gone[:0], g.late[:0]
	for d := t.today; d < days; d++ {
		g.day(d)
	}
}

// day does what can be done on one day, and finds other days for the rest.
func (g *game) day(d int) {
	t := g.t
	g.failed = g.failed[:0]
	list := g.days[d]
	slices.SortFunc(list, g.sooner)
	room := g.room[d]
	for _, k := range list {
		if g.lost[d] || !g.work(k, d, &room) {
			g.failed = append(g.failed, k)
		}
	}
	if !g.lost[d] && len(g.late) > 0 {
		// What stands later than planned, or nowhere, has its day where others took
		// less than was thought.
		slices.SortFunc(g.late, g.sooner)
		late := g.late
		g.late = g.spare[:0]
		for i, k := range late {
			if room.playing <= nothing || room.held <= nothing {
				g.late = append(g.late, late[i:]...)
				break
			}
			if g.done[k] != none || g.tasks[k].due <= d {
				continue
			}
			if g.at[k] != d && g.work(k, d, &room) {
				g.takeOff(k)
			} else {
				g.late = append(g.late, k)
			}
		}
		g.spare = late
	}
	for _, k := range g.failed {
		g.takeOff(k)
	}
	if g.lost[d] || t.spells.idle[d] {
		g.easeIn(d)
		slices.SortFunc(g.failed, g.sooner)
	} else {
		g.played[d] = t.inAll(d, g.room[d].playing-room.playing)
	}
	for _, k := range g.failed {
		if g.at[k] == none {
			g.insert(k, d+1)
		}
	}
	g.again(d + 1)
}

// sooner puts what is due first first, among equals in the order of the plan.
func (g *game) sooner(a, b int) int {
	x, y := &g.tasks[a], &g.tasks[b]
	return cmp.Or(cmp.Compare(x.due, y.due), cmp.Compare(x.order, y.order))
}

// work does of a task what the day has room for, and tells whether it is done.
func (g *game) work(k, d int, room *dayRoom) bool {
	v := &g.tasks[k]
	if v.due <= d || d < g.comes[v.part] {
		return false
	}
	if first, ok := g.earliest(k, false); !ok || d < first {
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
		g.set(k, max(g.est[k]-m, g.est[k]/4)) // begun: so much is left, as it seems
		return false
	}
	g.done[k] = d
	if v.first {
		if g.round[v.part]--; g.round[v.part] == 0 {
			g.closed[v.part] = d
		}
	}
	switch {
	case v.check:
		g.checked(k, d)
	case v.stage == model.ReadStage:
		g.finds(k, d)
	}
	if v.passage != none {
		at := &g.stands[v.passage]
		at.visits, at.last = at.visits+1, d
	}
	return true
}
