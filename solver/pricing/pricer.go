// Package pricing finds what a block - a part, or a passage of it - costs at least at given duals: a
// dynamic program over visits and days (DP), over all frames of a part at once. It knows no linear program.
package pricing

import (
	"slices"
	"sync"
	"sync/atomic"

	"primaprova/model"
	"primaprova/solver/instance"
)

// Pricer finds cheapest parts and schedules at given duals, on several goroutines.
// What it answers never depends on how many.
type Pricer struct {
	Room    []instance.DayRoom // what single visits and stages must fit: the instance's, or what a dive leaves of it
	Workers []*Worker
}

type Worker struct {
	k      *Pricer
	r      DP
	each   []DP // of a part's passages
	Sum    [][]float64
	row    []float64
	runs   []run
	Stages StageCharges
}

func NewPricer(p *instance.Instance, workers int) *Pricer {
	k := &Pricer{Room: p.Room}
	for range max(1, workers) {
		k.Workers = append(k.Workers, &Worker{k: k})
	}
	return k
}

// Each calls f for 0..n-1, each number on one of the goroutines.
func (k *Pricer) Each(n int, f func(w *Worker, i int)) {
	var next atomic.Int64
	var wg sync.WaitGroup
	for _, w := range k.Workers {
		wg.Go(func() {
			for {
				i := int(next.Add(1)) - 1
				if i >= n {
					return
				}
				f(w, i)
			}
		})
	}
	wg.Wait()
}

// charge sets the dynamic program up for a passage at given duals.
func (w *Worker) charge(r *DP, p *instance.Instance, q *instance.Passage, t *Duals) {
	c := r.Load(q, t.Weights())
	for k := range q.Visits {
		v := &q.Visits[k]
		row, m := c[k], float64(v.Minutes)
		for d := q.Lo; d <= q.Hi; d++ {
			room := &w.k.Room[d]
			if v.Minutes > room.Playing || v.Minutes > room.Held || room.Visits < 1 || !v.May(d) {
				row[d-q.Lo] = instance.Inf
				continue
			}
			row[d-q.Lo] = m*t.Minute[d] + t.Visit[d] + r.W.Closeness*float64(p.Moved(v.Stand, d))
		}
	}
}

// stay forbids the days that the visits of a block's passage don't come to.
func (w *Worker) stay(u *Block) {
	for k, row := range w.r.c {
		for at := range row {
			if !u.Frees(k, w.r.q.Lo+at) {
				row[at] = instance.Inf
			}
		}
	}
}

// Unit gives the cheapest plan of a block at given duals; of a whole part, over all
// its frames. Its cost is the block's term of the bound.
func (w *Worker) Unit(p *instance.Instance, u *Block, t *Duals) BlockPlan {
	out := BlockPlan{PricedFrame: PricedFrame{Frame: u.Frame}, Days: make([][]instance.Day, u.Last-u.First)}
	if u.Whole {
		q := &p.Parts[u.Part]
		switch {
		case u.Held:
			out.Frame = w.heldFrame(p, u, t)
		case u.Box != nil:
			out.Frame = w.frame(p, u.Part, t, *u.Box)
		default:
			out.Frame = w.frame(p, u.Part, t, q.AllFrames())
		}
		out.S = p.StagesScore(q, out.Frame)
		out.Cost = t.frame(q, out.Frame, out.S)
	}
	for k := range out.Days {
		ps := &p.Passages[u.First+k]
		if out.Read != instance.None || ps.Done > 0 {
			r := &w.r
			if u.Whole && !u.Held {
				r = &w.each[k] // charged already
			} else {
				w.charge(r, p, ps, t)
			}
			if u.Frees != nil {
				w.stay(u)
			}
			cost, days := r.Best(int(out.Read), int(out.Phi))
			out.Days[k] = slices.Clone(days)
			out.Cost += cost
		} else {
			out.Cost += t.Weight[model.Coverage] * float64(ps.Worth(0))
		}
		out.S = out.S.Plus(p.ScheduleScore(ps, out.Days[k]))
	}
	return out
}

// heldFrame gives a held frame with the cheapest days of its other stages.
func (w *Worker) heldFrame(p *instance.Instance, u *Block, t *Duals) instance.Frame {
	q := &p.Parts[u.Part]
	w.rateStages(p, q, t)
	_, f := w.Stages.Complete(q, u.Frame.Read, u.Frame.Phi, t.Weight[model.Coverage])
	return f
}

// Rate works out what a part's passages cost in each frame of a box (w.sum) and
// its stages by day (w.stages) at given duals, and gives what the passages cost
// where no read-through is placed.
func (w *Worker) Rate(p *instance.Instance, i int, t *Duals, b instance.Box) float64 {
	q := &p.Parts[i]
	empty := w.load(p, i, t)
	w.Sum = Square(w.Sum, max(q.Hi-q.Lo+1, 0))
	for k := range w.each {
		w.each[k].Frames(q.Lo, w.Sum, b)
	}
	return empty
}

// load charges a part's passages (w.each) and stages (w.stages) at given duals, so that
// frames can be rated, and gives what the passages cost where no read-through is
// placed.
func (w *Worker) load(p *instance.Instance, i int, t *Duals) float64 {
	q := &p.Parts[i]
	empty := 0.0
	w.each = slices.Grow(w.each[:0], q.Last-q.First)[:q.Last-q.First]
	for k := range w.each {
		r := &w.each[k]
		w.charge(r, p, &p.Passages[q.First+k], t)
		empty += r.Unread()
		r.Begin()
	}
	w.rateStages(p, q, t)
	return empty
}

// rateStages works out what a part's stages cost by day (w.stages).
func (w *Worker) rateStages(p *instance.Instance, q *instance.Part, t *Duals) {
	mu := t.Weights()
	w.Stages.Reset(max(q.Hi-q.Lo+1, 0))
	for d := max(q.WinLo, q.Lo); d <= q.WinHi; d++ {
		r, at := &w.k.Room[d], d-q.Lo
		if q.HearsAll(w.k.Room, d) && q.Allowed(0, d) {
			w.Stages.Listen[at] = t.hearing(q, d) + mu.Closeness*float64(p.MovedListening(q, d))
		}
		if q.Read <= min(r.Playing, r.Held) && q.Allowed(1, d) {
			w.Stages.Read[at] = t.Minute[d]*float64(q.Read) + mu.Closeness*float64(p.Moved(q.Stand[1], d))
		}
	}
	for d := max(q.RecLo, q.Lo); d <= q.RecHi; d++ {
		if r, at := &w.k.Room[d], d-q.Lo; q.Rec <= min(r.Listening, r.Held) && q.Allowed(2, d) {
			w.Stages.Rec[at] = t.Listen[d]*float64(q.Rec) + mu.Closeness*float64(p.Moved(q.Stand[2], d))
		}
	}
}

// Block is what one weight decides: passages[first:last] of a part, and the
// part's frame if whole, in the frame given if not.
type Block struct {
	Part, First, Last int
	Whole             bool
	Held              bool // whole, but with its read-through and first round as the frame has them
	Frame             instance.Frame
	Box               *instance.Box       // whole, but only in frames of a box; nil: in any
	Frees             func(k, d int) bool // a passage, whose visit k may lie on day d; nil: on any
}

// Keeps tells whether a block may take a plan in a frame.
func (u *Block) Keeps(f instance.Frame) bool {
	if u.Box != nil && !u.Box.Holds(f) {
		return false
	}
	return !u.Held || f.Read == instance.None || f.Read == u.Frame.Read && f.Phi == u.Frame.Phi
}

// BlockPlan is a whole part: its frame and, passage by passage, its schedules.
type BlockPlan struct {
	PricedFrame
	Days [][]instance.Day
	S    instance.Score // every wish but body
}

// WholeParts gives the blocks of the whole season.
func WholeParts(p *instance.Instance) []Block {
	out := make([]Block, len(p.Parts))
	for i := range out {
		out[i] = WholePart(p, i)
	}
	return out
}

// WholePart gives a part as a block of a master, in any frame.
func WholePart(p *instance.Instance, i int) Block {
	q := &p.Parts[i]
	return Block{Part: i, First: q.First, Last: q.Last, Whole: true}
}

// PlanOf gives a block as it stands.
func PlanOf(s *instance.Solution, u *Block) BlockPlan {
	pl := BlockPlan{PricedFrame: PricedFrame{Frame: s.Frames[u.Part]}, Days: slices.Clone(s.Sched[u.First:u.Last])}
	if u.Whole {
		pl.S = s.P.StagesScore(&s.P.Parts[u.Part], pl.Frame)
	}
	for k, days := range pl.Days {
		pl.S = pl.S.Plus(s.P.ScheduleScore(&s.P.Passages[u.First+k], days))
	}
	return pl
}
