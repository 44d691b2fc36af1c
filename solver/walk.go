package solver

import (
	"cmp"
	"context"
	"math/rand/v2"
	"slices"

	"primaprova/model"
)

// walk moves the parts' frames of a spread plan. Whole schedules would hide
// what a frame is worth behind what the last few of them happen to cost;
// shares do not.
//
// A step takes one part. The passages of the parts whose days meet its own are
// free, all others stay as they are. What a near frame would save at the
// linear program's prices is the most that it can save; the few that promise
// most are tried by solving again, and the best stays.
type walk struct {
	*spread
	aim   aim
	least float64 // that a move has to save
	reach int16   // how many days a step moves a read-through, or the end of a first round
	rng   *rand.Rand
	steps int   // taken so far
	tried []int // by part: the step at which it was last tried
	moved []int // by part: the step at which it last moved
}

// newWalk walks over a spread plan.
func newWalk(k *spread, a aim, seed int) *walk {
	n := len(k.p.parts)
	return &walk{spread: k, aim: a, least: worthwhile, reach: reach, rng: rand.New(rand.NewPCG(uint64(seed), 0x77616c6b)), tried: make([]int, n), moved: make([]int, n)}
}

// stale tells whether nothing near a part has moved since it was last tried.
func (k *walk) stale(i int) bool {
	return k.tried[i] > 0 && !slices.ContainsFunc(k.p.parts[i].meets, func(w int) bool {
		return slices.ContainsFunc(k.p.parts[w].meets, func(v int) bool { return k.moved[v] >= k.tried[i] })
	})
}

// reach is how many days a step moves a read-through, or the end of a first
// round; tries is how many frames it tries; walkRounds how often it prices for
// each; worthwhile the least that a move has to save as a rule.
const (
	reach      = 4
	tries      = 6
	walkRounds = 8
	worthwhile = 0.5
)

// run goes through the parts once, two at a time where nothing that is near
// one is near the other, and tells whether a frame moved.
func (k *walk) run(ctx context.Context) (moved bool, err error) {
	pr := [2]*pricer{newPricer(k.p, 1), newPricer(k.p, 1)}
	left := slices.DeleteFunc(k.rng.Perm(len(k.p.parts)), k.stale)
	for len(left) > 0 && ctx.Err() == nil {
		pair := left[:1:1]
		left = left[1:]
		if at := slices.IndexFunc(left, func(j int) bool { return !k.near(pair[0], j) }); at >= 0 {
			pair = append(pair, left[at])
			left = slices.Delete(left, at, at+1)
		}
		k.steps++
		for _, i := range pair {
			k.tried[i] = k.steps
		}
		steps, err := abreast(ctx, pair, func(n, i int) (*step, error) { return k.step(ctx, pr[n], i) })
		if err != nil {
			return false, err
		}
		for n, i := range pair {
			s := steps[n]
			if s == nil {
				continue
			}
			if s.frame != k.frames[i] {
				moved, k.moved[i] = true, k.steps
			}
			k.keep(i, s)
		}
	}
	return moved, nil
}

// keep takes over what came of a part.
func (k *walk) keep(i int, s *step) {
	k.frames[i] = s.frame
	for n, q := range s.list {
		k.shares[q] = s.shares[n]
	}
}

// near tells whether two parts meet a common part.
func (k *walk) near(i, j int) bool {
	return slices.ContainsFunc(k.p.parts[i].meets, func(w int) bool { return slices.Contains(k.p.parts[j].meets, w) })
}

// step is what came of one part: its frame, and how the passages around it are
// spread.
type step struct {
	frame  frame
	list   []int
	shares [][]share
	value  float64
}

// step solves around a part as it stands, then in near frames, and gives the
// best; nil for a part that is not in a frame
// or has no passages.
func (k *walk) step(ctx context.Context, pr *pricer, i int) (*step, error) {
	if q := &k.p.parts[i]; k.frames[i].read < 0 || q.first == q.last {
		return nil, nil
	}
	list := k.p.passagesAround(i)
	m, err := k.local(pr, list, i)
	if m == nil {
		return nil, err
	}
	defer m.close()
	best, err := k.solve(ctx, m, k.frames[i], list, inf)
	if best == nil {
		return nil, err
	}
	for _, f := range k.promising(pr, &m.t, i, list) {
		rest, t := k.beside(list, k.with(i, f))
		if rest == nil {
			continue
		}
		if err := m.reframe(i, f, t); err != nil {
			return best, err
		}
		next, err := k.solve(ctx, m, f, list, best.value-k.least)
		if err != nil {
			return best, err
		}
		if next != nil && next.value < best.value-k.least {
			best = next
		}
	}
	return best, nil
}

// passagesAround lists the passages of all parts whose days meet those of some.
func (p *problem) passagesAround(parts ...int) []int {
	var list []int
	for w := range p.parts {
		q := &p.parts[w]
		if slices.ContainsFunc(parts, func(i int) bool { return slices.Contains(p.parts[i].meets, w) }) {
			for k := q.first; k < q.last; k++ {
				list = append(list, k)
			}
		}
	}
	return list
}

// with gives the frames with part i in another.
func (k *walk) with(i int, f frame) []frame {
	out := slices.Clone(k.frames)
	out[i] = f
	return out
}

// local states the linear program of the passages listed, part i in its frame;
// nil where that finds no room.
func (k *walk) local(pr *pricer, list []int, i int) (*master, error) {
	rest, t := k.beside(list, k.frames)
	if rest == nil {
		return nil, nil
	}
	return k.master(pr, list, rest, t, k.aim)
}

// reframe puts the passages of a part in another frame, beside what is taken with
// it.
func (m *master) reframe(part int, f frame, t taken) error {
	for n := range m.units {
		if m.units[n].part == part {
			m.units[n].frame = f
		}
	}
	m.c.restate(m.p, t)
	rows := make([]int32, m.row)
	for r := range rows {
		rows[r] = int32(r)
	}
	lo, hi := m.c.m.Sides()
	if err := m.lp.ChangeSides(rows, lo, hi); err != nil {
		return err
	}
	return m.set(m.aim) // limits on wishes are in none of the coupling's own rows
}

// solve spreads the passages listed, the units of a master, over schedules that keep to
// the frames it has their parts in, the one walked with in f; nil as soon as it is
// known that it won't come below most.
func (k *spread) solve(ctx context.Context, m *master, f frame, list []int, most float64) (*step, error) {
	for range walkRounds {
		if err := m.run(ctx); err != nil {
			return nil, err
		}
		added, err := m.round()
		if err != nil {
			return nil, err
		}
		if m.bound >= most {
			return nil, nil
		}
		if added == 0 || m.value-m.bound <= 1e-4*m.value {
			break
		}
	}
	return &step{f, list, m.shared(), m.value}, nil
}

// promising gives the near frames of a part that cost less than its own at the
// prices given, the cheapest first.
func (k *walk) promising(pr *pricer, t *tariff, i int, list []int) []frame {
	q, now := &k.p.parts[i], k.frames[i]
	w := pr.workers[0]
	w.rate(k.p, i, t, box{[2]int16{now.read - k.reach, now.read + k.reach}, [2]int16{now.phi - k.reach, now.phi + k.reach}})
	rated := func(r, phi int16) (float64, frame) {
		cost, f := w.stages.complete(q, r, phi, t.weight[model.Coverage])
		return cost + w.sum[int(phi)-q.lo+1][int(r)-q.lo+1], f
	}
	own, _ := rated(now.read, now.phi)
	rest, _ := k.beside(list, k.with(i, frame{none, none, none, none}))
	w.stages.keep(q, rest)
	var out []ratedFrame
	for r := max(int16(q.winLo), now.read-k.reach); r <= min(int16(q.winHi), now.read+k.reach); r++ {
		for phi := max(r, now.phi-k.reach); phi <= min(int16(q.hi), now.phi+k.reach); phi++ {
			if c, f := rated(r, phi); c < own-k.least && (r != now.read || phi != now.phi) {
				out = append(out, ratedFrame{f, c})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b ratedFrame) int { return cmp.Compare(a.cost, b.cost) })
	frames := make([]frame, 0, tries)
	for _, c := range out[:min(tries, len(out))] {
		frames = append(frames, c.frame)
	}
	return frames
}
