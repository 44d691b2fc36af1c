package solver

import (
	"cmp"
	"context"
	"slices"

	"primaprova/model"
)

// fillIn works around each part that lacks visits, or has them late: a part
// that comes late needs the days on which dozens of other passages stand, more
// than moves of a few passages clear. The passages of all parts that meet it
// are spread, near frames of the part tried (walk), and what is spread is made
// whole. What comes out stays if it is better. The parts that lack most come
// first, and only a few have their turn: where many lack something there is too
// little room for all, and no one frame to blame.
func (s *search) fillIn(ctx context.Context, st *state, goal model.Wish) error {
	pr := newPricer(s.p, 1)
	lack := make([]int64, len(s.p.parts))
	for i := range lack {
		lack[i] = st.lack(i, goal)
	}
	list := s.p.byDeadline()
	slices.SortStableFunc(list, func(a, b int) int { return cmp.Compare(lack[b], lack[a]) })
	for _, i := range list[:min(fills, len(list))] {
		if lack[i] == 0 || ctx.Err() != nil {
			break
		}
		w := newWalk(newSpread(s.o.Engine, st), weighed(trade), s.o.Seed)
		at, err := w.step(ctx, pr, i)
		if at == nil || err != nil {
			if err != nil && !ended(ctx, err) {
				return err
			}
			continue
		}
		w.keep(i, at)
		if err := w.whole(ctx, at.list, w.aim, s.scaled(15)); err != nil {
			if !ended(ctx, err) {
				return err
			}
			continue
		}
		to := w.state()
		if err := s.repair(ctx, to, at.list, goal); err != nil {
			return err
		}
		if to.score().less(st.score()) {
			*st = *to
		}
	}
	return nil
}

// fills is how many parts are worked around.
const fills = 2

// lack gives what the passages of a part cost in a wish.
func (s *state) lack(i int, goal model.Wish) int64 {
	sum := int64(0)
	for k := s.p.parts[i].first; k < s.p.parts[i].last; k++ {
		sum += s.p.scheduleScore(&s.p.passages[k], s.sched[k])[goal]
	}
	return sum
}
