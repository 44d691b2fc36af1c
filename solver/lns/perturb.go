package lns

import (
	"context"
	"slices"
	"time"

	"primaprova/solver/instance"
	"primaprova/solver/run"
)

// stretch is the parts of a season that are perturbed together, and what that has brought.
type stretch struct {
	parts  []int
	most   int64 // work that walking and perturbing may take
	walked int64 // of it by walking
	spent  int64 // of it by perturbing
	times  int
	saved  float64
}

// left is the work that perturbing may still take; 0 where that is less than walking took,
// since perturbing takes as much at least.
func (z *stretch) left() int64 {
	if left := z.most - z.walked - z.spent; left >= z.walked {
		return left
	}
	return 0
}

// promise is what perturbing it once more is likely to bring a part: what it has brought each
// time so far, with a little hope, and no end of it before the first time. Going on has to be worth
// it on average only: the second time brings the demo next to nothing, the third and fourth 16 days
// of spacing; one season got 1.5 days by the first and 42 by the three after it.
func (z *stretch) promise(hope float64) float64 {
	if z.times == 0 {
		return instance.Inf
	}
	return (z.saved/float64(len(z.parts)) + hope) / float64(z.times)
}

// perturbAll perturbs each stretch of a season once, and a few times more those where that has
// brought most, as long as they have work left.
func (nb *Search) perturbAll(ctx context.Context, k *Fractional, stretches []stretch) error {
	by := nb.O.Tuning()
	for range nb.O.Scaled(len(stretches) + by.PerturbMore) {
		var z *stretch
		for i := range stretches {
			if y := &stretches[i]; y.left() > 0 && (z == nil || y.promise(by.PerturbHope) > z.promise(by.PerturbHope)) {
				z = y
			}
		}
		if z == nil || z.promise(by.PerturbHope) < by.PerturbLeast {
			break
		}
		begun := k.work
		k.most = begun + z.left()
		less, err := nb.perturb(ctx, k, z.parts, nb.O.Seed+z.times)
		if err != nil {
			return err
		}
		z.times++
		z.saved += less
		z.spent += k.work - begun
	}
	return nil
}

// perturb leads out of where a walk ends. In a copy of the plan most frames of the parts
// listed are kicked a few days about and walk anew; as a whole that comes out better in
// one place and worse in another. Stretch by stretch the better one is taken; it
// gives what that saves.
func (nb *Search) perturb(ctx context.Context, k *Fractional, list []int, seed int) (saved float64, err error) {
	began, work := time.Now(), k.work
	defer func() {
		nb.O.NoteSaved(began, run.Event{Phase: k.phase, Operator: run.Perturb, Tried: 1, Saved: saved, Work: k.work - work})
	}()
	w := newFrameSearch(k.clone(), instance.WeightedSum(instance.Trade), seed)
	w.phase = "perturb"
	w.parts = slices.Sorted(slices.Values(list))
	w.kick(list)
	if err := w.runs(ctx, nb.O.Scaled(nb.O.Tuning().PerturbSweeps)); err != nil {
		return 0, err
	}
	k.work = w.work
	if !nb.O.Does(run.Recombine) {
		return 0, nil
	}
	return k.recombine(ctx, w.Fractional, w.aim)
}

// kick throws the frames of most of the parts listed about, each to where its stages
// find room beside all others'.
func (k *frameSearch) kick(parts []int) {
	st := k.p.StagesIn(k.frames)
	if st == nil {
		return
	}
	by := k.o.Tuning()
	about := func(d instance.Day) instance.Day {
		return d + instance.Day(k.rng.IntN(2*by.PerturbReach+1)-by.PerturbReach)
	}
	for _, i := range parts {
		f := k.frames[i]
		if f.Read < 0 || k.rng.Float64() >= by.PerturbShare {
			continue
		}
		q := &k.p.Parts[i]
		f.Read = within(about(f.Read), q.WinLo, q.WinHi)
		f.Phi = within(about(f.Phi), int(f.Read), q.Hi)
		st.SetFrame(i, k.p.Unplaced(i))
		if g := st.NearestFrame(i, f, by.FrameReach); g.Read >= 0 {
			k.frames[i] = g
		}
		st.SetFrame(i, k.frames[i])
	}
}

// within gives the day nearest to d from lo to hi.
func within(d instance.Day, lo, hi int) instance.Day {
	return max(instance.Day(lo), min(d, instance.Day(hi)))
}
