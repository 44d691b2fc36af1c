package lns

import (
	"context"
	"slices"

	"primaprova/solver/instance"
)

// walkWork is a part's share of the work (master.work) after which frames rest, so
// that where more lies open at once they walk less, and don't take longer.
const walkWork = 17_000_000

// walks is how often the walk goes through the parts.
const walks = 4

// FindFrames finds frames for the whole season while passages are spread: a
// master that weighs body against spacing settles them (settle), chunk by chunk
// in the order of the first rehearsals, so that the work grows as the season
// does; then they walk (walk) and are stirred, chunk by chunk too (stirUp). It needs
// of the state it is given only something to begin with.
func (nb *Search) FindFrames(ctx context.Context, from *instance.Solution) (*Fractional, error) {
	k := NewFractional(nb.O.Engine, from)
	order := nb.P.ByDeadline()
	size := Evenly(len(order), settleSize)
	for list := range slices.Chunk(order, size) {
		if err := nb.fixFrames(ctx, k, from, list); err != nil {
			return nil, err
		}
	}
	k.most = nb.walkMost(len(nb.P.Parts))
	if err := nb.SearchFrames(ctx, k, nb.O.Scaled(walks)); err != nil {
		return nil, err
	}
	var stretches []stretch
	walked := k.work / int64(max(1, len(order)))
	for list := range slices.Chunk(order, size) {
		stretches = append(stretches, stretch{parts: list, most: nb.walkMost(len(list)), walked: walked * int64(len(list))})
	}
	return k, nb.perturbAll(ctx, k, stretches)
}

// walkMost is the work after which the frames of so many parts rest.
func (nb *Search) walkMost(parts int) int64 { return int64(nb.O.Scaled(walkWork * parts)) }

func (nb *Search) SearchFrames(ctx context.Context, k *Fractional, times int) error {
	return newFrameSearch(k, instance.WeightedSum(instance.Trade), nb.O.Seed).runs(ctx, times)
}

// Evenly gives the size of chunks that cut n things evenly, the least one that is
// not below a size given.
func Evenly(n, size int) int {
	chunks := max(1, n/size)
	return max(1, (n+chunks-1)/chunks)
}
