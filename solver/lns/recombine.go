package lns

import (
	"context"
	"fmt"
	"slices"
	"time"

	"primaprova/solver/colgen"
	"primaprova/solver/instance"
	"primaprova/solver/pricing"
	"primaprova/solver/run"
)

// recombine takes over the frames of another spread plan of the same season wherever
// that costs less: those of one programme, of two that follow each other, and so on.
// What is far away does not care which of the two a stretch has, so that of two
// plans as good as each other one comes out that is better than both. It gives what that
// saves.
func (k *Fractional) recombine(ctx context.Context, from *Fractional, a instance.Objective) (saved float64, err error) {
	pr := pricing.NewPricer(k.p, k.o.Cores())
	programmes := k.p.Programmes()
	tried := map[string]bool{}
	for size := 1; size <= k.o.Tuning().RecombineMost; size++ {
		for first := range max(0, len(programmes)-size+1) {
			list := slices.DeleteFunc(slices.Concat(programmes[first:first+size]...), func(i int) bool { return k.frames[i] == from.frames[i] })
			if name := fmt.Sprint(list); len(list) > 0 && !tried[name] {
				tried[name] = true
				less, err := k.recombineParts(ctx, pr, from, list, a)
				if err != nil {
					return saved, err
				}
				if less > 0 {
					saved += less
					clear(tried)
				}
			}
		}
	}
	return saved, nil
}

// recombineParts takes over the frames of the parts listed, and how the passages around
// them are spread then, if that costs less, and gives how much less.
func (k *Fractional) recombineParts(ctx context.Context, pr *pricing.Pricer, from *Fractional, parts []int, a instance.Objective) (saved float64, err error) {
	frames := slices.Clone(k.frames)
	for _, i := range parts {
		frames[i] = from.frames[i]
	}
	began, work := time.Now(), k.work
	defer func() {
		k.o.NoteSaved(began, run.Event{Phase: k.phase, Operator: run.Recombine, Tried: 1, Saved: saved, Work: k.work - work})
	}()
	list := k.p.PassagesAround(parts...)
	own, err := k.spreadIn(ctx, pr, k, k.frames, list, a, instance.Inf)
	if own == nil || err != nil {
		return 0, err
	}
	most := own.value - k.o.Tuning().FrameLeast
	next, err := k.spreadIn(ctx, pr, from, frames, list, a, most)
	if err != nil {
		return 0, err
	}
	if next != nil && next.value < most {
		saved = own.value - next.value
		own, k.frames = next, frames
	}
	for n, q := range list {
		k.shares[q] = own.shares[n]
	}
	return saved, nil
}

// spreadIn spreads the passages listed in other frames among all others of this plan,
// beginning from how they are spread in one plan or the other; nil where the frames'
// stages find no room, or it won't come below most.
func (k *Fractional) spreadIn(ctx context.Context, pr *pricing.Pricer, from *Fractional, frames []instance.Frame, list []int, a instance.Objective, most float64) (*frameMove, error) {
	m, err := k.among(pr, from, frames, list, a)
	if m == nil {
		return nil, err
	}
	defer m.Close()
	defer func() { k.work += m.Work }()
	return spreadOver(ctx, m, frames, list, k.o.Tuning().FrameRounds, most)
}

// among states the linear program of the passages listed, in the frames given, among
// all others of this plan, with the schedules that one plan or the other spreads them
// over; nil where the frames' stages find no room.
func (k *Fractional) among(pr *pricing.Pricer, from *Fractional, frames []instance.Frame, list []int, a instance.Objective) (*colgen.Master, error) {
	rest, t := k.beside(list, frames)
	if rest == nil {
		return nil, nil
	}
	return from.master(pr, list, rest, t, a)
}
