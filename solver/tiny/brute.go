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
	rec          int // day of the return to the recordings; far off where there is none
}

func NewBrute(p *instance.Instance) *brute {
	b := &brute{p: p, planned: slices.Clone(p.Fixed), listen: make([]int, p.Days), visits: make([]int, p.Days)}
	for i := range b.Best {
		b.Best[i] = math.MaxInt64
	}
	for i := range p.Parts {
		q := &p.Parts[i]
		b.items = append(b.items, bruteItem{i, instance.None, everyStages(p, q)})
		b.rounds = append(b.rounds, bruteRound{first: math.MinInt, third: math.MaxInt, rec: math.MaxInt})
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
		if c.days[2] != instance.None {
			r.rec = c.days[2]
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
	return r.first < min(r.third, r.rec)
}

// put enters a choice in the days' sums, or takes it out again.
func (b *brute) put(it *bruteItem, c bruteChoice, sign int) {
	if it.passage == instance.None {
		q := &b.p.Parts[it.part]
		for n, d := range c.days {
			switch {
			case d == instance.None:
			case n == 0:
				for k, at := range sitDays(b.p, q, d) {
					b.listen[at] += sign * sittings(q)[k].Minutes
				}
			case n == 1:
				b.planned[d] += model.Minutes(sign * q.Read)
			default:
				b.listen[d] += sign * q.Rec
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
