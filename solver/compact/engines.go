package compact

import (
	"context"
	"time"

	"primaprova/model"
	"primaprova/solver/cpsat"
	"primaprova/solver/highs"
	"primaprova/solver/mip"
	"primaprova/solver/run"
)

// Engines solve the wishes of a written-out program with what work is left: HiGHS, which most are
// proven by, and where it can't prove a wish CP-SAT, which comes to plans far sooner on crowded
// seasons. Its proofs are not taken.
type Engines struct {
	o         *run.Options
	all, left int64   // iterations of HiGHS
	asked     [5]bool // wishes that were solved
	hard      bool    // one of them, not asked about again, could not be proven: spacing's program would only cost time
}

// NewEngines gives them their work.
func NewEngines(o *run.Options) *Engines {
	all := max(o.Tuning().CompactLeast, o.Share(o.Tuning().CompactWork))
	return &Engines{o: o, all: all, left: all}
}

// Solve is a WholeEngine. Where something could not be proven, or the season is planned by columns, spacing
// can't be, most often: it is left to CP-SAT.
func (e *Engines) Solve(ctx context.Context, j model.Wish, m *mip.Model, start []float64) ([]float64, float64, error) {
	if j == model.Spacing && (e.hard || e.o.Tuning().Short) && e.o.Hours() != nil {
		x, err := e.second(ctx, j, m, start)
		return x, 0, err
	}
	again := e.asked[j]
	if again && e.hard {
		return start, 0, nil // that as little of a tolerance is spent as will do is worth less than the work
	}
	e.asked[j] = true
	r, err := e.highs(ctx, j, m, e.work(j, again), start)
	if err != nil || r.Gap() <= nearlyOne {
		return r.X, r.Bound, err
	}
	if again || j == model.Spacing || ctx.Err() != nil {
		return r.X, r.Bound, nil
	}
	if e.o.Hours() != nil {
		e.hard = true
		x, err := e.second(ctx, j, m, better(r.X, start))
		return x, r.Bound, err
	}
	if j == model.Coverage { // nothing else proves what has to be left out: no other wish pays for it
		left := e.left
		r, err = e.highs(ctx, j, m, e.o.Share(e.o.Tuning().CompactAlone), better(r.X, start))
		e.left = left
	}
	e.hard = e.hard || r.Gap() > nearlyOne
	return r.X, r.Bound, err
}

// work gives the iterations of HiGHS for a wish.
func (e *Engines) work(j model.Wish, again bool) int64 {
	switch {
	case again:
		return e.all / 10
	case j == model.Spacing:
		return max(e.all/3, e.left)
	case j == model.Coverage || e.hard && j == model.Body || e.o.Tuning().Short && j == model.ReadyBy && e.o.Hours() != nil: // CP-SAT comes after it
		return e.all / 7
	case e.hard:
		return e.all / 10
	case j == model.Body:
		return max(e.all/6, e.left-e.all/3)
	}
	return e.all / 3
}

// better gives a point that was found from another, or that one.
func better(found, start []float64) []float64 {
	if found == nil {
		return start
	}
	return found
}

// highs solves a program by HiGHS, with so much of the work.
func (e *Engines) highs(ctx context.Context, j model.Wish, m *mip.Model, work int64, start []float64) (highs.Result, error) {
	began := time.Now()
	o := highs.Options{MaxLPIterations: max(1, work), Patience: e.o.Tuning().CompactPatience, Enough: Within(e.o.Gap, work/2)}
	if e.hard {
		o.Raw = map[string]any{"mip_heuristic_run_rens": false} // it heeds no limit, and takes four times of one
	}
	r, err := byHighs(ctx, e.o.Engine, o, m, start)
	e.left = max(0, e.left-r.LPIterations)
	e.note(began, run.Event{Wish: j.String(), Iterations: r.LPIterations, Bound: max(0, r.Bound)}, m, start, r.X)
	return r, err
}

// second looks for a better point by CP-SAT, and gives the one that it began with where there is none.
func (e *Engines) second(ctx context.Context, j model.Wish, m *mip.Model, start []float64) ([]float64, error) {
	t := e.o.Tuning()
	work := t.CompactSecond[j] * float64(e.all) / float64(t.CompactWork)
	if work == 0 {
		return start, nil
	}
	if j == model.Spacing { // what the others left it
		work = max(work/3, min(work, float64(e.left)/t.CompactRate))
	}
	e.left = max(0, e.left-int64(work*t.CompactRate))
	began := time.Now()
	x, _, err := ByCPSAT(e.o.Hours(), cpsat.Params{Work: work})(ctx, j, m, start)
	e.note(began, run.Event{Wish: j.String()}, m, start, x)
	return better(x, start), err
}

// note notes what an engine made of a point.
func (e *Engines) note(began time.Time, v run.Event, m *mip.Model, start, x []float64) {
	v.Phase, v.Operator, v.Tried = "compact", run.Compact, 1
	if x != nil && start != nil {
		v.Saved = m.Value(start) - m.Value(x)
	}
	e.o.NoteSaved(began, v)
}
