package lns

import (
	"context"
	"slices"

	"primaprova/solver/instance"
	"primaprova/solver/run"
)

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
