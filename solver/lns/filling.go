package lns

import (
	"context"
	"slices"

	"primaprova/model"
	"primaprova/solver/instance"
)

// filling is a spread plan around a part that lacks something.
type filling struct {
	*Fractional
	aim   instance.Objective
	list  []int   // passages that are spread
	value float64 // what all of it costs
}

// walk gives a spread plan in which a part that lacks something has more; nil where
// the part is in no frame. The frames of all parts that meet it walk to where least is
// lacking, the passages around them spread. From any start but 0 they are kicked about
// before, differently from each.
func (nb *Search) walk(ctx context.Context, st *instance.Solution, i, start int, enough float64) (*filling, error) {
	w := newFrameSearch(NewFractional(nb.O, st), instance.WeightedSum(instance.Trade), nb.O.Seed+start)
	if start > 0 {
		w.kick(nb.P.Parts[i].Meets)
	}
	by := nb.O.Tuning()
	w.least, w.reach, w.tries, w.phase = by.FillLeast, instance.Day(by.FillReach), by.FillTries, "fill"
	last, list, err := w.around(ctx, i, by.FillSweeps, enough)
	if list == nil || err != nil {
		return nil, err
	}
	return &filling{w.Fractional, w.aim, list, last.value + w.costBeside(&w.aim, last.list)}, nil
}

// lacks gives what a spread plan costs in a wish that is not body.
func (f *filling) lacks(goal model.Wish) float64 {
	var a instance.Objective
	a.Weight[goal] = 1
	sum := f.costBeside(&a, nil)
	for i, at := range f.frames {
		sum += a.Cost(f.p.StagesScore(&f.p.Parts[i], at))
	}
	return sum
}

// filled makes a spread plan whole, which is what takes long.
func (nb *Search) filled(ctx context.Context, f *filling, goal model.Wish) (*instance.Solution, error) {
	by := nb.O.Tuning()
	if err := f.Whole(ctx, f.list, f.aim, nb.O.Scaled(by.DiveRounds), by.Slow); err != nil {
		return nil, err
	}
	to := f.State()
	return to, nb.Repair(ctx, to, f.list, goal, by.Brief)
}

// costBeside gives what the passages cost that are not listed, without body.
func (k *Fractional) costBeside(a *instance.Objective, list []int) float64 {
	sum := 0.0
	for q, shares := range k.shares {
		if slices.Contains(list, q) {
			continue
		}
		ps, left := &k.p.Passages[q], 1.0
		for _, h := range shares {
			sum += h.Weight * a.Cost(k.p.ScheduleScore(ps, h.Days))
			left -= h.Weight
		}
		sum += max(0, left) * a.Cost(k.p.ScheduleScore(ps, nil))
	}
	return sum
}
