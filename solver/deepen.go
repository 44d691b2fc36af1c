package solver

import (
	"context"
	"slices"

	"primaprova/model"
)

// trade is how many days of spacing a minute of body weighs where frames are
// chosen: about what the two cost each other at the best plans.
const trade = 1

// walkWork is a part's share of the work (master.work) after which frames rest, so
// that where more lies open at once they walk less, and don't take longer.
const walkWork = 17_000_000

// walks is how often the walk goes through the parts; chunkSize is how many passages
// at least one dive places, so that its linear programs stay small however long the
// season is; mends is how many moves a passage gets after it where that lacks
// something.
const (
	walks     = 4
	chunkSize = 600
	mends     = 200
)

// spreadOut finds frames for the whole season while passages are spread: a
// master that weighs body against spacing settles them (settle), chunk by chunk
// in the order of the first rehearsals, so that the work grows as the season
// does; then they walk (walk) and are stirred, chunk by chunk too (stirUp). It needs
// of the state it is given only something to begin with.
func (s *search) spreadOut(ctx context.Context, from *state) (*spread, error) {
	k := newSpread(s.o.Engine, from)
	order := s.p.byDeadline()
	size := evenly(len(order), settleSize)
	for list := range slices.Chunk(order, size) {
		if err := s.settle(ctx, k, from, list); err != nil {
			return nil, err
		}
	}
	k.most = s.walkMost(len(s.p.parts))
	if err := s.walk(ctx, k, s.scaled(walks)); err != nil {
		return nil, err
	}
	var stretches []stretch
	walked := k.work / int64(max(1, len(order)))
	for list := range slices.Chunk(order, size) {
		stretches = append(stretches, stretch{parts: list, most: s.walkMost(len(list)), walked: walked * int64(len(list))})
	}
	return k, s.stirUp(ctx, k, stretches)
}

// walkMost is the work after which the frames of so many parts rest.
func (s *search) walkMost(parts int) int64 { return int64(s.scaled(walkWork * parts)) }

// evenly gives the size of chunks that cut n things evenly, the least one that is
// not below a size given.
func evenly(n, size int) int {
	chunks := max(1, n/size)
	return max(1, (n+chunks-1)/chunks)
}

func (s *search) walk(ctx context.Context, k *spread, times int) error {
	return newWalk(k, weighed(trade), s.o.Seed).runs(ctx, times)
}

// deepen takes down the last wish, where moves alone leave most. A dive makes a
// spread plan whole, windows and moves bring what that cost in the wishes before
// back under what was reached; where they can't, the plan as it stands is spread
// and made whole again. From the better one windows win back what its dive took
// in haste.
func (s *search) deepen(ctx context.Context, ahead *spread) error {
	limit := s.limits(s.st.score())
	s.found = s.st
	s.told("dive", 4.5/6)
	ok, err := s.whole(ctx, ahead, &limit)
	if err == nil && !ok {
		k := newSpread(s.o.Engine, s.st)
		if err = s.walk(ctx, k, 1); err == nil {
			_, err = s.whole(ctx, k, &limit)
		}
	}
	if err != nil && !ended(ctx, err) {
		return err
	}
	err = s.windows(ctx, limit)
	if s.st = s.found; err != nil {
		return err
	}
	return s.conclude(ctx)
}

// find keeps a state if it is the best one so far by the order of the wishes.
func (s *search) find(st *state) {
	now, best := st.score(), s.found.score()
	if now.better(best, s.proven.free(s.o.Tolerance, now.atMost(best))) {
		s.found = st.clone()
	}
}

// take works on from a state if it is better than the one so far: in the wishes before
// body, or else as good there, and less of body and spacing together, where a
// minute of body above the limit counts twice. What body saves is left to be spent;
// what the wishes before it save is not. By the order of the wishes it may be worse:
// what is ahead wins back body. So the best one by that is kept apart (find).
func (s *search) take(st *state, limit *score) bool {
	s.find(st)
	now, best := st.score(), s.st.score()
	worth := func(z score) int64 { return z.traded() + trade*max(0, z[model.Body]-limit[model.Body]) }
	if c := slices.Compare(now[:model.Body], best[:model.Body]); c > 0 || c == 0 && worth(now) >= worth(best) {
		return false
	}
	s.st = st.clone()
	now = s.limits(now)
	copy(limit[:model.Body], now[:model.Body])
	return true
}

// traded gives body and spacing in one figure, in hundredths of a day.
func (s score) traded() int64 { return trade*s[model.Body] + 100*s[model.Spacing] }

// whole makes a spread plan whole and tells whether it came under the limit, and
// further down than the plan so far.
func (s *search) whole(ctx context.Context, k *spread, limit *score) (bool, error) {
	order := s.p.byRehearsal()
	for list := range slices.Chunk(order, evenly(len(order), chunkSize)) {
		if err := k.whole(ctx, list, weighed(trade), s.scaled(15), fast); err != nil {
			return false, err
		}
	}
	st := k.state()
	if err := s.repair(ctx, st, order, model.ReadyBy, thorough); err != nil {
		return false, err
	}
	for goal := model.Coverage; goal <= model.ReadyBy; goal++ {
		if err := s.fillIn(ctx, st, goal); err != nil {
			return false, err
		}
	}
	s.aimAt(ctx, st, limit)
	if !limit.allows(st.score(), model.Body) {
		newImprover(st, uint64(s.o.Seed)).towards(ctx, model.Spacing, *limit, s.scaled(mends*len(order)))
	}
	better := s.take(st, limit)
	best := s.limits(s.st.score())
	copy(limit[:model.Body], best[:model.Body]) // what was aimed at may be out of reach
	return better, nil
}

// aimAt sets the limits to the least that the plan so far or a state costs in
// the wishes before body, and to a little more body than such plans take at
// least, where that is found out.
func (s *search) aimAt(ctx context.Context, st *state, limit *score) {
	now := s.limits(st.score())
	for j := range model.Body {
		limit[j] = min(limit[j], now[j])
	}
	v := s.under(ctx, st, *limit)
	<-v.aimed
	if v.least > 0 {
		limit[model.Body] = spared(s.o.Tolerance, model.Body, v.least)
		s.proven = append(s.proven, bound{model.Body, v.least, v.limit})
	}
}

// byRehearsal lists the passages by their part's first rehearsal.
func (p *problem) byRehearsal() []int { return p.passagesOf(p.byDeadline()) }

// passagesOf lists the passages of some parts.
func (p *problem) passagesOf(parts []int) []int {
	var out []int
	for _, i := range parts {
		for k := p.parts[i].first; k < p.parts[i].last; k++ {
			out = append(out, k)
		}
	}
	return out
}
