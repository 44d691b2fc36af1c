package hours

import (
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
