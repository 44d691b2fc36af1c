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

// fixFrames holds the parts listed to one frame each, and spreads their passages.
// The parts after them that meet them are free to give way.
//
// A master over all of them mixes frames. Then one part after the other is held, those
// first whose heaviest frame weighs most, among the parts that are close to it; all
// others stay as they are mixed (mixture).
func (nb *Search) fixFrames(ctx context.Context, k *Fractional, from *instance.Solution, list []int) error {
	began, by := time.Now(), nb.O.Tuning()
	tries, rounds := nb.O.Scaled(by.FixTries), nb.O.Scaled(by.FixRounds)
	x := k.mix(nb.P.AndAfter(list))
	m, err := x.among(pricing.NewPricer(nb.P, nb.O.Cores()), x.list, instance.WeightedSum(instance.Trade))
	if err != nil {
		return err
	}
	defer m.Close()
	if err := m.AddState(from); err != nil {
		return err
	}
	if err := m.Solve(ctx, 5*rounds); err != nil {
		return err
	}
	x.take(m)
	for {
		next := x.heaviest(list)
		if next == instance.None {
			break
		}
		if err := x.hold(ctx, m.Pricer, next, from.Frames[next], tries, rounds); err != nil {
			return err
		}
	}
	k.takeFrom(x, list)
	nb.O.Note(began, run.Event{Phase: k.phase, Operator: run.Fix, Tried: len(list), Kept: len(list), Work: x.work + m.Work})
	return nil
}

// hold holds a part to one frame in the master of those close to it. A frame's
// weight says little of what it costs to have nothing else: a first round of
// two days takes a third of the passages, and not all of them. So its heaviest
// frames are tried, and one beside them, until one costs next to nothing; the cheapest
// stays. tries is how many frames at most, rounds how often each is priced.
func (x *frameMixture) hold(ctx context.Context, pr *pricing.Pricer, part int, beside instance.Frame, tries, rounds int) error {
	q := &x.parts[part]
	if f := q.frames[0]; f.Weight > 1-1e-4 && f.Read != instance.None {
		q.held, q.frame = true, f.Frame // nothing else has weight: it costs nothing
		return nil
	}
	m, err := x.among(pr, x.rest.P.Parts[part].Nearest, instance.WeightedSum(instance.Trade))
	if err != nil {
		return err
	}
	defer func() { x.work += m.Work; m.Close() }()
	if err := m.Solve(ctx, (rounds+1)/2); err != nil {
		return err
	}
	at := slices.IndexFunc(m.Blocks, func(u pricing.Block) bool { return u.Part == part })
	try := append(slices.Clone(q.frames[:min(tries, len(q.frames))]), colgen.WeighedFrame{Frame: beside})
	if err := holdBlock(ctx, m, at, try, rounds, x.o.Tuning().FrameLeast); err != nil {
		return err
	}
	x.take(m)
	return nil
}

// holdBlock holds a block to the cheapest of the frames given, or to the first that costs
// hardly more than least.
func holdBlock(ctx context.Context, m *colgen.Master, i int, frames []colgen.WeighedFrame, rounds int, least float64) error {
	before, best := m.Value, instance.Inf
	var at instance.Frame
	u := &m.Blocks[i]
	for _, f := range frames {
		if f.Read == instance.None {
			continue
		}
		u.Held, u.Frame = true, f.Frame
		if err := m.Minimise(m.Objective); err != nil {
			return err
		}
		enough := func(added int) bool { return added == 0 || m.Bound >= best || m.Value-m.Bound < 1e-4*m.Value }
		if err := m.Price(ctx, rounds, enough); err != nil {
			return err
		}
		if m.Value < best {
			best, at = m.Value, f.Frame
		}
		if best <= before+least {
			break
		}
	}
	if best == instance.Inf {
		at = instance.Frame{Listen: instance.None, Read: instance.None, Rec: instance.None, Phi: instance.None}
	}
	u.Held, u.Frame = true, at
	if err := m.Minimise(m.Objective); err != nil {
		return err
	}
	return m.Solve(ctx, (rounds+1)/2)
}
