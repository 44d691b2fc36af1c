package solver

import (
	"cmp"
	"math"
	"slices"

	"primaprova/model"
)

// brute tries every plan of a problem: every choice of days for a part's stages
// and for each passage's visits. It passes over what cannot be better than
// the best plan so far, comparing in the order of the wishes; apart from that
// it knows no mathematics.
type brute struct {
	p         *problem
	items     []bruteItem
	least     []score // of all items from i on, each alone, in the order of the wishes
	eachLeast []score // the same, each wish by itself
	planned   []model.Minutes
	listen    []int
	visits    []int
	rounds    []bruteRound // by part
	now       score        // of the items chosen, body apart
	best      score
	free      score // up to this a wish does not count
}

// bruteItem is a part's stages, or one passage, with every choice of days, the
// best first.
type bruteItem struct {
	part    int
	passage int // none for stages
	choices []bruteChoice
}

type bruteChoice struct {
	days  []int // stages: listening, read-through, recordings; none where left out
	worth score
}

// bruteRound is what the passages of a part must agree on.
type bruteRound struct {
	read         int // day of the read-through; none if left out, before if done
	first, third int // latest first visit, earliest third
}

func newBrute(p *problem) *brute {
	b := &brute{p: p, planned: slices.Clone(p.fixed), listen: make([]int, p.days), visits: make([]int, p.days)}
	for i := range b.best {
		b.best[i] = math.MaxInt64
	}
	for i := range p.parts {
		q := &p.parts[i]
		b.items = append(b.items, bruteItem{i, none, p.everyStages(q)})
		b.rounds = append(b.rounds, bruteRound{first: math.MinInt, third: math.MaxInt})
		for k := q.first; k < q.last; k++ {
			v := &p.passages[k]
			b.items = append(b.items, bruteItem{i, k, p.everySchedule(v, nil)})
		}
	}
	b.least, b.eachLeast = make([]score, len(b.items)+1), make([]score, len(b.items)+1)
	for i := len(b.items) - 1; i >= 0; i-- {
		slices.SortStableFunc(b.items[i].choices, func(x, y bruteChoice) int { return compareScores(x.worth, y.worth) })
		b.least[i] = b.least[i+1].plus(b.items[i].choices[0].worth)
		b.eachLeast[i] = b.eachLeast[i+1]
		for w := range b.eachLeast[i] {
			by := func(x, y bruteChoice) int { return cmp.Compare(x.worth[w], y.worth[w]) }
			b.eachLeast[i][w] += slices.MinFunc(b.items[i].choices, by).worth[w]
		}
	}
	return b
}

func compareScores(a, b score) int {
	for i := range a {
		if c := cmp.Compare(a[i], b[i]); c != 0 {
			return c
		}
	}
	return 0
}

// everyStages lists the choices of days for a part's stages.
func (p *problem) everyStages(q *part) (out []bruteChoice) {
	days := func(n, minutes, lo int) []int {
		out := []int{none}
		for d := lo; d <= q.winHi && minutes > 0; d++ {
			if (q.pin[n] == none || q.pin[n] == d) && q.refused[n] != d {
				out = append(out, d)
			}
		}
		return out
	}
	for _, listen := range days(0, q.listen, q.winLo) {
		for _, read := range days(1, q.read, q.winLo) {
			if read != none && q.listen > 0 && (listen == none || listen > read) {
				continue
			}
			for _, rec := range days(2, q.rec, q.recLo) {
				if rec != none && !q.readDone && (read == none || rec <= read) {
					continue
				}
				c := bruteChoice{days: []int{listen, read, rec}}
				for n, d := range c.days {
					switch {
					case [3]int{q.listen, q.read, q.rec}[n] == 0:
					case d == none:
						c.worth[model.Coverage] += int64([3]int{q.listenV, q.readV, q.recV}[n])
					default:
						c.worth[model.Closeness] += p.distance(q.stand[n], d)
					}
				}
				out = append(out, c)
			}
		}
	}
	return out
}

// distance gives what it costs to plan on day d what stood on another: a day's
// move costs 3 in the next seven days, 2 in the fortnight after them, then 1; that it
// moves at all counts as three days more.
func (p *problem) distance(stand, d int) int64 {
	weight := int64(1)
	switch {
	case stand == none || stand == d:
		return 0
	case stand < p.today+7:
		weight = 3
	case stand < p.today+21:
		weight = 2
	}
	return weight * int64(3+max(stand-d, d-stand))
}

// everySchedule lists the choices of days for a passage's visits that begin
// with the days given.
func (p *problem) everySchedule(q *passage, days []int) []bruteChoice {
	k := len(days)
	c := bruteChoice{days: slices.Clone(days)}
	for n, v := range q.visits {
		if n >= k {
			c.worth[model.Coverage] += int64(v.value)
			continue
		}
		c.worth[model.Closeness] += p.distance(v.stand, days[n])
		if n > 0 {
			c.worth[model.Spacing] += int64(max(0, days[n]-days[n-1]-v.preferred))
		} else if q.done > 0 {
			c.worth[model.Spacing] += int64(max(0, days[0]-q.since-v.preferred))
		}
	}
	if k > 0 {
		c.worth[model.ReadyBy] = int64(max(0, days[k-1]-q.ready))
		c.worth[model.Spacing] += int64(max(0, q.fresh-days[k-1]))
	}
	out := []bruteChoice{c}
	if k == len(q.visits) {
		return out
	}
	v := &q.visits[k]
	for d := q.lo; d <= q.hi; d++ {
		if v.pin != none && v.pin != d || k == 0 && q.done == 0 && !p.season.RoomOn(p.season.From+model.Date(d)).New || k > 0 && d-days[k-1] < v.least || k == 0 && q.done > 0 && d-q.since < v.least {
			continue
		}
		out = append(out, p.everySchedule(q, append(days[:k:k], d))...)
	}
	return out
}

// try goes through the choices of item i, and for each of them through those
// of the items after it.
func (b *brute) try(i int) {
	if i == len(b.items) {
		b.now[model.Body] = b.p.strain.Excess(b.planned)
		if b.now.better(b.best, b.free) {
			b.best = b.now
		}
		b.now[model.Body] = 0
		return
	}
	it := &b.items[i]
	for _, c := range it.choices {
		before, round := b.now, b.rounds[it.part]
		b.now = before.plus(c.worth)
		if b.hopeless(i + 1) {
			b.now = before
			if c.worth[model.Coverage]+before[model.Coverage]+b.least[i+1][model.Coverage] > max(b.best[model.Coverage], b.free[model.Coverage]) {
				return // later choices leave out as much or more
			}
			continue
		}
		b.put(it, c, 1)
		if b.agree(it, c) && b.fits() {
			b.try(i + 1)
		}
		b.put(it, c, -1)
		b.now, b.rounds[it.part] = before, round
	}
}

// hopeless tells whether what is chosen, with the items from one on, to which body is
// still to come, cannot be better than the best.
func (b *brute) hopeless(from int) bool {
	if b.free != (score{}) {
		return !b.now.plus(b.eachLeast[from]).better(b.best, b.free)
	}
	s := b.now.plus(b.least[from])
	for _, j := range []model.Wish{model.Coverage, model.ReadyBy, model.Closeness} {
		if s[j] != b.best[j] {
			return s[j] > b.best[j]
		}
	}
	return b.best[model.Body] == 0 && s[model.Spacing] >= b.best[model.Spacing]
}

// agree keeps the order within a part.
func (b *brute) agree(it *bruteItem, c bruteChoice) bool {
	q, r := &b.p.parts[it.part], &b.rounds[it.part]
	if it.passage == none {
		if r.read = c.days[1]; q.readDone {
			r.read = before
		}
		return true
	}
	v := &b.p.passages[it.passage]
	if v.done == 0 && len(c.days) > 0 && (r.read == none || c.days[0] <= r.read) {
		return false
	}
	if v.inRound && len(c.days) > 0 {
		r.first = max(r.first, c.days[0])
	}
	if v.third != none && len(c.days) > v.third {
		r.third = min(r.third, c.days[v.third])
	}
	return r.first < r.third
}

// put enters a choice in the days' sums, or takes it out again.
func (b *brute) put(it *bruteItem, c bruteChoice, sign int) {
	if it.passage == none {
		q := &b.p.parts[it.part]
		for n, d := range c.days {
			switch {
			case d == none:
			case n == 1:
				b.planned[d] += model.Minutes(sign * q.read)
			default:
				b.listen[d] += sign * [3]int{q.listen, 0, q.rec}[n]
			}
		}
		return
	}
	for k, d := range c.days {
		b.planned[d] += model.Minutes(sign * b.p.passages[it.passage].visits[k].minutes)
		b.visits[d] += sign
	}
}

func (b *brute) fits() bool {
	for d := b.p.today; d < b.p.days; d++ {
		r := &b.p.room[d]
		if int(b.planned[d]) > r.playing || b.listen[d] > r.listening || b.visits[d] > r.visits || int(b.planned[d])+b.listen[d] > r.held {
			return false
		}
	}
	return true
}

const bruteSeasons = 300
