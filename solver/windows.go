package solver

import (
	"context"

	"primaprova/model"
)

// windowSize is how many passages a window frees, as a rule.
const windowSize = 60

// windowPasses are the times that the season is gone through: how many iterations
// each window's integer program gets. The first ones are quick, since much is found
// everywhere; what is left then takes more. With a larger budget the last but one
// is gone through again and again.
var windowPasses = [...]int64{2500, 2500, 10_000, 2500}

// windows goes through the season, by first rehearsal, so many times. Body
// weighs against spacing, more and more while there is too much of it, so that
// what one window saves another may spend; the last time no window leaves the
// limit. Below it body is not spent at less than the trade.
func (s *search) windows(ctx context.Context, limit score) error {
	st := s.st.clone()
	a := aim{limits: unlimited}
	a.want[model.Body], a.want[model.Spacing] = trade, 1
	passes := max(2, s.scaled(len(windowPasses)))
	for pass := range passes {
		if pass == passes-1 {
			st = s.st.clone()
			a.want[model.Body], a.limits[model.Body] = trade, float64(limit[model.Body])/100
		}
		if err := s.through(ctx, st, &a, &limit, pass, passes); err != nil {
			return err
		}
		if pass == 0 {
			s.under(ctx, s.st, limit) // beside the windows that follow, if not running yet
		}
	}
	return s.conclude(ctx)
}

// through goes through the season once. The best state below the limit stays.
func (s *search) through(ctx context.Context, st *state, a *aim, limit *score, pass, of int) error {
	last := len(windowPasses) - 1
	work := windowPasses[min(pass, last-1)]
	if pass == of-1 {
		work = windowPasses[last]
	}
	lists, done := cuts(s.p.byRehearsal(), windowSize, pass), 0
	return s.roll(ctx, st, lists, func() window {
		for j := range model.Body {
			a.limits[j] = float64(limit[j])
		}
		s.told("windows", (5+(float64(pass)+float64(done)/float64(len(lists)))/float64(of))/6)
		return window{engine: s.o.Engine, aim: *a, rounds: 12, gap: worthIt, work: work}
	}, func() {
		done++
		s.take(st, limit)
		if st.score()[model.Body] > limit[model.Body] {
			a.want[model.Body] *= tradeStep
		} else {
			a.want[model.Body] = max(trade, a.want[model.Body]/tradeStep)
		}
	})
}

// tradeStep is by how much body's weight changes from one window to the
// next.
const tradeStep = 1.02

// cuts cuts a list into windows that overlap by a third, each pass elsewhere.
func cuts(order []int, size, pass int) [][]int {
	var out [][]int
	by := max(1, size*2/3)
	for first := -(pass * by / 3) % by; first < len(order); first += by {
		if list := order[max(0, first):min(len(order), first+size)]; len(list) > 0 {
			out = append(out, list)
		}
	}
	return out
}

// apart tells whether the days of two lists of passages are at least two weeks
// apart, so that neither changes what the other costs.
func (p *problem) apart(a, b []int) bool {
	lo, hi := [2]int{p.days, p.days}, [2]int{}
	for n, list := range [2][]int{a, b} {
		for _, k := range list {
			lo[n], hi[n] = min(lo[n], p.passages[k].lo), max(hi[n], p.passages[k].hi)
		}
	}
	return hi[0]+14 < lo[1] || hi[1]+14 < lo[0]
}
