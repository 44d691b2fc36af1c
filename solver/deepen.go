package solver

import (
	"context"
	"math/rand/v2"

	"primaprova/model"
)

// trade is how many days of spacing a minute of body weighs where frames are
// chosen: about what the two cost each other at the best plans.
const trade = 1

// settleTries and settleRounds are how many frames a part is held to in trial,
// and how often each is priced; walks is how often the walk goes through the
// parts; chunkSize is about how many passages one dive places, so that its
// linear programs stay small however long the season is; mends is how many moves
// a passage gets after it.
const (
	settleTries  = 5
	settleRounds = 12
	walks        = 4
	chunkSize    = 700
	mends        = 200
)

// spreadOut finds frames for the whole season while passages are spread: a
// master that weighs body against spacing settles them (settle), then they walk
// (walk). It needs of the state it is given only something to begin with.
func (s *search) spreadOut(ctx context.Context, from *state) (*spread, error) {
	m, err := newMaster(s.o.Engine, newPricer(s.p, 1), s.p.wholeParts(), newState(s.p))
	if err != nil {
		return nil, err
	}
	defer m.close()
	if err := m.addState(from); err != nil {
		return nil, err
	}
	if err := m.set(weighed(trade)); err != nil {
		return nil, err
	}
	if err := m.settle(ctx, from, s.scaled(settleTries), s.scaled(settleRounds)); err != nil {
		return nil, err
	}
	k := spreadOf(m, from)
	return k, s.walk(ctx, k, s.scaled(walks))
}

func (s *search) walk(ctx context.Context, k *spread, times int) error {
	w := &walk{k, weighed(trade), rand.New(rand.NewPCG(uint64(s.o.Seed), 0x77616c6b))}
	for range times {
		if moved, err := w.run(ctx); err != nil || !moved {
			return err
		}
	}
	return nil
}

// deepen takes down the last wish, where moves alone leave most. A dive makes a
// spread plan whole, windows and moves bring what that cost in the wishes before
// back under what was reached; where they can't, the plan as it stands is spread
// and made whole again. From the better one windows win back what its dive took
// in haste.
func (s *search) deepen(ctx context.Context, ahead *spread) error {
	limit := s.st.score()
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
	return s.windows(ctx, limit)
}

// take keeps a state that costs no more than the limit in the wishes before
// spacing, if it is better than the one so far. What it saves in body is left
// to be spent; what it saves in the wishes before that is not.
func (s *search) take(st *state, limit *score) bool {
	now, best := st.score(), s.st.score()
	if !limit.allows(now, model.Spacing) {
		return false
	}
	now[model.Body], best[model.Body] = 0, 0
	if !now.less(best) {
		return false
	}
	s.st = st.clone()
	copy(limit[:model.Body], now[:model.Body])
	return true
}

// whole makes a spread plan whole and tells whether it came under the limit, and
// further down than the plan so far.
func (s *search) whole(ctx context.Context, k *spread, limit *score) (bool, error) {
	order := s.p.byRehearsal()
	chunks := max(1, (len(order)+chunkSize/2)/chunkSize)
	for c := range chunks {
		list := order[c*len(order)/chunks : (c+1)*len(order)/chunks]
		if err := k.whole(ctx, list, weighed(trade), s.scaled(15)); err != nil {
			return false, err
		}
	}
	st := k.state()
	if err := s.repair(ctx, st); err != nil {
		return false, err
	}
	if now := st.score(); now.less(*limit) { // what it saves in the first wishes is kept
		copy(limit[:model.Closeness], now[:model.Closeness])
	}
	newImprover(st, uint64(s.o.Seed)).towards(ctx, model.Spacing, *limit, s.scaled(mends*len(order)))
	return s.take(st, limit), nil
}

// repair wins back, by windows around them, what a dive squeezed out or made
// late.
func (s *search) repair(ctx context.Context, st *state) error {
	order := s.p.byRehearsal()
	w := &window{s.o.Engine, newPricer(s.p, 1), weighed(trade), 12, windowWork}
	for at := 0; at < len(order) && ctx.Err() == nil; at++ {
		c := s.p.scheduleScore(&s.p.passages[order[at]], st.sched[order[at]])
		if c[model.Coverage] == 0 && c[model.ReadyBy] == 0 {
			continue
		}
		list := order[max(0, at-windowSize/3):min(len(order), at+2*windowSize/3)]
		if err := w.better(ctx, st, list); err != nil && !ended(ctx, err) {
			return err
		}
		at += windowSize / 6 // the next ones had their chance in this window
	}
	return nil
}

// byRehearsal lists the passages by their part's first rehearsal.
func (p *problem) byRehearsal() []int {
	var out []int
	for _, i := range p.byDeadline() {
		for k := p.parts[i].first; k < p.parts[i].last; k++ {
			out = append(out, k)
		}
	}
	return out
}
