package solver

import (
	"context"
	"slices"

	"primaprova/model"
	"primaprova/solver/colgen"
	"primaprova/solver/construct"
	"primaprova/solver/instance"
	"primaprova/solver/lns"
	"primaprova/solver/run"
)

// deepen takes down the last wish, where moves alone leave most. A dive makes a
// spread plan whole, windows and moves bring what that cost in the wishes before
// back under what was reached; where they can't, the plan as it stands is spread
// and made whole again. From the better one windows win back what its dive took
// in haste.
func (s *search) deepen(ctx context.Context, ahead *lns.Fractional) error {
	limit := s.Limits(s.st.Score())
	s.found = s.st
	s.told("dive", 4.5/6)
	ok, err := !s.o.Does(run.Dive), error(nil)
	if !ok {
		ok, err = s.whole(ctx, ahead, &limit)
	}
	if err == nil && !ok {
		k := lns.NewFractional(s.o, s.st)
		if err = s.SearchFrames(ctx, k, 1); err == nil {
			_, err = s.whole(ctx, k, &limit)
		}
	}
	var light *instance.Solution
	if err == nil {
		light, err = s.upToBody(ctx, &limit)
	}
	if err != nil && !colgen.Ended(ctx, err) {
		return err
	}
	both := !s.o.Tuning().Short || light == nil // else from one of the two, if that comes under body's limit
	if both || s.st.Score()[model.Body]*9/10 <= limit[model.Body] {
		err = s.windows(ctx, limit)
	}
	if err == nil && light != nil && (both || s.found.Score()[model.Body] > limit[model.Body]) {
		s.find(light)
		s.st = light
		err = s.windows(ctx, limit)
	}
	if s.st = s.found; err != nil {
		return err
	}
	if err = s.writtenSpacing(ctx); err != nil {
		return err
	}
	return s.Conclude(ctx, s.st)
}

// optimal tells whether a solution is proven to cost the least of every wish.
func (s *search) optimal(st *instance.Solution) bool {
	for _, w := range model.Wishes {
		if !s.Least(w, st.Score()) {
			return false
		}
	}
	return true
}

// find keeps a solution if it is the best one so far by the order of the wishes.
func (s *search) find(st *instance.Solution) {
	now, best := st.Score(), s.found.Score()
	if now.Better(best, s.Proven.Free(s.o.Tolerance, now.AtMost(best))) {
		s.found = st.Clone()
	}
}

// take works on from a solution if it is better than the one so far: in the wishes before
// body, or else as good there, and less of body and spacing together, where a
// minute of body above the limit counts twice. What body saves is left to be spent;
// what the wishes before it save is not. By the order of the wishes it may be worse:
// what is ahead wins back body. So the best one by that is kept apart (find).
func (s *search) take(st *instance.Solution, limit *instance.Score) bool {
	s.find(st)
	now, best := st.Score(), s.st.Score()
	worth := func(z instance.Score) int64 {
		return instance.Traded(z) + instance.Trade*max(0, z[model.Body]-limit[model.Body])
	}
	if c := slices.Compare(now[:model.Body], best[:model.Body]); c > 0 || c == 0 && worth(now) >= worth(best) {
		return false
	}
	s.st = st.Clone()
	now = s.Limits(now)
	copy(limit[:model.Body], now[:model.Body])
	return true
}

// whole makes a spread plan whole and tells whether it came under the limit, and
// further down than the plan so far.
func (s *search) whole(ctx context.Context, k *lns.Fractional, limit *instance.Score) (bool, error) {
	order := s.p.ByRehearsal()
	for list := range slices.Chunk(order, lns.Evenly(len(order), s.o.Tuning().DivePassages)) {
		if err := k.Whole(ctx, list, instance.WeightedSum(instance.Trade), s.o.Scaled(s.o.Tuning().DiveRounds), s.o.Tuning().Fast); err != nil {
			return false, err
		}
	}
	st := k.State()
	if err := s.Repair(ctx, st, order, model.ReadyBy, s.o.Tuning().Thorough); err != nil {
		return false, err
	}
	for goal := model.Coverage; goal <= model.ReadyBy; goal++ {
		if err := s.FillIn(ctx, st, goal); err != nil {
			return false, err
		}
	}
	s.aimAt(ctx, st, limit)
	if !limit.Allows(st.Score(), model.Body) {
		construct.NewAnnealer(st, uint64(s.o.Seed)).Towards(ctx, model.Spacing, *limit, s.o.Scaled(s.o.Tuning().Mend*len(order)))
	}
	better := s.take(st, limit)
	best := s.Limits(s.st.Score())
	copy(limit[:model.Body], best[:model.Body]) // what was aimed at may be out of reach
	return better, nil
}

// aimAt sets the limits to the least that the plan so far or a solution costs in
// the wishes before body, and to a little more body than such plans take at
// least, where that is found out.
func (s *search) aimAt(ctx context.Context, st *instance.Solution, limit *instance.Score) {
	now := s.Limits(st.Score())
	for j := range model.Body {
		limit[j] = min(limit[j], now[j])
	}
	v := s.Under(ctx, st, *limit)
	<-v.Aimed
	if v.Least > 0 {
		limit[model.Body] = instance.Tolerated(s.o.Tolerance, model.Body, v.Least)
		s.Proven = append(s.Proven, instance.Bound{Wish: model.Body, Least: v.Least, Under: v.Limit})
	}
}

// windows goes through the season so many times. Body weighs against spacing, more
// and more while there is too much of it, so that what one window saves another may
// spend. It begins above the trade: what the dive took in haste is body, most of it. A short season, once
// under the limit of body, is held there by its windows instead.
func (s *search) windows(ctx context.Context, limit instance.Score) error {
	st := s.st.Clone()
	a := instance.Objective{Limit: instance.Unlimited}
	a.Weight[model.Body], a.Weight[model.Spacing] = s.o.Tuning().TradeFirst*instance.Trade, 1
	passes := max(2, s.o.Scaled(len(s.o.Tuning().Passes)))
	for pass := range passes {
		if s.Near(s.found, pass) || s.o.Tuning().Short && s.optimal(s.found) {
			return nil
		}
		told := func(done float64) { s.told("windows", (5+(float64(pass)+done)/float64(passes))/6) }
		if err := s.Sweep(ctx, st, &a, &limit, pass, told, s.take); err != nil {
			return err
		}
		if pass == 0 {
			s.Under(ctx, s.st, limit).GoOn() // beside the windows that follow, if not running yet
		}
		if by := s.o.Tuning().Passes; by[min(pass, len(by)-1)].Repair && pass < len(by) {
			if err := s.Repair(ctx, st, s.p.ByRehearsal(), model.ReadyBy, s.o.Tuning().Brief); err != nil {
				return err
			}
			s.take(st, &limit)
		}
	}
	return nil
}
