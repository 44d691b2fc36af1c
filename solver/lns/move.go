package lns

import (
	"cmp"
	"context"
	"slices"
	"time"

	"primaprova/model"
	"primaprova/solver/colgen"
	"primaprova/solver/instance"
	"primaprova/solver/pricing"
)

// frameMove is what came of one part: the frames of all before and then, how the passages
// around it are spread, and what that and the stages cost.
type frameMove struct {
	before []instance.Frame
	frames []instance.Frame
	list   []int
	shares [][]colgen.WeighedSchedule
	value  float64
	saved  float64   // of that
	began  time.Time // for the trace
	work   int64     // that all of it took
}

// move solves around a part as it stands, then in near frames, and gives the best;
// nil for a part that is not in a frame or has no passages.
func (k *frameSearch) move(ctx context.Context, pr *pricing.Pricer, i int) (best *frameMove, err error) {
	if q := &k.p.Parts[i]; k.frames[i].Read < 0 || q.First == q.Last {
		return nil, nil
	}
	list := k.p.PassagesAround(i)
	m, err := k.among(pr, k.Fractional, k.frames, list, k.aim)
	if m == nil {
		return nil, err
	}
	began, own := time.Now(), 0.0
	defer func() {
		m.Close()
		if best != nil {
			best.before, best.work, best.began, best.saved = k.frames, m.Work, began, own-best.value
		}
	}()
	rounds := k.o.Tuning().FrameRounds
	best, err = spreadOver(ctx, m, k.frames, list, rounds, instance.Inf)
	if best == nil {
		return nil, err
	}
	own = best.value
	for _, frames := range k.promising(pr, &m.Duals, i, list) {
		rest, t := k.beside(list, frames)
		if rest == nil {
			continue
		}
		if err := m.Reframe(frames, t); err != nil {
			return best, err
		}
		next, err := spreadOver(ctx, m, frames, list, rounds, best.value-k.least)
		if err != nil {
			return best, err
		}
		if next != nil && next.value < best.value-k.least {
			best = next
		}
	}
	return best, nil
}

// with gives the frames with part i in another.
func (k *Fractional) with(i int, f instance.Frame) []instance.Frame {
	out := slices.Clone(k.frames)
	out[i] = f
	return out
}

// spreadOver spreads the passages listed, the blocks of a master, over schedules that
// keep to the frames given, in which it has their parts; nil as soon as it is known
// that it won't come below most.
func spreadOver(ctx context.Context, m *colgen.Master, frames []instance.Frame, list []int, rounds int, most float64) (*frameMove, error) {
	stages := 0.0
	for i, f := range frames {
		stages += m.Objective.Cost(m.P.StagesScore(&m.P.Parts[i], f))
	}
	hopeless := false
	err := m.Price(ctx, rounds, func(added int) bool {
		hopeless = m.Bound+stages >= most
		return hopeless || added == 0 || m.Value-m.Bound <= 1e-4*m.Value
	})
	if err != nil || hopeless {
		return nil, err
	}
	return &frameMove{frames: frames, list: list, shares: m.Schedules(), value: m.Value + stages}, nil
}

// promising gives the frames of all with a part in one near its own that costs less at
// the prices given, the cheapest first, and others giving way to it.
func (k *frameSearch) promising(pr *pricing.Pricer, t *pricing.Duals, i int, list []int) [][]instance.Frame {
	q, now := &k.p.Parts[i], k.frames[i]
	w := pr.Workers[0]
	w.Rate(k.p, i, t, instance.Box{Read: [2]instance.Day{now.Read - k.reach, now.Read + k.reach}, Phi: [2]instance.Day{now.Phi - k.reach, now.Phi + k.reach}})
	rated := func(r, phi instance.Day) (float64, instance.Frame) {
		cost, f := w.Stages.Complete(q, r, phi, t.Weight[model.Coverage])
		return cost + w.Sum[int(phi)-q.Lo+1][int(r)-q.Lo+1], f
	}
	own, _ := rated(now.Read, now.Phi)
	rest, bare := k.besideOthers(list, i)
	w.Stages.Keep(q, rest, bare, k.least)
	var out []pricing.PricedFrame
	for r := max(instance.Day(q.WinLo), now.Read-k.reach); r <= min(instance.Day(q.WinHi), now.Read+k.reach); r++ {
		for phi := max(r, now.Phi-k.reach); phi <= min(instance.Day(q.Hi), now.Phi+k.reach); phi++ {
			if c, f := rated(r, phi); c < own-k.least && (r != now.Read || phi != now.Phi) {
				out = append(out, pricing.PricedFrame{Frame: f, Cost: c})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b pricing.PricedFrame) int { return cmp.Compare(a.Cost, b.Cost) })
	var promising [][]instance.Frame
	for _, c := range out {
		if len(promising) == k.tries {
			break
		}
		if frames := eject(k.p, k.frames, i, c.Frame); frames != nil {
			promising = append(promising, frames)
		}
	}
	return promising
}
