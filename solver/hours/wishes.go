package hours

import (
	"math"
	"slices"

	"primaprova/model"
	"primaprova/solver/cpsat"
)

// dayTerm is a wish with the most it can come to.
type dayTerm struct {
	e    *cpsat.Expr
	most int64
}

// addWishes states the wishes of model.DayCost, highest first; Whole and OnGrid
// are kept by construction. They are folded into one sum, in which one unit of
// a wish outweighs all that comes after it.
func (q *dayModel) addWishes(d model.Date, stood map[string]model.Clock) {
	q.before(d)
	q.stays(stood)
	q.cold()
	if q.countsChanges() && q.s.Habits.PartChanges == model.OneWorkAtATime {
		q.changes()
	}
	q.strains()
	q.aside(d)
	q.early()
	q.ends()
	if q.countsChanges() && q.s.Habits.PartChanges == model.FewChanges {
		q.changes()
	}
	sum, weight := cpsat.Sum(), int64(1)
	for k := len(q.terms) - 1; k >= 0; k-- {
		t := q.terms[k]
		if weight > math.MaxInt64/8/(t.most+1) {
			break // no day with sense comes here; take compares the wishes themselves in any case
		}
		sum.AddTerm(weight, t.e)
		weight *= t.most + 1
	}
	q.m.Minimize(sum)
}

func (q *dayModel) wish(e *cpsat.Expr, most int64) {
	if most > 0 {
		q.terms = append(q.terms, dayTerm{e, most})
	}
}

// before counts the minutes that blocks play right before a service, the less
// of e(b) − (service − lull) and e(b) − s(b) where they are above 0 and b comes
// before the service.
func (q *dayModel) before(d model.Date) {
	sum, most := cpsat.Sum(), int64(0)
	for _, service := range q.s.ServicesOn(d) {
		at, lull := int64(service.Start), int64(service.Start-model.Clock(model.Lull))
		for b := range q.blocks {
			k := &q.blocks[b]
			after, far, inside := q.m.NewBool(""), q.m.NewBool(""), q.m.NewBool("")
			q.m.AtLeast(cpsat.Times(dayGrid, k.start), cpsat.Const(at)).OnlyIf(after)
			q.m.AtMost(cpsat.Times(dayGrid, k.end), cpsat.Const(lull)).OnlyIf(far)
			cost := q.m.NewInt("", cpsat.Range(0, dayGrid*q.longest()))
			q.m.AtLeast(cost, cpsat.Times(dayGrid, k.size)).OnlyIf(inside)
			part := q.m.NewBool("")
			q.m.AtLeast(cost, cpsat.Times(dayGrid, k.end).Add(cpsat.Const(-lull))).OnlyIf(part)
			q.m.Or(after, far, inside, part, k.used.Not())
			sum.Add(cost)
			most += dayGrid * q.longest()
		}
	}
	q.wish(sum, most)
}

func (q *dayModel) stays(stood map[string]model.Clock) {
	sum, most := cpsat.Sum(), int64(0)
	for i := range q.items {
		it := &q.items[i]
		at, ok := stood[it.v.ID]
		if !ok {
			continue
		}
		by := q.m.NewInt("", cpsat.Range(0, 24*60))
		q.m.AtLeast(by, cpsat.Sum(cpsat.Times(dayGrid, it.start), cpsat.Const(-int64(at))))
		q.m.AtLeast(by, cpsat.Sum(cpsat.Times(-dayGrid, it.start), cpsat.Const(at)))
		sum.Add(by)
		most += 24 * 60
	}
	q.wish(sum, most)
}

// cold counts the minutes from the warm-up to the first playing, which are none
// where something else is played in its block.
func (q *dayModel) cold() {
	var warm bool
	var beside []cpsat.Bool
	for i := range q.items {
		for _, p := range q.items[i].pieces {
			if q.items[i].v.Stage == model.WarmUpStage {
				warm = true
			} else {
				beside = append(beside, p.in[0])
			}
		}
	}
	if !warm || len(q.blocks) < 2 {
		return
	}
	apart, alone := q.m.NewInt("", cpsat.Range(0, 24*60)), q.m.NewBool("")
	q.m.Or(append(beside, alone, q.blocks[1].used.Not())...)
	q.m.AtLeast(apart, cpsat.Sum(cpsat.Times(dayGrid, q.blocks[1].start), cpsat.Times(-dayGrid, q.blocks[0].end))).OnlyIf(alone)
	q.wish(cpsat.Sum(apart), 24*60)
}

// strains counts what two blocks running both strain.
func (q *dayModel) strains() {
	in := map[string]int{}
	var names []string
	for i := range q.items {
		it := &q.items[i]
		if it.what == "" {
			continue
		}
		if in[it.what] == 0 {
			names = append(names, it.what)
		}
		in[it.what] += len(it.pieces)
	}
	sum, most := cpsat.Sum(), int64(0)
	for _, what := range names {
		if in[what] < 2 {
			continue
		}
		var last cpsat.Bool
		for b := range q.blocks {
			here := q.m.NewBool("")
			for i := range q.items {
				if q.items[i].what == what {
					for _, p := range q.items[i].pieces {
						q.m.Implies(p.in[b], here)
					}
				}
			}
			if b > 0 {
				again := q.m.NewBool("")
				q.m.AtMost(cpsat.Sum(last, here, cpsat.Const(-1)), again)
				sum.Add(again)
				most++
			}
			last = here
		}
	}
	q.wish(sum, most)
}

// aside counts what is not played and neither lies in the hours for it nor
// before the first block or after the last: one for the hours, where the day has
// any, and one where it lies between blocks.
func (q *dayModel) aside(d model.Date) {
	hours := model.Touching(q.s.Habits.ListeningHours.On(d))
	sum, most := cpsat.Sum(), int64(0)
	for i := range q.items {
		it := &q.items[i]
		if len(it.pieces) > 0 {
			continue
		}
		var there []cpsat.Bool
		for _, f := range hours {
			in := startsIn([]model.Span{f}, it.v.Minutes)
			if in.Empty() {
				continue
			}
			x := q.m.NewBool("")
			q.m.Linear(it.start, in).OnlyIf(x)
			there = append(there, x)
		}
		if len(hours) > 0 {
			outside := q.m.NewBool("")
			q.m.Or(append(slices.Clone(there), outside)...)
			sum.Add(outside)
			most++
		}
		if len(q.blocks) < 2 {
			continue
		}
		before, after, cuts := q.m.NewBool(""), q.m.NewBool(""), q.m.NewBool("")
		q.m.AtMost(cpsat.Sum(it.start, cpsat.Const(it.steps)), q.blocks[0].start).OnlyIf(before)
		for _, k := range q.blocks {
			q.m.AtMost(k.end, it.start).OnlyIf(after, k.used)
		}
		q.m.Or(append(there, before, after, cuts)...)
		sum.Add(cuts)
		most++
	}
	q.wish(sum, most)
}

// early counts the blocks before each passage's own, by its weight.
func (q *dayModel) early() {
	sum, most := cpsat.Sum(), int64(0)
	for i := range q.items {
		it := &q.items[i]
		if it.weight == 0 {
			continue
		}
		for b, x := range it.pieces[0].in {
			sum.AddTerm(it.weight*int64(b), x)
		}
		most += it.weight * int64(len(q.blocks)-1)
	}
	q.wish(sum, most)
}

func (q *dayModel) ends() {
	end := q.m.NewInt("", cpsat.Range(0, 24*60/dayGrid+1))
	for b := range q.blocks {
		q.m.AtLeast(end, q.blocks[b].end).OnlyIf(q.blocks[b].used)
	}
	for i := range q.items {
		if it := &q.items[i]; len(it.pieces) == 0 {
			q.m.AtLeast(end, cpsat.Sum(it.start, cpsat.Const(it.steps)))
		}
	}
	q.wish(cpsat.Sum(end), 24*60/dayGrid+1)
}
