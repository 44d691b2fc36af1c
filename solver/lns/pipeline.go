package lns

import (
	"context"
	"slices"

	"primaprova/solver/instance"
	"primaprova/solver/pricing"
)

// stripesMost is how many stretches of a season at most are gone through side by
// side. More than there are cores, so that none is idle while one takes long.
const stripesMost = 6

// pipeline is rollOn with the two cores that a season is planned on.
func (nb *Search) pipeline(ctx context.Context, st *instance.Solution, pieces []neighbourhood, next func() subMIP, after func()) error {
	return nb.pipelineOn(ctx, 2, st, pieces, next, after)
}

// pipelineOn solves windows and puts what they find into a solution, stretches of the
// season side by side. What a window starts from depends on none that runs beside
// it: it is the solution with all windows in it that came before it, but for the last
// few, and those have no day in common with it. So the result is the same whichever
// is done first. Next gives the window for the solution as it then is; after is called
// when one was put in.
func (nb *Search) pipelineOn(ctx context.Context, cores int, st *instance.Solution, pieces []neighbourhood, next func() subMIP, after func()) error {
	pieces, stripes := striped(pieces)
	free := make(chan *pricing.Pricer, cores)
	for range cores {
		free <- pricing.NewPricer(nb.P, 1)
	}
	put, plans := 0, queue[[]pricing.BlockPlan]{ctx: ctx}
	ws := make([]subMIP, len(pieces))
	plans.keep = func(of []pricing.BlockPlan) {
		if of != nil {
			ws[put].replace(st, pieces[put].list, of)
		}
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
		plans.begin(func() ([]pricing.BlockPlan, error) {
			w.pricer = <-free
			defer func() { free <- w.pricer }()
			return w.schedules(ctx, from, &pieces[n])
		})
	}
	plans.leave(0)
	return plans.err
}

// striped orders pieces so that as many stretches of the season as possible are
// gone through in turn, those that follow each other apart, and tells how many
// there are.
func striped(pieces []neighbourhood) ([]neighbourhood, int) {
	var out []neighbourhood
	for stripes := stripesMost; stripes > 1; stripes-- {
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
