package hours

import (
	"slices"

	"primaprova/model"
	"primaprova/solver/cpsat"
)

// countsChanges tells whether the program counts changes of part. As the last of
// the wishes they are left, on crowded days, to the order within blocks (see
// starts) and to what may change places (see day.together): the search would
// take half as long again for them.
func (q *dayModel) countsChanges() bool {
	c := q.s.Habits.PartChanges
	return c == model.OneWorkAtATime || c == model.FewChanges && q.pieces <= manyPieces
}

// changes counts the changes of part within blocks. A block without rests has
// one piece, and none.
func (q *dayModel) changes() {
	var parts []string
	for i := range q.items {
		if v := q.items[i].v; v.Stage.Playing() && v.Part != "" && !slices.Contains(parts, v.Part) {
			parts = append(parts, v.Part)
		}
	}
	switch {
	case len(parts) < 2 || q.s.Limits.BlockRest == 0:
	case q.ordered():
		q.changesInOrder()
	default:
		q.changesInBlocks(parts)
	}
}

// ordered tells whether every session has a start of its own.
func (q *dayModel) ordered() bool {
	return !slices.ContainsFunc(q.items, func(it dayItem) bool { return !it.timed })
}

// changesInBlocks counts, where the order within a block is still open, the
// parts of each block but one: sessions of one part are put together (see
// starts). What came over a rest is first and what goes on after one is last;
// where both are of one part and others lie between them it is one more.
func (q *dayModel) changesInBlocks(parts []string) {
	m := q.m
	sum, most := cpsat.Sum(), int64(0)
	for b := range q.blocks {
		all, here := cpsat.Sum(), make([]cpsat.Bool, len(parts))
		for w := range parts {
			here[w] = m.NewBool("")
			all.Add(here[w])
		}
		heads, tails := make([][]cpsat.Bool, len(parts)), make([][]cpsat.Bool, len(parts))
		for i := range q.items {
			it := &q.items[i]
			w := slices.Index(parts, it.v.Part)
			for j, p := range it.pieces {
				if w < 0 { // the warm-up
					break
				}
				m.Implies(p.in[b], here[w])
				switch { // a piece that is both has the block to itself
				case j == 0 && len(it.pieces) > 1:
					heads[w] = append(heads[w], p.in[b])
				case j > 0 && j == len(it.pieces)-1:
					tails[w] = append(tails[w], p.in[b])
				}
			}
		}
		n := m.NewInt("", cpsat.Range(0, int64(len(parts))))
		m.AtLeast(cpsat.Sum(n, cpsat.Const(1)), all)
		sum.Add(n)
		most += int64(len(parts))
		for w := range parts {
			if len(heads[w]) < 2 || len(tails[w]) < 2 {
				continue
			}
			again := m.NewBool("")
			for _, t := range tails[w] {
				for _, h := range heads[w] {
					for o := range parts {
						if o != w {
							m.Or(t.Not(), h.Not(), here[o].Not(), again)
						}
					}
				}
			}
			sum.Add(again)
			most++
		}
	}
	q.wish(sum, most)
}

// changesInOrder counts, where every session has a start of its own, those that
// neither begin their block nor follow on the warm-up or one of the same part:
// in a block piece touches piece.
func (q *dayModel) changesInOrder() {
	m := q.m
	sum, most := cpsat.Sum(), int64(0)
	for i := range q.items {
		it := &q.items[i]
		if len(it.pieces) == 0 || it.v.Part == "" {
			continue
		}
		var why []cpsat.Bool
		for b, in := range it.pieces[0].in {
			first := m.NewBool("")
			m.Implies(first, in)
			m.Equal(it.start, q.blocks[b].start).OnlyIf(first)
			why = append(why, first)
		}
		for j := range q.items {
			o := &q.items[j]
			if j == i || len(o.pieces) == 0 || o.v.Stage != model.WarmUpStage && o.v.Part != it.v.Part {
				continue
			}
			follows := m.NewBool("")
			m.Equal(cpsat.Sum(o.start, cpsat.Const(o.steps)), it.start).OnlyIf(follows)
			why = append(why, follows)
		}
		change := m.NewBool("")
		m.Or(append(why, change)...)
		sum.Add(change)
		most++
	}
	q.wish(sum, most)
}

// keep leaves a day as it stood where it holds the same sessions and its hours
// keep the rules. Hours that are those of first fit are none that anybody chose,
// unless better ones were looked for when they were given.
func (d *day) keep() bool {
	if len(d.stood) != len(d.sessions) {
		return false
	}
	was := map[string]*model.Session{}
	for _, v := range d.stood {
		was[v.ID] = v
	}
	before := clockOf(d.sessions)
	same := true
	for _, v := range d.sessions {
		o := was[v.ID]
		if o == nil || o.Minutes != v.Minutes || o.Start == nil || o.Ends == nil {
			before.restore()
			return false
		}
		same = same && v.Start != nil && *v.Start == *o.Start
		v.Start, v.Ends, v.Rests = o.Start, o.Ends, o.Rests
	}
	if same && !d.chosen || len(d.s.DayBreaches(d.date, d.sessions)) > 0 {
		before.restore()
		return false
	}
	d.changed = !same
	return true
}

// stoodAt gives where the day's sessions began in the standing plan, on this
// day, unless that was nobody's choice but first fit's.
func (d *day) stoodAt() map[string]model.Clock {
	fitted := make([]*model.Session, len(d.stood))
	for i, v := range d.stood {
		w := *v
		fitted[i] = &w
	}
	if !d.s.LayOut(d.date, fitted) {
		return nil
	}
	at, chosen := map[string]model.Clock{}, d.chosen
	for i, v := range d.stood {
		if v.Start == nil {
			continue
		}
		at[v.ID] = *v.Start
		chosen = chosen || *fitted[i].Start != *v.Start
	}
	if !chosen {
		return nil
	}
	return at
}
