package lns

import (
	"cmp"
	"context"
	"slices"
	"time"

	"primaprova/model"
	"primaprova/solver/instance"
	"primaprova/solver/pricing"
	"primaprova/solver/run"
)

// FillIn works around the parts that lack visits, or have them late, as often as
// that helps, or a few times over a standing plan, where it is soon done: a part that
// comes late needs the days on which dozens of other passages stand, more than moves
// of a few passages clear.
func (nb *Search) FillIn(ctx context.Context, st *instance.Solution, goal model.Wish) error {
	if !nb.O.Does(run.Fill) {
		return nil
	}
	by := nb.O.Tuning()
	for round := range by.FillRounds[goal] {
		before := st.Score()
		if nb.Met(goal, before) || ctx.Err() != nil {
			break
		}
		freed, err := nb.fillOnce(ctx, st, goal, round)
		if err != nil {
			return err
		}
		done := st.Score() == before
		if nb.O.Standing != nil { // what one start does not find another may
			done = freed > by.FillMost
		}
		if done {
			break
		}
	}
	return nil
}

// fillOnce works around those that lack most, side by side from the solution given:
// where many lack something there is too little room for all, and no one frame to
// blame. Where only one does, and from the second round on, it begins from frames
// kicked about. The best of what comes out stays if it is better. It tells how many
// passages were freed around the one with most.
func (nb *Search) fillOnce(ctx context.Context, st *instance.Solution, goal model.Wish, round int) (freed int, err error) {
	lack := make([]int64, len(nb.P.Parts))
	for i := range lack {
		lack[i] = lackOf(st, i, goal)
	}
	list := nb.P.ByDeadline()
	slices.SortStableFunc(list, func(a, b int) int { return cmp.Compare(lack[b], lack[a]) })
	list = slices.DeleteFunc(list[:min(nb.O.Tuning().FillSide, len(list))], func(i int) bool { return lack[i] == 0 })
	start := func(int) int { return round }
	if len(list) == 1 {
		list = append(list, list[0]) // a core is idle
		start = func(n int) int { return 2*round + n }
	}
	began, before := time.Now(), st.Score()[goal]
	var out []filling
	around := queue[filling]{ctx: ctx, keep: func(f filling) { out = append(out, f) }}
	for n, i := range list {
		around.begin(func() (filling, error) { return nb.filled(ctx, st, i, goal, start(n)) })
	}
	around.leave(0)
	for _, f := range out {
		freed = max(freed, f.freed)
		if f.st != nil && f.st.Score().Less(st.Score()) {
			*st = *f.st
		}
	}
	nb.O.NoteSaved(began, run.Event{Phase: "fill", Operator: run.Fill, Wish: goal.String(), Tried: len(out), Saved: float64(before - st.Score()[goal])})
	return freed, around.err
}

// filling is what came of working around a part, and how many passages that freed.
type filling struct {
	st    *instance.Solution // nil where it can't be worked around
	freed int
}

// filled gives a solution in which a part that lacks something has more. The frames of
// all parts that meet it walk to where least is lacking, the passages around them
// spread, and only then is what is spread made whole: that is what takes long. From
// any start but 0 they are kicked about before, differently from each.
func (nb *Search) filled(ctx context.Context, st *instance.Solution, i int, goal model.Wish, start int) (f filling, err error) {
	w := newFrameSearch(NewFractional(nb.O, st), instance.WeightedSum(instance.Trade), nb.O.Seed+start)
	if start > 0 {
		w.kick(nb.P.Parts[i].Meets)
	}
	by := nb.O.Tuning()
	w.least, w.reach, w.tries, w.phase = by.FillLeast, instance.Day(by.FillReach), by.FillTries, "fill"
	list, err := w.around(ctx, i, by.FillSweeps)
	if list == nil || err != nil {
		return f, err
	}
	if err := w.Whole(ctx, list, w.aim, nb.O.Scaled(by.DiveRounds), by.Slow); err != nil {
		return f, err
	}
	to := w.State()
	if err := nb.Repair(ctx, to, list, goal, by.Brief); err != nil {
		return f, err
	}
	return filling{to, len(list)}, nil
}

// around walks with a part and those that meet it, in turn, until a sweep saves
// next to nothing, or so many times. It gives the passages that are spread then,
// with those of the parts that meet it; none where the part is in no frame.
func (k *frameSearch) around(ctx context.Context, i, sweeps int) ([]int, error) {
	pr := pricing.NewPricer(k.p, 1)
	free := make([]bool, len(k.p.Passages))
	walked := func(j int) (*frameMove, error) {
		s, err := k.move(ctx, pr, j)
		if s != nil && err == nil {
			k.keep(s)
			for _, q := range s.list {
				free[q] = true
			}
		}
		return s, err
	}
	last := instance.Inf
	for n := range sweeps {
		at, err := walked(i)
		if at == nil || err != nil {
			return nil, err
		}
		if n == sweeps-1 || at.value > last-k.least {
			break
		}
		last = at.value
		for _, w := range k.p.Parts[i].Meets {
			if w != i {
				if _, err := walked(w); err != nil {
					return nil, err
				}
			}
		}
	}
	return slices.DeleteFunc(k.p.ByRehearsal(), func(q int) bool { return !free[q] }), nil
}

// lackOf gives what the passages of a part cost in a wish.
func lackOf(s *instance.Solution, i int, goal model.Wish) int64 {
	sum := int64(0)
	for k := s.P.Parts[i].First; k < s.P.Parts[i].Last; k++ {
		sum += s.P.ScheduleScore(&s.P.Passages[k], s.Sched[k])[goal]
	}
	return sum
}
