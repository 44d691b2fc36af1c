package hours

import (
	"slices"

	"primaprova/model"
	"primaprova/solver/cpsat"
)

// The hours of a day as a constraint program. Time runs in steps of the grid.
// What is played lies in blocks 0, 1, …, which come one after the other with a
// rest between; in a block piece follows piece, in an order that is settled
// afterwards. A session keeps the shape that model.Shape gives it, so the pieces
// of a long one lie in blocks running.
//
//	x(p,b)   piece p lies in block b, exactly one b for each p
//	s(b)     start of block b
//	e(b)     its end, s(b) + Σ length(p)·x(p,b)
//	u(v)     start of session v, where v is not played or has several pieces
//
//	block    Σ length(p)·x(p,b) ≤ most minutes of a block
//	rest     e(b) + rest ≤ s(b+1), where b+1 holds anything
//	free     s(b) and e(b) lie in one of the free spans, and in no quiet hours
//	pieces   the first piece of a long session ends its block, the last one
//	         begins its own, those between have theirs for themselves
//	one      what is not played meets no block and no long session
//	warm     the warm-up lies in block 0
//	heard    a part is listened to before the block in which it is read through
//
// The wishes are those of model.DayCost (day_wishes.go). Only where sessions
// stood elsewhere before does every session get a start of its own.
type dayModel struct {
	s      *model.Season
	m      *cpsat.Model
	free   []model.Span
	play   []model.Span // the free ones in which may be played
	items  []dayItem
	blocks []dayBlock
	terms  []dayTerm
	long   map[int]bool // items with several pieces
	pieces int          // of all items
}

// dayItem is a session with its variables.
type dayItem struct {
	v      *model.Session
	shape  model.Shape
	steps  int64 // from start to end, on the grid
	start  cpsat.Int
	timed  bool // it has a start of its own
	pieces []dayPiece
	what   string // what it strains
	weight int64  // how much it wants to be early
}

type dayPiece struct {
	at, steps int64 // from the session's start
	in        []cpsat.Bool
}

type dayBlock struct {
	start, end, size cpsat.Int
	used             cpsat.Bool
	sum              *cpsat.Expr // steps of what it holds
}

const dayGrid = model.Grid

func inSteps(m model.Minutes) int64 { return int64(m+dayGrid-1) / dayGrid }

// newDayModel states a day. It gives nil where a session fits none of the free
// hours in its shape. Stood gives where sessions began before; it may be nil.
// Those are held there, if wanted.
func newDayModel(s *model.Season, d model.Date, sessions []*model.Session, stood map[string]model.Clock, held bool) *dayModel {
	q := &dayModel{s: s, m: cpsat.NewModel(""), free: model.Touching(s.Free(d)), play: model.Touching(s.Playable(d)), long: map[int]bool{}}
	var all int64
	for i, v := range sessions {
		it := dayItem{v: v, shape: s.Shape(v), what: s.StrainOf(v), weight: int64(s.Pressing(v))}
		it.steps = inSteps(it.shape.Length())
		starts := startsIn(q.free, it.shape.Length())
		if v.Stage.Playing() {
			starts = startsIn(q.play, it.shape.Length())
		}
		if at, ok := stood[v.ID]; ok && held {
			if at%dayGrid != 0 || !starts.Contains(int64(at)/dayGrid) {
				return nil
			}
			starts = cpsat.Range(int64(at)/dayGrid, int64(at)/dayGrid)
		}
		if starts.Empty() {
			return nil
		}
		if v.Stage.Playing() {
			for _, p := range it.shape.Pieces {
				it.pieces = append(it.pieces, dayPiece{at: int64(p.From) / dayGrid, steps: inSteps(p.Length())})
				all += inSteps(p.Length())
			}
			q.pieces += len(it.pieces)
		}
		q.long[i] = len(it.pieces) > 1
		if it.timed = len(it.pieces) != 1 || len(stood) > 0; it.timed {
			it.start = q.m.NewInt("", starts)
		}
		q.items = append(q.items, it)
	}
	q.addBlocks(q.pieces, all, held)
	q.addPieces()
	q.addOthers()
	if len(stood) > 0 {
		q.addStarts()
	} else {
		q.alike()
	}
	q.addWishes(d, stood)
	return q
}

// startsIn gives the starts on the grid at which so many minutes are free.
func startsIn(free []model.Span, length model.Minutes) cpsat.Domain {
	var out []cpsat.Domain
	for _, f := range free {
		lo, hi := int64(f.From+dayGrid-1)/dayGrid, int64(f.To-model.Clock(length))/dayGrid
		if f.Length() >= length && lo <= hi {
			out = append(out, cpsat.Range(lo, hi))
		}
	}
	return cpsat.Union(out...)
}

// block gives the most steps of a block.
func (q *dayModel) block() int64 { return max(1, int64(q.s.Limits.Block)/dayGrid) }

// A crowded day may have so many blocks more than the least. The fewest do for
// most wishes; more keep strains apart and sessions where they stood.
const (
	spareBlocks = 3
	manyPieces  = 6 // pieces; up to so many each may have a block for itself
)

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

// addStarts gives every session a start in its block.
func (q *dayModel) addStarts() {
	var tasks []cpsat.Interval
	for i := range q.items {
		it := &q.items[i]
		tasks = append(tasks, q.m.Task("", it.start, it.steps))
		if len(it.pieces) != 1 {
			continue
		}
		for b, x := range it.pieces[0].in {
			q.m.AtLeast(it.start, q.blocks[b].start).OnlyIf(x)
			q.m.AtMost(cpsat.Sum(it.start, cpsat.Const(it.steps)), q.blocks[b].end).OnlyIf(x)
		}
		if it.v.Stage == model.WarmUpStage {
			q.m.Equal(it.start, q.blocks[0].start)
		}
	}
	q.m.NoOverlap(tasks...)
}

// alike puts sessions that nothing tells apart into blocks in the order of
// their names, so that they are not tried in every order.
func (q *dayModel) alike() {
	for i := range q.items {
		for j := i + 1; j < len(q.items); j++ {
			a, b := &q.items[i], &q.items[j]
			if a.v.Stage != model.PassageStage || b.v.Stage != model.PassageStage || a.v.Minutes != b.v.Minutes || a.what != b.what || a.weight != b.weight || q.countsChanges() && a.v.Part != b.v.Part {
				continue
			}
			order := cpsat.Sum()
			for k := range q.blocks {
				order.AddTerm(int64(k), a.pieces[0].in[k]).AddTerm(-int64(k), b.pieces[0].in[k])
			}
			q.m.Linear(order, cpsat.UpTo(0))
			break
		}
	}
}
