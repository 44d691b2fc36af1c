package lns

import (
	"cmp"
	"context"
	"math"
	"slices"
	"time"

	"primaprova/model"
	"primaprova/solver/instance"
	"primaprova/solver/pricing"
	"primaprova/solver/run"
)

// FillIn works around the parts that lack visits, or have them late, as often as
// that helps: a part that comes late needs the days on which dozens of other passages
// stand, more than moves of a few passages clear. Over a standing plan, where somebody
// waits, it goes on only while spread plans promise much, and for so many made whole.
func (nb *Search) FillIn(ctx context.Context, st *instance.Solution, goal model.Wish) error {
	if !nb.O.Does(run.Fill) {
		return nil
	}
	by := nb.O.Tuning()
	times, left, large := make([]int, len(nb.P.Parts)), max(by.FillSide, nb.O.Scaled(by.FillWhole)), false
	for round := range by.FillRounds[goal] {
		before := st.Score()
		if nb.Met(goal, before) || ctx.Err() != nil {
			break
		}
		began, from := time.Now(), nb.toFill(st, goal, round, times, large)
		hope, enough := by.FillHope, instance.Inf
		switch {
		case round == 0:
			hope = 0
		case large:
			hope = by.FillMore
		}
		if round > 0 && nb.O.Replans() {
			aim := instance.WeightedSum(instance.Trade)
			enough = (1 - hope) * aim.Whole(before)
		}
		walks, err := nb.walks(ctx, st, from, enough)
		if err != nil {
			return err
		}
		if nb.O.Replans() {
			if round == 0 && nb.lacksSpread(walks, goal, before) {
				more, err := nb.walks(ctx, st, []fillStart{{nb.latest(from[0].part), 0}}, enough)
				if err != nil {
					return err
				}
				walks = append(walks, more...)
			}
			most := min(left, by.FillSide)
			if large {
				most = 1
			}
			large = nb.freesMany(walks)
			walks = nb.mostPromising(walks, st.Score(), most, hope)
			left -= len(walks)
		}
		err = nb.wholeOf(ctx, st, goal, walks)
		nb.O.NoteSaved(began, run.Event{Phase: "fill", Operator: run.Fill, Wish: goal.String(), Tried: len(walks), Saved: float64(before[goal] - st.Score()[goal])})
		done := st.Score() == before
		if nb.O.Replans() { // what one start does not find another may, where that is soon done
			done = len(walks) == 0 || left == 0 || large && st.Score()[goal] >= before[goal]
		}
		if err != nil || done {
			return err
		}
	}
	return nil
}

// toFill gives the parts that lack most, and from which start to walk around each: where many
// lack something there is too little room for all, and no one frame to blame. Where only
// one does, and from the second round on, it begins from frames kicked about. Where much is
// freed over a standing plan, another round goes where the first has not been; times tells how
// often a part was walked around.
func (nb *Search) toFill(st *instance.Solution, goal model.Wish, round int, times []int, elsewhere bool) (out []fillStart) {
	lack := make([]int64, len(nb.P.Parts))
	for i := range lack {
		lack[i] = lackOf(st, i, goal)
	}
	list := nb.P.ByDeadline()
	slices.SortStableFunc(list, func(a, b int) int { return cmp.Compare(lack[b], lack[a]) })
	list = slices.DeleteFunc(list[:min(nb.O.Tuning().FillSide, len(list))], func(i int) bool { return lack[i] == 0 })
	each := 1
	if len(list) == 1 { // a core is idle
		if list, each = append(list, list[0]), 2; elsewhere {
			list[1] = nb.latest(list[0])
		}
	}
	for n, i := range list {
		start := each*round + n*(each-1)
		if elsewhere {
			start = times[i]
		}
		out = append(out, fillStart{i, start})
		times[i]++
	}
	return out
}

// latest gives, of the parts that meet one, the one that is due last: around it more days can give way.
func (nb *Search) latest(part int) int {
	return slices.MaxFunc(nb.P.Parts[part].Meets, func(a, b int) int { return cmp.Compare(nb.P.Parts[a].Hi, nb.P.Parts[b].Hi) })
}

// freesMany tells whether a walk freed so many passages that it takes long to make it whole.
func (nb *Search) freesMany(walks []*filling) bool {
	return slices.ContainsFunc(walks, func(f *filling) bool { return len(f.list) > nb.O.Tuning().FillMost })
}

// lacksSpread tells whether even while passages are spread more is lacking in a wish than is
// proven to be.
func (nb *Search) lacksSpread(walks []*filling, goal model.Wish, now instance.Score) bool {
	least := instance.Inf
	for _, f := range walks {
		least = min(least, f.lacks(goal))
	}
	now[goal] = int64(least)
	return least < instance.Inf && !nb.Met(goal, now)
}

// fillStart is a part to walk around, and from which start.
type fillStart struct{ part, start int }

// walks gives what comes of walking, side by side, from the solution given, to where it costs enough less.
func (nb *Search) walks(ctx context.Context, st *instance.Solution, from []fillStart, enough float64) (out []*filling, err error) {
	around := queue[*filling]{ctx: ctx, keep: func(f *filling) {
		if f != nil {
			out = append(out, f)
		}
	}}
	for _, f := range from {
		around.begin(func() (*filling, error) { return nb.walk(ctx, st, f.part, f.start, enough) })
	}
	around.leave(0)
	return out, around.err
}

// wholeOf makes spread plans whole, side by side. The best that comes of them is taken if it is better.
func (nb *Search) wholeOf(ctx context.Context, st *instance.Solution, goal model.Wish, walks []*filling) error {
	whole := queue[*instance.Solution]{ctx: ctx, keep: func(to *instance.Solution) {
		if to != nil && to.Score().Less(st.Score()) {
			*st = *to
		}
	}}
	for _, f := range walks {
		whole.begin(func() (*instance.Solution, error) { return nb.filled(ctx, f, goal) })
	}
	whole.leave(0)
	return whole.err
}

// mostPromising gives the spread plans that are worth making whole, so many at most: those that
// promise to save a share of what there is, and within a tenth of the best. Making whole is
// most of the work, and what comes of it lies a tenth above what the linear program says of
// it: that tells which are worth it.
func (nb *Search) mostPromising(walks []*filling, now instance.Score, most int, hope float64) []*filling {
	slices.SortStableFunc(walks, func(a, b *filling) int { return cmp.Compare(a.value, b.value) })
	walks = slices.CompactFunc(walks, func(a, b *filling) bool { return math.Abs(a.value-b.value) <= 1e-9*a.value }) // they came to the same
	for n, f := range walks {
		if n == most || f.value >= (1-hope)*f.aim.Whole(now) || f.value > 1.1*walks[0].value {
			return walks[:n]
		}
	}
	return walks
}

// around walks with a part and those that meet it, in turn, until a sweep saves
// next to nothing, or so many times; it is left after the second where what all costs then is a
// twentieth above what would be enough, since sweeps after that save some hundredths. It gives the last step with that part, and the passages
// that are spread then, with those of the parts that meet it; none where the part is in no frame.
func (k *frameSearch) around(ctx context.Context, i, sweeps int, enough float64) (at *frameMove, list []int, err error) {
	pr := pricing.NewPricer(k.p, 1)
	free := make([]bool, len(k.p.Passages))
	walked := func(j int) (*frameMove, error) {
		k.steps++
		k.tried[j] = k.steps
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
		if at, err = walked(i); at == nil || err != nil {
			return nil, nil, err
		}
		if n == sweeps-1 || at.value > last-k.least || n > 0 && at.value+k.costBeside(&k.aim, at.list) > 1.05*enough {
			break
		}
		last = at.value
		for _, w := range k.p.Parts[i].Meets {
			if w != i && (!k.o.Replans() || !k.stale(w)) { // where somebody waits nothing is tried twice while no frame near it moved
				if _, err := walked(w); err != nil {
					return nil, nil, err
				}
			}
		}
	}
	return at, slices.DeleteFunc(k.p.ByRehearsal(), func(q int) bool { return !free[q] }), nil
}

// lackOf gives what the passages of a part cost in a wish.
func lackOf(s *instance.Solution, i int, goal model.Wish) int64 {
	sum := int64(0)
	for k := s.P.Parts[i].First; k < s.P.Parts[i].Last; k++ {
		sum += s.P.ScheduleScore(&s.P.Passages[k], s.Sched[k])[goal]
	}
	return sum
}
