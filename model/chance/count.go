package chance

import (
	"cmp"
	"slices"

	"primaprova/model"
	"primaprova/model/memory"
)

// count sums up runs. Whole numbers, so that their order makes no difference.
type count struct {
	t       *table
	ready   []int
	worked  []int
	missing []int   // by slot: see table.slots
	days    [][]int // by part and day: runs in which it became ready on that day
	checks  [][]int // by part: runs in which it is not ready, by how many of its passages lack their last check alone
	more    [][]int // the same of those that lack more
	least   [][]int // by part: runs by the visits of the passage that was worked at least

	holds []int           // by part: passages that hold at its date, in millionths, added over the runs
	asked []int           // by part: passages in these sums
	first [][]memory.Case // by part: its passages in the first run

	undone, lacks []int // of one run, by passage: visits that are not done, and those among them that are no check
	latest        []int // of one run, by part: the last day of something of it
	open, unread  []bool
	parts         []far
}

// far is how far a part got.
type far struct {
	checks, more int // passages that lack their last check alone, and more than that
	least        int // visits of the passage that was worked at least
	worked       bool
}

// most is how many passages or visits are told apart; more are as good as that.
const most = 24

func newCount(t *table) *count {
	n, q := len(t.parts), len(t.passages)
	c := &count{t: t, ready: make([]int, n), worked: make([]int, n), missing: make([]int, t.slots), days: make([][]int, n), checks: make([][]int, n), more: make([][]int, n), least: make([][]int, n),
		holds: make([]int, n), asked: make([]int, n), first: make([][]memory.Case, n), undone: make([]int, q), lacks: make([]int, q), latest: make([]int, n), open: make([]bool, n), unread: make([]bool, n), parts: make([]far, n)}
	for i := range n {
		c.days[i] = make([]int, t.days)
		c.checks[i], c.more[i], c.least[i] = make([]int, most+1), make([]int, most+1), make([]int, most+1)
	}
	return c
}

// add counts one run.
func (c *count) add(g *game) {
	t := c.t
	clear(c.undone)
	clear(c.lacks)
	clear(c.latest)
	clear(c.open)
	clear(c.unread)
	missed := none
	for k := range g.tasks {
		v := &g.tasks[k]
		if !v.counts {
			continue
		}
		if day := g.done[k]; day != none {
			c.latest[v.part] = max(c.latest[v.part], day)
			continue
		}
		c.open[v.part] = true
		c.unread[v.part] = c.unread[v.part] || v.passage == none
		if v.passage != none {
			c.undone[v.passage]++
			if !v.check {
				c.lacks[v.passage]++
			}
		}
		if v.slot != none && v.slot != missed { // tasks of one slot stand together
			missed = v.slot
			c.missing[v.slot]++
		}
	}
	for i := range t.parts {
		p := &t.parts[i]
		if !c.open[i] {
			c.ready[i]++
			if len(p.played) > 0 {
				c.days[i][c.latest[i]]++
			}
		}
	}
	c.degrees(g)
}

// degrees counts how far each part got in one run.
func (c *count) degrees(g *game) {
	t := c.t
	parts := c.parts
	for i := range parts {
		parts[i] = far{least: most, worked: true}
	}
	for q := range t.passages {
		p := &t.passages[q]
		done, needs := g.stands[q].visits, p.needs
		if q >= t.unfound {
			if done+c.undone[q] == 0 {
				continue
			}
			needs = max(1, len(t.found[g.hard[q-t.unfound]])-1)
		} else if !p.asked {
			continue
		}
		f := &parts[p.part]
		f.worked = f.worked && done >= needs
		if q < t.unfound {
			f.least = min(f.least, done)
		}
		c.hold(g, q)
		switch {
		case c.lacks[q] > 0:
			f.more++
		case c.undone[q] > 0:
			f.checks++
		}
	}
	for i := range t.parts {
		f := &parts[i]
		if f.worked && !c.unread[i] {
			c.worked[i]++
		}
		c.least[i][f.least]++
		if c.open[i] {
			c.checks[i][min(most, f.checks)]++
			c.more[i][min(most, f.more)]++
		}
	}
}

// hold counts how surely a passage holds when it is played on its part's date.
func (c *count) hold(g *game, q int) {
	part, at := c.t.passages[q].part, &g.stands[q]
	c.asked[part]++
	if at.visits == 0 || c.t.guess.Memory == nil {
		return
	}
	x := memory.Case{Hard: g.difficulty(q), Visits: at.visits, Failed: at.failed, Gap: max(1, c.t.parts[part].due-at.last)}
	c.holds[part] += int(1e6*c.t.guess.Memory.Holds(x) + 0.5)
	if g.run == 0 {
		c.first[part] = append(c.first[part], x)
	}
}

func (c *count) merge(o *count) {
	for i := range c.ready {
		c.holds[i] += o.holds[i]
		c.asked[i] += o.asked[i]
		c.first[i] = append(c.first[i], o.first[i]...)
		c.ready[i] += o.ready[i]
		c.worked[i] += o.worked[i]
		for d, n := range o.days[i] {
			c.days[i][d] += n
		}
		for k := range most + 1 {
			c.checks[i][k] += o.checks[i][k]
			c.more[i][k] += o.more[i][k]
			c.least[i][k] += o.least[i][k]
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
			Runs: runs, Left: len(p.played), LeftOut: p.leftOut, Worked: float64(c.worked[i]) / float64(runs), Checks: middle(c.checks[i], 2), More: middle(c.more[i], 2), Least: middle(c.least[i], 10)}
		if m := c.t.guess.Memory; m != nil && c.asked[i] > 0 {
			v.Holds = float64(c.holds[i]) / 1e6 / float64(c.asked[i])
			_, deviation := m.Expect(c.first[i])
			v.Doubt = deviation / max(1, float64(len(c.first[i])))
		}
		if v.Left == 0 { // no luck is in it
			if v.Error = 0; v.LeftOut > 0 {
				v.Ready, v.Worked = 0, 0 // there is work, and none of it is planned
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

// middle gives the number that at least one in so many of the runs counted does not pass.
func middle(counts []int, of int) int {
	all, sum := 0, 0
	for _, n := range counts {
		all += n
	}
	for k, n := range counts {
		if sum += n; of*sum >= all {
			return k
		}
	}
	return 0
}
