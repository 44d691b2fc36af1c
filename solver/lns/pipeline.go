package lns

import (
	"context"
	"slices"
	"time"

	"primaprova/solver/colgen"
	"primaprova/solver/instance"
	"primaprova/solver/pricing"
	"primaprova/solver/run"
)

// improve goes through an operator's neighbourhoods of a solution once, so many side by
// side as there are cores. Next gives the sub-MIP for the solution as it then is; after is called when
// what came of one was taken, or not. An operator that is left out does nothing.
func (nb *Search) improve(ctx context.Context, st *instance.Solution, op Operator, pass int, next func() subMIP, after func()) error {
	if !nb.O.Does(op.Name()) {
		return nil
	}
	return nb.pipelineOn(ctx, nb.O.Cores(), st, op.Name(), op.Neighbourhoods(st, pass), next, after)
}

// pipelineOn solves windows and puts what they find into a solution, stretches of the
// season side by side. What a window starts from depends on none that runs beside
// it: it is the solution with all windows in it that came before it, but for the last
// few, and those have no day in common with it. So the result is the same whichever
// is done first. Next gives the window for the solution as it then is; after is called
// when one was put in.
func (nb *Search) pipelineOn(ctx context.Context, cores int, st *instance.Solution, name string, pieces []neighbourhood, next func() subMIP, after func()) error {
	pieces, stripes := striped(pieces, nb.O.Tuning().Stripes)
	free := make(chan *pricing.Pricer, cores)
	for range cores {
		free <- pricing.NewPricer(nb.P, 1)
	}
	put, plans := 0, queue[solved]{ctx: ctx}
	ws := make([]subMIP, len(pieces))
	plans.keep = func(of solved) {
		w := &ws[put]
		e := run.Event{Phase: w.phase, Operator: name, Tried: 1, Work: of.work, Iterations: of.iterations}
		if was := st.Score(); of.plans != nil {
			w.replace(st, pieces[put].list, of.plans)
			if now := st.Score(); now != was {
				e.Kept, e.Saved = 1, w.aim.Whole(was)-w.aim.Whole(now)
			}
		}
		e.Score = st.Score().Figures()
		nb.O.Note(of.began, e)
		put++
		after()
	}
	for n := range pieces {
		first := max(0, n-stripes+1)
		for i := first; i < n; i++ {
			if !pieces[i].apart(&pieces[n]) {
				first = i + 1
			}
		}
		plans.leave(n - first)
		if ctx.Err() != nil || plans.err != nil {
			break
		}
		ws[n] = next()
		w, from := ws[n], st.Clone()
		plans.begin(func() (of solved, err error) {
			w.pricer = <-free
			defer func() { free <- w.pricer }()
			of.began = time.Now()
			of.plans, err = w.schedules(ctx, from, &pieces[n])
			of.work, of.iterations = w.spent, w.iterations
			return of, err
		})
	}
	plans.leave(0)
	return plans.err
}

// solved is what came of a sub-MIP, and what that took.
type solved struct {
	plans            []pricing.BlockPlan // nil where nothing costs less
	began            time.Time
	work, iterations int64
}

// striped orders pieces so that as many stretches of the season as possible are
// gone through in turn, those that follow each other apart, and tells how many
// there are.
func striped(pieces []neighbourhood, most int) ([]neighbourhood, int) {
	var out []neighbourhood
	for stripes := most; stripes > 1; stripes-- {
		out = out[:0]
		each := (len(pieces) + stripes - 1) / stripes
		for n := range each {
			for at := n; at < len(pieces); at += each {
				out = append(out, pieces[at])
			}
		}
		if allApart(out, stripes) {
			return out, stripes
		}
	}
	return out, 2
}

// allApart tells whether each piece is apart from so many before it, itself counted.
func allApart(pieces []neighbourhood, n int) bool {
	for i := range pieces {
		if slices.ContainsFunc(pieces[max(0, i-n+1):i], func(c neighbourhood) bool { return !c.apart(&pieces[i]) }) {
			return false
		}
	}
	return true
}

// queue is of things that are tried side by side. What came of each is kept in the
// order in which they were begun, and when whoever holds the queue says so: thus no
// result depends on which was done first.
type queue[R any] struct {
	ctx   context.Context
	keep  func(R)           // takes what came of a thing, an error or not
	begun []chan outcome[R] // and not kept yet, in order
	err   error             // the first, but for those that only ended what was being tried
}

// outcome is what came of one thing.
type outcome[R any] struct {
	result R
	err    error
}

// begin begins to try a thing.
func (q *queue[R]) begin(try func() (R, error)) {
	c := make(chan outcome[R], 1)
	q.begun = append(q.begun, c)
	go func() {
		r, err := try()
		c <- outcome[R]{r, err}
	}()
}

// leave waits for the first things and keeps them, until no more than so many are
// begun and not kept.
func (q *queue[R]) leave(n int) {
	for len(q.begun) > n {
		first := <-q.begun[0]
		q.begun = q.begun[1:]
		if q.err == nil && first.err != nil && !colgen.Ended(q.ctx, first.err) {
			q.err = first.err
		}
		q.keep(first.result)
	}
}
