package solver

import (
	"context"
	"slices"
)

// settleSize is how many parts at least are settled together; settleTries and
// settleRounds are how many frames a part is held to in trial, and how often each is
// priced.
const (
	settleSize   = 30
	settleTries  = 5
	settleRounds = 10
)

// settle holds the parts listed to one frame each, and spreads their passages.
// The parts after them that meet them are free to give way.
//
// A master over all of them mixes frames. Then one part after the other is held, those
// first whose heaviest frame weighs most, among the parts that are close to it; all
// others stay as they are mixed (mixture).
func (nb *neighbourhoods) settle(ctx context.Context, k *spread, from *state, list []int) error {
	tries, rounds := nb.o.scaled(settleTries), nb.o.scaled(settleRounds)
	x := k.mix(nb.p.andAfter(list))
	m, err := x.among(newPricer(nb.p, 2), x.list, weighed(trade))
	if err != nil {
		return err
	}
	defer m.close()
	if err := m.addState(from); err != nil {
		return err
	}
	if err := m.solve(ctx, 5*rounds); err != nil {
		return err
	}
	x.take(m)
	for {
		next := x.heaviest(list)
		if next == none {
			break
		}
		if err := x.hold(ctx, m.pricer, next, from.frames[next], tries, rounds); err != nil {
			return err
		}
	}
	k.takeFrom(x, list)
	return nil
}

// hold holds a part to one frame in the master of those close to it. A frame's
// weight says little of what it costs to have nothing else: a first round of
// two days takes a third of the passages, and not all of them. So its heaviest
// frames are tried, and one beside them, until one costs next to nothing; the cheapest
// stays. tries is how many frames at most, rounds how often each is priced.
func (x *mixture) hold(ctx context.Context, pr *pricer, part int, beside frame, tries, rounds int) error {
	q := &x.parts[part]
	if f := q.frames[0]; f.weight > 1-1e-4 && f.read != none {
		q.held, q.frame = true, f.frame // nothing else has weight: it costs nothing
		return nil
	}
	m, err := x.among(pr, x.rest.p.parts[part].close, weighed(trade))
	if err != nil {
		return err
	}
	defer m.close()
	if err := m.solve(ctx, (rounds+1)/2); err != nil {
		return err
	}
	at := slices.IndexFunc(m.units, func(u unit) bool { return u.part == part })
	try := append(slices.Clone(q.frames[:min(tries, len(q.frames))]), weighedFrame{frame: beside})
	if err := m.hold(ctx, at, try, rounds); err != nil {
		return err
	}
	x.take(m)
	return nil
}

// hold holds a unit to the cheapest of the frames given.
func (m *master) hold(ctx context.Context, i int, frames []weighedFrame, rounds int) error {
	before, best := m.value, inf
	var at frame
	u := &m.units[i]
	for _, f := range frames {
		if f.read == none {
			continue
		}
		u.held, u.frame = true, f.frame
		if err := m.set(m.aim); err != nil {
			return err
		}
		for range rounds {
			if err := m.run(ctx); err != nil {
				return err
			}
			added, err := m.round()
			if err != nil {
				return err
			}
			if added == 0 || m.bound >= best || m.value-m.bound < 1e-4*m.value {
				break
			}
		}
		if m.value < best {
			best, at = m.value, f.frame
		}
		if best <= before+worthwhile {
			break
		}
	}
	if best == inf {
		at = frame{none, none, none, none}
	}
	u.held, u.frame = true, at
	if err := m.set(m.aim); err != nil {
		return err
	}
	return m.solve(ctx, (rounds+1)/2)
}
