package lns

import (
	"context"
	"math/rand/v2"
	"slices"

	"primaprova/solver/instance"
	"primaprova/solver/pricing"
	"primaprova/solver/run"
)

// frameSearch moves the parts' frames of a spread plan. Whole schedules would hide
// what a frame is worth behind what the last few of them happen to cost;
// shares do not.
//
// A step takes one part. The passages of the parts that are close to it are free, all
// others stay as they are. What a near frame would save at the linear program's
// prices is the most that it can save; the few that promise most are tried by solving
// again, and the best stays.
type frameSearch struct {
	*Fractional
	aim   instance.Objective
	parts []int        // that walk, in order
	least float64      // that a move has to save
	reach instance.Day // how many days a step moves a read-through, or the end of a first round
	tries int          // how many frames it tries
	rng   *rand.Rand
	steps int   // taken so far
	tried []int // by part: the step at which it was last tried
	moved []int // by part: the step at which it last moved
}

// newFrameSearch walks over a spread plan, all parts of it.
func newFrameSearch(k *Fractional, a instance.Objective, seed int) *frameSearch {
	n := len(k.p.Parts)
	all := make([]int, n)
	for i := range all {
		all[i] = i
	}
	return &frameSearch{Fractional: k, aim: a, parts: all, least: k.o.Tuning().FrameLeast, reach: instance.Day(k.o.Tuning().FrameReach), tries: k.o.Tuning().FrameTries, rng: rand.New(rand.NewPCG(uint64(seed), 0x77616c6b)), tried: make([]int, n), moved: make([]int, n)}
}

// stale tells whether nothing near a part has moved since it was last tried.
func (k *frameSearch) stale(i int) bool {
	return k.tried[i] > 0 && !slices.ContainsFunc(k.p.Parts[i].Nearest, func(w int) bool {
		return slices.ContainsFunc(k.p.Parts[w].Nearest, func(v int) bool { return k.moved[v] >= k.tried[i] })
	})
}

// runs goes through the parts until no frame moves, or so many times.
func (k *frameSearch) runs(ctx context.Context, times int) error {
	for range times {
		if moved, err := k.run(ctx); err != nil || !moved {
			return err
		}
	}
	return nil
}

// run goes through the parts once and tells whether a frame moved. Two steps are under
// way at a time, with nothing near one that is near the other. A step begins from the
// plan with all steps in it but the last, so that the result is the same whichever is
// done first.
func (k *frameSearch) run(ctx context.Context) (moved bool, err error) {
	pr := [2]*pricing.Pricer{pricing.NewPricer(k.p, 1), pricing.NewPricer(k.p, 1)}
	left := k.rng.Perm(len(k.parts))
	for n, at := range left {
		left[n] = k.parts[at]
	}
	left = slices.DeleteFunc(left, k.stale)
	last := instance.None // of the two, the part begun with later
	steps := queue[*frameMove]{ctx: ctx, keep: func(s *frameMove) { moved = k.keep(s) || moved }}
	for len(left) > 0 && steps.err == nil && ctx.Err() == nil && !k.rests() {
		at := slices.IndexFunc(left, func(j int) bool { return last == instance.None || !k.near(last, j) })
		if at < 0 {
			steps.leave(0)
			last = instance.None
			continue
		}
		k.steps++
		last = left[at]
		left = slices.Delete(left, at, at+1)
		k.begin(ctx, &steps, pr[k.steps%2], last)
		steps.leave(1)
	}
	steps.leave(0)
	return moved, steps.err
}

// begin begins a step with a part. Others may be kept while it is under way.
func (k *frameSearch) begin(ctx context.Context, steps *queue[*frameMove], pr *pricing.Pricer, i int) {
	k.tried[i] = k.steps
	from := *k
	from.Fractional = k.clone()
	steps.begin(func() (*frameMove, error) { return from.move(ctx, pr, i) })
}

// keep takes over what came of a step, if anything, and tells whether a frame moved.
// Where a step that ran beside it took the room, nothing is taken over.
func (k *frameSearch) keep(s *frameMove) (moved bool) {
	if s == nil {
		return false
	}
	k.work += s.work
	now := slices.Clone(k.frames)
	for i, f := range s.frames {
		if f != s.before[i] {
			now[i], moved = f, true
		}
	}
	if moved && !slices.Equal(s.before, k.frames) && k.p.StagesIn(now) == nil {
		return false
	}
	for i := range now {
		if now[i] != k.frames[i] {
			k.moved[i] = k.steps
		}
	}
	k.frames = now
	for n, q := range s.list {
		k.shares[q] = s.shares[n]
	}
	e := run.Event{Phase: k.phase, Operator: run.Move, Tried: 1, Work: s.work, Saved: s.saved}
	if moved {
		e.Kept = 1
	}
	k.o.Note(s.began, e)
	return moved
}

// near tells whether two parts are close to a common one.
func (k *frameSearch) near(i, j int) bool {
	return slices.ContainsFunc(k.p.Parts[i].Nearest, func(w int) bool { return slices.Contains(k.p.Parts[j].Nearest, w) })
}

// FindFrames finds frames for the whole season while passages are spread: a
// master that weighs body against spacing fixes them (fixFrames), chunk by chunk
// in the order of the first rehearsals, so that the work grows as the season
// does; then they are searched (frameSearch) and are perturbed, chunk by chunk too (perturbAll). It needs
// of the solution it is given only something to begin with.
func (nb *Search) FindFrames(ctx context.Context, from *instance.Solution) (*Fractional, error) {
	k := NewFractional(nb.O, from)
	order := nb.P.ByDeadline()
	size := Evenly(len(order), nb.O.Tuning().FixParts)
	for list := range slices.Chunk(order, size) {
		if !nb.O.Does(run.Fix) {
			break
		}
		if err := nb.fixFrames(ctx, k, from, list); err != nil {
			return nil, err
		}
	}
	k.most = nb.frameMost(len(nb.P.Parts))
	if err := nb.SearchFrames(ctx, k, nb.O.Scaled(nb.O.Tuning().FrameSweeps)); err != nil {
		return nil, err
	}
	var stretches []stretch
	walked := k.work / int64(max(1, len(order)))
	for list := range slices.Chunk(order, size) {
		stretches = append(stretches, stretch{parts: list, most: nb.frameMost(len(list)), walked: walked * int64(len(list))})
	}
	if !nb.O.Does(run.Perturb) || !nb.O.Does(run.Move) { // it is moves that lead back
		return k, nil
	}
	return k, nb.perturbAll(ctx, k, stretches)
}

// frameMost is the work after which the frames of so many parts rest.
func (nb *Search) frameMost(parts int) int64 {
	return int64(nb.O.Scaled(nb.O.Tuning().FrameWork * parts))
}

// SearchFrames searches frames near those of a plan, so many times over all parts.
func (nb *Search) SearchFrames(ctx context.Context, k *Fractional, times int) error {
	if !nb.O.Does(run.Move) {
		return nil
	}
	return newFrameSearch(k, instance.WeightedSum(instance.Trade), nb.O.Seed).runs(ctx, times)
}

// Evenly gives the size of chunks that cut n things evenly, the least one that is
// not below a size given.
func Evenly(n, size int) int {
	chunks := max(1, n/size)
	return max(1, (n+chunks-1)/chunks)
}
