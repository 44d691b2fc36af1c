package solver

import (
	"context"

	"primaprova/model"
)

// fillIn works around each part that lacks visits, or has them late: a part
// that comes late needs the days on which dozens of other passages stand, more
// than moves of a few passages clear. The passages of all parts that meet it
// are spread, near frames of the part tried (walk), and what is spread is made
// whole. What comes out stays if it is better at the wishes up to the goal.
func (s *search) fillIn(ctx context.Context, st *state, goal model.Wish) error {
	pr := newPricer(s.p, 1)
	for _, i := range s.p.byDeadline() {
		if st.lack(i, goal) == 0 || ctx.Err() != nil {
			continue
		}
		w := &walk{newSpread(s.o.Engine, st), weighed(trade), nil}
		at, err := w.step(ctx, pr, i)
		if at == nil || err != nil {
			if err != nil && !ended(ctx, err) {
				return err
			}
			continue
		}
		w.frames[i] = at.frame
		for n, q := range at.list {
			w.shares[q] = at.shares[n]
		}
		if err := w.whole(ctx, at.list, w.aim, s.scaled(15)); err != nil {
			if !ended(ctx, err) {
				return err
			}
			continue
		}
		to := w.state()
		if err := s.repair(ctx, to); err != nil {
			return err
		}
		if to.score().less(st.score()) {
			*st = *to
		}
	}
	return nil
}

// lack gives what the passages of a part cost in a wish.
func (s *state) lack(i int, goal model.Wish) int64 {
	sum := int64(0)
	for k := s.p.parts[i].first; k < s.p.parts[i].last; k++ {
		sum += s.p.scheduleScore(&s.p.passages[k], s.sched[k])[goal]
	}
	return sum
}
