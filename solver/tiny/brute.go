package tiny

import (
	"cmp"
	"math"
	"slices"

	"primaprova/model"
	"primaprova/solver/instance"
)

// brute tries every plan of an instance: every choice of days for a part's stages
// and for each passage's visits. It passes over what cannot be better than
// the best plan so far, comparing in the order of the wishes; apart from that
// it knows no mathematics.
type brute struct {
	p         *instance.Instance
	items     []bruteItem
	Least     []instance.Score // of all items from i on, each alone, in the order of the wishes
	eachLeast []instance.Score // the same, each wish by itself
	planned   []model.Minutes
	listen    []int
	visits    []int
	rounds    []bruteRound   // by part
	now       instance.Score // of the items chosen, body apart
	Best      instance.Score
	Free      instance.Score // up to this a wish does not count
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
	worth instance.Score
}

// bruteRound is what the passages of a part must agree on.
type bruteRound struct {
	read         int // day of the read-through; none if left out, before if done
	first, third int // latest first visit, earliest third
}

func NewBrute(p *instance.Instance) *brute {
	b := &brute{p: p, planned: slices.Clone(p.Fixed), listen: make([]int, p.Days), visits: make([]int, p.Days)}
	for i := range b.Best {
		b.Best[i] = math.MaxInt64
	}
	for i := range p.Parts {
		q := &p.Parts[i]
		b.items = append(b.items, bruteItem{i, instance.None, everyStages(p, q)})
		b.rounds = append(b.rounds, bruteRound{first: math.MinInt, third: math.MaxInt})
		for k := q.First; k < q.Last; k++ {
			v := &p.Passages[k]
			b.items = append(b.items, bruteItem{i, k, everySchedule(p, v, nil)})
		}
	}
	b.Least, b.eachLeast = make([]instance.Score, len(b.items)+1), make([]instance.Score, len(b.items)+1)
	for i := len(b.items) - 1; i >= 0; i-- {
		slices.SortStableFunc(b.items[i].choices, func(x, y bruteChoice) int { return compareScores(x.worth, y.worth) })
		b.Least[i] = b.Least[i+1].Plus(b.items[i].choices[0].worth)
		b.eachLeast[i] = b.eachLeast[i+1]
		for w := range b.eachLeast[i] {
			by := func(x, y bruteChoice) int { return cmp.Compare(x.worth[w], y.worth[w]) }
			b.eachLeast[i][w] += slices.MinFunc(b.items[i].choices, by).worth[w]
		}
	}
	return b
}

func compareScores(a, b instance.Score) int {
	for i := range a {
		if c := cmp.Compare(a[i], b[i]); c != 0 {
			return c
		}
	}
	return 0
}

// everyStages lists the choices of days for a part's stages.
func everyStages(p *instance.Instance, q *instance.Part) (out []bruteChoice) {
	days := func(n, minutes, lo int) []int {
		out := []int{instance.None}
		for d := lo; d <= q.WinHi && minutes > 0; d++ {
			if (q.Pin[n] == instance.None || q.Pin[n] == d) && q.Refused[n] != d {
				out = append(out, d)
			}
		}
		return out
	}
	for _, listen := range days(0, q.Listen, q.WinLo) {
		for _, read := range days(1, q.Read, q.WinLo) {
			if read != instance.None && q.Listen > 0 && (listen == instance.None || listen > read) {
				continue
			}
			for _, rec := range days(2, q.Rec, q.RecLo) {
				if rec != instance.None && !q.ReadDone && (read == instance.None || rec <= read) {
					continue
				}
				c := bruteChoice{days: []int{listen, read, rec}}
				for n, d := range c.days {
					switch {
					case [3]int{q.Listen, q.Read, q.Rec}[n] == 0:
					case d == instance.None:
						c.worth[model.Coverage] += int64([3]int{q.ListenWorth, q.ReadWorth, q.RecWorth}[n])
					default:
						c.worth[model.Closeness] += distance(p, q.Stand[n], d)
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
func distance(p *instance.Instance, stand, d int) int64 {
	weight := int64(1)
	switch {
	case stand == instance.None || stand == d:
		return 0
	case stand < p.Today+7:
		weight = 3
	case stand < p.Today+21:
		weight = 2
	}
	return weight * int64(3+max(stand-d, d-stand))
}

// everySchedule lists the choices of days for a passage's visits that begin
// with the days given.
func everySchedule(p *instance.Instance, q *instance.Passage, days []int) []bruteChoice {
	k := len(days)
	c := bruteChoice{days: slices.Clone(days)}
	for n, v := range q.Visits {
		if n >= k {
			c.worth[model.Coverage] += int64(v.Value)
			continue
		}
		c.worth[model.Closeness] += distance(p, v.Stand, days[n])
		if n > 0 {
			c.worth[model.Spacing] += int64(max(0, days[n]-days[n-1]-v.Preferred))
		} else if q.Done > 0 {
			c.worth[model.Spacing] += int64(max(0, days[0]-q.Since-v.Preferred))
		}
	}
	if k > 0 {
		c.worth[model.ReadyBy] = int64(max(0, days[k-1]-q.Ready))
		c.worth[model.Spacing] += int64(max(0, q.Fresh-days[k-1]))
	}
	out := []bruteChoice{c}
	if k == len(q.Visits) {
		return out
	}
	v := &q.Visits[k]
	for d := q.Lo; d <= q.Hi; d++ {
		if v.Pin != instance.None && v.Pin != d || k == 0 && q.Done == 0 && !p.Season.RoomOn(p.Season.From+model.Date(d)).New || k > 0 && d-days[k-1] < v.Least || k == 0 && q.Done > 0 && d-q.Since < v.Least {
			continue
		}
		out = append(out, everySchedule(p, q, append(days[:k:k], d))...)
	}
	return out
}

// Try goes through the choices of item i, and for each of them through those
// of the items after it.
func (b *brute) Try(i int) {
	if i == len(b.items) {
		b.now[model.Body] = b.p.Strain.Excess(b.planned)
		if b.now.Better(b.Best, b.Free) {
			b.Best = b.now
		}
		b.now[model.Body] = 0
		return
	}
	it := &b.items[i]
	for _, c := range it.choices {
		before, round := b.now, b.rounds[it.part]
		b.now = before.Plus(c.worth)
		if b.hopeless(i + 1) {
			b.now = before
			if c.worth[model.Coverage]+before[model.Coverage]+b.Least[i+1][model.Coverage] > max(b.Best[model.Coverage], b.Free[model.Coverage]) {
				return // later choices leave out as much or more
			}
			continue
		}
		b.put(it, c, 1)
		if b.agree(it, c) && b.fits() {
			b.Try(i + 1)
		}
		b.put(it, c, -1)
		b.now, b.rounds[it.part] = before, round
	}
}

// hopeless tells whether what is chosen, with the items from one on, to which body is
// still to come, cannot be better than the best.
func (b *brute) hopeless(from int) bool {
	if b.Free != (instance.Score{}) {
		return !b.now.Plus(b.eachLeast[from]).Better(b.Best, b.Free)
	}
	s := b.now.Plus(b.Least[from])
	for _, j := range []model.Wish{model.Coverage, model.ReadyBy, model.Closeness} {
		if s[j] != b.Best[j] {
			return s[j] > b.Best[j]
		}
	}
	return b.Best[model.Body] == 0 && s[model.Spacing] >= b.Best[model.Spacing]
}

// agree keeps the order within a part.
func (b *brute) agree(it *bruteItem, c bruteChoice) bool {
	q, r := &b.p.Parts[it.part], &b.rounds[it.part]
	if it.passage == instance.None {
		if r.read = c.days[1]; q.ReadDone {
			r.read = instance.Before
		}
		return true
	}
	v := &b.p.Passages[it.passage]
	if v.Done == 0 && len(c.days) > 0 && (r.read == instance.None || c.days[0] <= r.read) {
		return false
	}
	if v.InRound && len(c.days) > 0 {
		r.first = max(r.first, c.days[0])
	}
	if v.Third != instance.None && len(c.days) > v.Third {
		r.third = min(r.third, c.days[v.Third])
	}
	return r.first < r.third
}

// put enters a choice in the days' sums, or takes it out again.
func (b *brute) put(it *bruteItem, c bruteChoice, sign int) {
	if it.passage == instance.None {
		q := &b.p.Parts[it.part]
		for n, d := range c.days {
			switch {
			case d == instance.None:
			case n == 1:
				b.planned[d] += model.Minutes(sign * q.Read)
			default:
				b.listen[d] += sign * [3]int{q.Listen, 0, q.Rec}[n]
			}
		}
		return
	}
	for k, d := range c.days {
		b.planned[d] += model.Minutes(sign * b.p.Passages[it.passage].Visits[k].Minutes)
		b.visits[d] += sign
	}
}

func (b *brute) fits() bool {
	for d := b.p.Today; d < b.p.Days; d++ {
		r := &b.p.Room[d]
		if int(b.planned[d]) > r.Playing || b.listen[d] > r.Listening || b.visits[d] > r.Visits || int(b.planned[d])+b.listen[d] > r.Held {
			return false
		}
	}
	return true
}

const BruteSeasons = 300
