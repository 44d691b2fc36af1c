package hours

import (
	"slices"

	"primaprova/model"
	"primaprova/solver/cpsat"
)

type dayPiece struct {
	at, steps int64 // from the session's start
	in        []cpsat.Bool
}

type dayBlock struct {
	start, end, size cpsat.Int
	used             cpsat.Bool
	sum              *cpsat.Expr // steps of what it holds
}

func (q *dayModel) addBlocks(pieces int, all int64, held bool) {
	n, most := pieces, q.block()
	if least := int((all + most - 1) / most); pieces > manyPieces && !held && q.s.Limits.BlockRest > 0 {
		n = min(pieces, max(least+spareBlocks, least*3/2))
	}
	if n == 0 {
		return
	}
	lo, hi := int64(q.free[0].From)/dayGrid, int64(q.free[len(q.free)-1].To)/dayGrid
	m, rest := q.m, inSteps(q.s.Limits.BlockRest)
	for b := range n {
		k := dayBlock{start: m.NewInt("", startsIn(q.play, 1)), end: m.NewInt("", cpsat.Range(lo, hi+1)),
			size: m.NewInt("", cpsat.Range(0, q.longest())), used: m.NewBool(""), sum: cpsat.Sum()}
		m.Equal(cpsat.Sum(k.start, k.size), k.end)
		var where []cpsat.Bool
		for _, f := range q.play {
			w := m.NewBool("")
			m.AtLeast(k.start, cpsat.Const(int64(f.From+dayGrid-1)/dayGrid)).OnlyIf(w)
			m.AtMost(k.end, cpsat.Const(int64(f.To)/dayGrid)).OnlyIf(w)
			where = append(where, w)
		}
		m.Or(where...).OnlyIf(k.used)
		if b > 0 {
			m.Implies(k.used, q.blocks[b-1].used)
			m.AtMost(cpsat.Sum(q.blocks[b-1].end, cpsat.Const(rest)), k.start).OnlyIf(k.used)
		}
		q.blocks = append(q.blocks, k)
	}
}

// longest gives the most steps that a block can hold: a piece may be longer
// than a block in whole steps of the grid, and has it for itself.
func (q *dayModel) longest() int64 {
	most := q.block()
	for _, it := range q.items {
		for _, p := range it.pieces {
			most = max(most, p.steps)
		}
	}
	return most
}

// addPieces puts each piece into one block, and the pieces of a long session
// into blocks running.
func (q *dayModel) addPieces() {
	m := q.m
	heads, tails := make([][]cpsat.Bool, len(q.blocks)), make([][]cpsat.Bool, len(q.blocks))
	room, held := make([]*cpsat.Expr, len(q.blocks)), make([]*cpsat.Expr, len(q.blocks))
	for b := range q.blocks {
		room[b], held[b] = cpsat.Sum(), cpsat.Sum()
	}
	for i := range q.items {
		it := &q.items[i]
		last := len(it.pieces) - 1
		for j := range it.pieces {
			p := &it.pieces[j]
			for b := range q.blocks {
				k, x := &q.blocks[b], m.NewBool("")
				p.in = append(p.in, x)
				k.sum.AddTerm(p.steps, x)
				room[b].AddTerm(min(p.steps, q.block()), x)
				held[b].Add(x)
				m.Implies(x, k.used)
				if j < last { // a rest follows
					heads[b] = append(heads[b], x)
					m.Equal(cpsat.Sum(it.start, cpsat.Const(p.at+p.steps)), k.end).OnlyIf(x)
				}
				if j > 0 { // a rest came before
					tails[b] = append(tails[b], x)
					m.Equal(cpsat.Sum(it.start, cpsat.Const(p.at)), k.start).OnlyIf(x)
				}
			}
			m.ExactlyOne(p.in...)
			if j > 0 { // the next block's
				before := it.pieces[j-1].in
				m.Linear(p.in[0], cpsat.Range(0, 0))
				for b := 1; b < len(q.blocks); b++ {
					m.Equal(p.in[b], before[b-1])
				}
			}
		}
		if it.v.Stage == model.WarmUpStage {
			m.Linear(it.pieces[0].in[0], cpsat.Range(1, 1))
			if last > 0 {
				m.Equal(it.start, q.blocks[0].start)
			}
		}
	}
	for b := range q.blocks {
		k := &q.blocks[b]
		m.Equal(k.sum, k.size)
		m.AtMost(room[b], cpsat.Const(q.block()))
		m.AtLeast(held[b], k.used)
		m.AtMostOne(heads[b]...)
		m.AtMostOne(tails[b]...)
		if q.s.Limits.BlockRest == 0 {
			m.AtMost(held[b], cpsat.Const(1)) // without rests each is a block of its own
		}
	}
}

// addOthers keeps what is not played out of blocks and long sessions, and each
// part's listening before its read-through.
func (q *dayModel) addOthers() {
	m := q.m
	var others, long, played []cpsat.Interval
	for i := range q.items {
		it := &q.items[i]
		switch len(it.pieces) {
		case 0:
			others = append(others, m.Task("", it.start, it.steps))
		case 1:
		default:
			long = append(long, m.Task("", it.start, it.steps))
		}
		if it.v.Stage != model.ListeningStage {
			continue
		}
		for j := range q.items {
			r := &q.items[j]
			if r.v.Stage != model.ReadStage || r.v.Part != it.v.Part {
				continue
			}
			for b, x := range r.pieces[0].in {
				m.AtMost(cpsat.Sum(it.start, cpsat.Const(it.steps)), q.blocks[b].start).OnlyIf(x)
			}
		}
	}
	if len(others) == 0 {
		return
	}
	for _, k := range q.blocks {
		played = append(played, m.OptionalInterval("", k.start, k.size, k.end, k.used))
	}
	m.NoOverlap(slices.Concat(others, played)...)
	if len(long) > 0 {
		m.NoOverlap(slices.Concat(others, long)...)
	}
}
