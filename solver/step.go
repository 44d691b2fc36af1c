package solver

import (
	"cmp"
	"context"
	"slices"

	"primaprova/model"
)

// step is what came of one part: the frames of all before and then, how the passages
// around it are spread, and what that and the stages cost.
type step struct {
	before []frame
	frames []frame
	list   []int
	shares [][]share
	value  float64
	work   int64 // that all of it took
}

// step solves around a part as it stands, then in near frames, and gives the best;
// nil for a part that is not in a frame or has no passages.
func (k *walk) step(ctx context.Context, pr *pricer, i int) (best *step, err error) {
	if q := &k.p.parts[i]; k.frames[i].read < 0 || q.first == q.last {
		return nil, nil
	}
	list := k.p.passagesAround(i)
	m, err := k.among(pr, k.spread, k.frames, list, k.aim)
	if m == nil {
		return nil, err
	}
	defer func() {
		m.close()
		if best != nil {
			best.before, best.work = k.frames, m.work
		}
	}()
	best, err = m.spreadOver(ctx, k.frames, list, inf)
	if best == nil {
		return nil, err
	}
	for _, frames := range k.promising(pr, &m.t, i, list) {
		rest, t := k.beside(list, frames)
		if rest == nil {
			continue
		}
		if err := m.reframe(frames, t); err != nil {
			return best, err
		}
		next, err := m.spreadOver(ctx, frames, list, best.value-k.least)
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
func (k *spread) with(i int, f frame) []frame {
	out := slices.Clone(k.frames)
	out[i] = f
	return out
}

// spreadOver spreads the passages listed, the units of a master, over schedules that
// keep to the frames given, in which it has their parts; nil as soon as it is known
// that it won't come below most.
func (m *master) spreadOver(ctx context.Context, frames []frame, list []int, most float64) (*step, error) {
	stages := 0.0
	for i, f := range frames {
		stages += m.aim.cost(m.p.stagesScore(&m.p.parts[i], f))
	}
	for range walkRounds {
		if err := m.run(ctx); err != nil {
			return nil, err
		}
		added, err := m.round()
		if err != nil {
			return nil, err
		}
		if m.bound+stages >= most {
			return nil, nil
		}
		if added == 0 || m.value-m.bound <= 1e-4*m.value {
			break
		}
	}
	return &step{frames: frames, list: list, shares: m.shared(), value: m.value + stages}, nil
}

// promising gives the frames of all with a part in one near its own that costs less at
// the prices given, the cheapest first, and others giving way to it.
func (k *walk) promising(pr *pricer, t *tariff, i int, list []int) [][]frame {
	q, now := &k.p.parts[i], k.frames[i]
	w := pr.workers[0]
	w.rate(k.p, i, t, box{[2]int16{now.read - k.reach, now.read + k.reach}, [2]int16{now.phi - k.reach, now.phi + k.reach}})
	rated := func(r, phi int16) (float64, frame) {
		cost, f := w.stages.complete(q, r, phi, t.weight[model.Coverage])
		return cost + w.sum[int(phi)-q.lo+1][int(r)-q.lo+1], f
	}
	own, _ := rated(now.read, now.phi)
	rest, bare := k.besideOthers(list, i)
	w.stages.keep(q, rest, bare, k.least)
	var out []ratedFrame
	for r := max(int16(q.winLo), now.read-k.reach); r <= min(int16(q.winHi), now.read+k.reach); r++ {
		for phi := max(r, now.phi-k.reach); phi <= min(int16(q.hi), now.phi+k.reach); phi++ {
			if c, f := rated(r, phi); c < own-k.least && (r != now.read || phi != now.phi) {
				out = append(out, ratedFrame{f, c})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b ratedFrame) int { return cmp.Compare(a.cost, b.cost) })
	var promising [][]frame
	for _, c := range out {
		if len(promising) == k.tries {
			break
		}
		if frames := k.p.giveWay(k.frames, i, c.frame); frames != nil {
			promising = append(promising, frames)
		}
	}
	return promising
}
