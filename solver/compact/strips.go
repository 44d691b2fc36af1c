package compact

import (
	"context"
	"fmt"

	"primaprova/model"
	"primaprova/solver/instance"
	"primaprova/solver/mip"
)

// Strips better a wish by smaller programs, one for each strip of days: what lies in the strip moves
// within it, stages and first rounds included, and passages that cost something in the wish move
// wherever they may; all else stands. Columns hold a part's frame while its passages move; here both move
// together, which is what passages that are late in a crowded season wait for.
type Strips struct {
	Engine WholeEngine
	Days   int // of a strip; the next one overlaps it by half
	Pass   int // through the season; each is cut elsewhere
}

// Better gives a solution that costs less in a wish, those before it held, or the one it begins with, and tells
// how many strips were tried.
func (g Strips) Better(ctx context.Context, p *instance.Instance, from *instance.Solution, j model.Wish, held instance.Score) (best *instance.Solution, tried int, err error) {
	w := Write(p)
	w.wish(j, held)
	best = from
	for first := p.Today - g.Pass*g.Days*3/8%(g.Days/2); first < p.Days && ctx.Err() == nil; first += g.Days / 2 {
		last := first + g.Days - 1
		costly := costly(best, j, first, last)
		if len(costly) == 0 {
			continue
		}
		tried++
		found, err := w.strip(ctx, g.Engine, j, best, first, last, costly)
		if err != nil {
			return best, tried, fmt.Errorf("%v, days from %d: %w", j, first, err)
		}
		if found != nil && found.Score().LessFrom(best.Score(), j) && held.Allows(found.Score(), j) {
			best = found
		}
	}
	return best, tried, nil
}

// costly gives the passages that cost something in a wish and have days from first to last.
func costly(s *instance.Solution, j model.Wish, first, last int) map[int]bool {
	out := map[int]bool{}
	for k := range s.P.Passages {
		if q := &s.P.Passages[k]; q.Lo <= last && q.Hi >= first && s.P.ScheduleScore(q, s.Sched[k])[j] > 0 {
			out[k] = true
		}
	}
	return out
}

// strip solves the program of one strip, nil if nothing is found. The program is afterwards as it was.
func (w *Program) strip(ctx context.Context, engine WholeEngine, j model.Wish, from *instance.Solution, first, last int, free map[int]bool) (*instance.Solution, error) {
	x := w.Start(from)
	type bounds struct {
		v        mip.Var
		low, upp float64
	}
	var was []bounds
	// Before the strip all stands, and after it what begins there, and what is left out. What lies within may
	// end up after it: where there is room left, why not.
	hold := func(t *track, day instance.Day) {
		inside := first <= int(day) && int(day) <= last
		t.each(func(d int) {
			if inside && d >= first {
				return
			}
			v := t.by[d-t.lo]
			was = append(was, bounds{v, w.M.Lower(v), w.M.Upper(v)})
			w.M.SetBounds(v, x[v], x[v])
		})
	}
	for i := range w.P.Parts {
		f := &from.Frames[i]
		hold(&w.listen[i], f.Listen)
		hold(&w.read[i], f.Read)
		hold(&w.rec[i], f.Rec)
	}
	for i := range w.Visits {
		for k := range w.Visits[i] {
			day := instance.Day(instance.None)
			if k < len(from.Sched[i]) {
				day = from.Sched[i][k]
			}
			if !free[i] {
				hold(&w.Visits[i][k], day)
			}
		}
	}
	found, _, err := engine(ctx, j, w.M, x)
	for _, b := range was {
		w.M.SetBounds(b.v, b.low, b.upp)
	}
	if found == nil || err != nil {
		return nil, err
	}
	return w.State(found), nil
}
