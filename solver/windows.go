package solver

import (
	"context"
	"math"

	"primaprova/model"
)

// windowSize is how many passages a window frees, as a rule.
const windowSize = 60

// windowPasses are the times that the season is gone through: over strips of how
// many days, 0 being whole passages, how many iterations each window's integer
// program gets, and how much chance there is in it. With a larger budget the last is
// gone through again and again.
var windowPasses = [...]struct {
	days   int
	work   int64
	chance float64
}{{0, 2500, 0}, {21, 2500, 0}, {28, 5000, 0}, {21, 5000, 0}, {21, 2500, 0.02}}

// windows goes through the season so many times. Body weighs against spacing, more
// and more while there is too much of it, so that what one window saves another may
// spend. It begins above the trade: what the dive took in haste is body, most of it.
func (s *search) windows(ctx context.Context, limit score) error {
	st := s.st.clone()
	a := aim{limits: unlimited}
	a.want[model.Body], a.want[model.Spacing] = 1.5*trade, 1
	passes := max(2, s.scaled(len(windowPasses)))
	for pass := range passes {
		if err := s.through(ctx, st, &a, &limit, pass, passes); err != nil {
			return err
		}
		if pass == 0 {
			s.under(ctx, s.st, limit) // beside the windows that follow, if not running yet
		}
		if pass == 1 { // what found no room after the dive may now, with the days emptier
			if err := s.repair(ctx, st, s.p.byRehearsal(), model.ReadyBy, brief); err != nil {
				return err
			}
			s.take(st, &limit)
		}
	}
	return nil
}

// through goes through the season once. The best state stays.
func (s *search) through(ctx context.Context, st *state, a *aim, limit *score, pass, of int) error {
	by := windowPasses[min(pass, len(windowPasses)-1)]
	pieces := s.p.cuts(s.p.byRehearsal(), windowSize, pass)
	if by.days > 0 {
		pieces = st.strips(by.days, pass, nil)
	}
	begun, done := 0, 0
	step := math.Pow(tradeRange, 1/float64(len(pieces)))
	return s.roll(ctx, st, pieces, func() window {
		for j := range model.Body {
			a.limits[j] = float64(limit[j])
		}
		s.told("windows", (5+(float64(pass)+float64(done)/float64(len(pieces)))/float64(of))/6)
		begun++
		return window{engine: s.o.Engine, aim: *a, rounds: 30, gap: worthIt, work: by.work, chance: by.chance, salt: uint64(pass)<<32 + uint64(begun)}
	}, func() {
		done++
		s.take(st, limit)
		if st.score()[model.Body] > limit[model.Body] {
			a.want[model.Body] *= step
		} else {
			a.want[model.Body] = max(leastTrade, a.want[model.Body]/step)
		}
	})
}

// tradeRange is by how much body's weight may rise, or fall, while the season is gone
// through once, little by little from one window to the next: as much in a long season
// as in a short one.
const tradeRange = 1.25

// leastTrade is what body weighs at least, where there is room to spend.
const leastTrade = 0.25 * trade
