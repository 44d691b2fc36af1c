// Package chance says how sure a plan is: it plays the days ahead through many
// times, by luck, and counts in how many of them each part is ready at its first
// rehearsal. Here stand what may go wrong, how a player then goes on, and the
// counting. It chooses no day: the plan does, and what becomes of it is the rule
// below. It reads and writes no file.
//
// # What may go wrong
//
// Two things (Guess; GuessOf takes them from the record):
//
//   - A day is lost, each with the same chance and apart from the others: nothing
//     planned is done on it. Services are no matter of ours.
//   - A session takes longer or shorter than planned. All work of one kind takes
//     a share of its minutes that nobody knows yet (model.Spread.Mean, off by
//     Ratio: normal, kept within 0.2 and 3); beside that each session is off by
//     itself. What it takes is a gamma variable of mean share·m and variance
//     share·m·Minute. So minutes are never negative, are more often a little
//     short and sometimes much too long, and a passage cut in two is as sure as
//     the whole: sums of such variables are of the same kind.
//
// What is left out of it: illness that takes several days running, passages that
// don't stick and are taken up again, parts that come late. That makes chances
// too high; that nothing is planned again (below) makes them too low. They are
// good for comparing, and no promise.
//
// # How the player goes on
//
// Day by day, from the first day ahead:
//
//   - The work of a day is what is planned on it and what waits from days before.
//     What is due first is done first, among equals in the order of the plan.
//   - A session that takes longer runs on while the day has room: its cap less
//     services and warm-up, and what the free hours hold. What doesn't fit is done
//     on the next day that has room, beside what is planned there. One that takes
//     less leaves room to what waits; nothing is taken up before its planned day.
//   - The rules hold: listening, read-through, visits in their order and at their
//     least gaps, all once before any a third time, the limits of a day. A session
//     that is late therefore makes those after it late.
//   - What is not done when it is due is never done.
//
// That is less clever than planning again, which would move other work out of
// the way.
//
// # Ready
//
// A part is ready in a run when everything of it that is planned to be played is
// done before it is due: the read-through and the visits. What a plan leaves out
// is not asked for, as long as it leaves anything in; Chance.LeftOut says how much
// that is.
//
// The numbers drawn for a day, a kind and a session are the same in every call
// with the same seed and season, whatever the plan and whatever Change asks
// (common random numbers). So differences between two calls are far surer than
// either chance.
package chance

import (
	"cmp"
	"math"
	"runtime"
	"slices"
	"sync"

	"primaprova/model"
)

// Options says how often and with what luck a plan is played. The zero value is
// 1000 times, by the record's guess.
type Options struct {
	Runs   int    // 0: 1000
	Seed   uint64 // another seed, other luck
	Guess  *Guess // nil: GuessOf
	Change Change // what is supposed to be otherwise
}

// Change is what would be otherwise, without planning again.
type Change struct {
	More    map[model.Date]model.Minutes // minutes by which the caps of these days are higher (none of rest days and days off)
	Earlier map[string]int               // part name -> days by which its sessions are taken up earlier; never before today or its arrival
	NoLost  bool                         // no day is lost
	Exact   bool                         // everything takes its planned minutes
}

// Chance is how sure one part is.
type Chance struct {
	Part    string
	Due     model.Date // the last date that something planned of it is for: the first rehearsal, if it came in time
	Ready   float64    // share of the runs in which it is ready, 0..1
	Error   float64    // standard error of Ready; 0 only where nothing is left to do
	Runs    int
	Left    int        // planned sessions of playing that lie ahead; 0: nothing is left to do
	LeftOut int        // sessions that the plan leaves out
	Usually model.Date // the day by which it is ready in half of the runs, planned work only; zero: it is not
	Missing []Missing  // passages that are missing in some runs, the most often missing first
}

// Missing is a passage that is not ready in some runs.
type Missing struct {
	Passage string // the part's name where it is the read-through
	Share   float64
}

const ordinaryRuns = 1000

// Of plays a plan and gives the chance of each part whose first rehearsal lies
// ahead, in the order of the season file. The season is the one with its record
// (Season.With); the history may be nil. The same arguments give the same
// chances.
func Of(s *model.Season, h *model.History, p *model.Plan, o Options) []Chance {
	t := newTable(s, h, p, &o)
	runs := o.Runs
	if runs <= 0 {
		runs = ordinaryRuns
	}
	var mu sync.Mutex
	sum := newCount(t)
	share(runs, func(from, to int) {
		g, c := newGame(t), newCount(t)
		for run := from; run < to; run++ {
			g.draw(uint64(run))
			g.play()
			c.add(g)
		}
		mu.Lock()
		defer mu.Unlock()
		sum.merge(c) // whole numbers: their order makes no difference
	})
	return sum.chances(runs)
}

// share plays runs with as many hands as there are.
func share(runs int, play func(from, to int)) {
	hands := min(runtime.GOMAXPROCS(0), runs)
	var wg sync.WaitGroup
	for i := range hands {
		wg.Go(func() { play(runs*i/hands, runs*(i+1)/hands) })
	}
	wg.Wait()
}

// Weakest gives the chances in the order of how sure they are, the least sure
// first, among equals the one that is due first.
func Weakest(all []Chance) []Chance {
	out := slices.Clone(all)
	slices.SortStableFunc(out, func(a, b Chance) int { return cmp.Or(cmp.Compare(a.Ready, b.Ready), cmp.Compare(a.Due, b.Due)) })
	return out
}

// standardError gives the standard error of a share seen x times in n runs. At
// the ends, where the plain formula says 0, one more of each kind is supposed
// (Laplace's rule of succession).
func standardError(x, n int) float64 {
	share := float64(x+1) / float64(n+2)
	return math.Sqrt(share * (1 - share) / float64(n))
}

// count sums up runs.
type count struct {
	t       *table
	ready   []int
	missing []int   // by slot: see table.slots
	days    [][]int // by part and day: runs in which it became ready on that day
}

func newCount(t *table) *count {
	c := &count{t: t, ready: make([]int, len(t.parts)), missing: make([]int, t.slots), days: make([][]int, len(t.parts))}
	for i := range c.days {
		c.days[i] = make([]int, t.days)
	}
	return c
}

func (c *count) add(g *game) {
	for i := range c.t.parts {
		p := &c.t.parts[i]
		last, ok := 0, true
		for _, k := range p.played {
			if day := g.done[k]; day < 0 {
				ok = false
			} else {
				last = max(last, day)
			}
		}
		if ok {
			c.ready[i]++
			if len(p.played) > 0 {
				c.days[i][last]++
			}
			continue
		}
		seen := -1
		for _, k := range p.played { // tasks of one slot stand together
			if slot := c.t.tasks[k].slot; g.done[k] < 0 && slot != seen {
				seen = slot
				c.missing[slot]++
			}
		}
	}
}

func (c *count) merge(o *count) {
	for i := range c.ready {
		c.ready[i] += o.ready[i]
		for d, n := range o.days[i] {
			c.days[i][d] += n
		}
	}
	for i, n := range o.missing {
		c.missing[i] += n
	}
}

func (c *count) chances(runs int) []Chance {
	var out []Chance
	for i := range c.t.parts {
		p := &c.t.parts[i]
		if p.due <= c.t.today && len(p.played) == 0 {
			continue // past
		}
		v := Chance{Part: p.name, Due: c.t.from + model.Date(p.last), Ready: float64(c.ready[i]) / float64(runs), Error: standardError(c.ready[i], runs),
			Runs: runs, Left: len(p.played), LeftOut: p.leftOut}
		if v.Left == 0 { // no luck is in it
			if v.Error = 0; v.LeftOut > 0 {
				v.Ready = 0 // there is work, and none of it is planned
			}
		}
		sum := 0
		for d, n := range c.days[i] {
			if sum += n; 2*sum >= runs && n > 0 {
				v.Usually = c.t.from + model.Date(d)
				break
			}
		}
		seen := map[int]bool{}
		for _, k := range p.played {
			task := &c.t.tasks[k]
			if n := c.missing[task.slot]; n > 0 && !seen[task.slot] {
				seen[task.slot] = true
				v.Missing = append(v.Missing, Missing{task.of, float64(n) / float64(runs)})
			}
		}
		slices.SortStableFunc(v.Missing, func(a, b Missing) int { return cmp.Compare(b.Share, a.Share) })
		out = append(out, v)
	}
	return out
}
