package solver

import (
	"cmp"
	"context"
	"slices"

	"primaprova/model"
)

// fillIn works around the parts that lack visits, or have them late, as often as
// that helps: a part that comes late needs the days on which dozens of other
// passages stand, more than moves of a few passages clear.
func (s *search) fillIn(ctx context.Context, st *state, goal model.Wish) error {
	for range fillRounds {
		before := st.score()
		if before[goal] <= s.bound[goal] || ctx.Err() != nil {
			break
		}
		if err := s.fillOnce(ctx, st, goal); err != nil {
			return err
		}
		if st.score() == before {
			break
		}
	}
	return nil
}

// fillOnce works around those that lack most, side by side from the state given:
// where many lack something there is too little room for all, and no one frame to
// blame. The best of what comes out stays if it is better.
func (s *search) fillOnce(ctx context.Context, st *state, goal model.Wish) error {
	lack := make([]int64, len(s.p.parts))
	for i := range lack {
		lack[i] = st.lack(i, goal)
	}
	list := s.p.byDeadline()
	slices.SortStableFunc(list, func(a, b int) int { return cmp.Compare(lack[b], lack[a]) })
	list = slices.DeleteFunc(list[:min(fills, len(list))], func(i int) bool { return lack[i] == 0 })
	filled, err := abreast(ctx, list, func(_, i int) (*state, error) { return s.filled(ctx, st, i, goal) })
	for _, to := range filled {
		if to != nil && to.score().less(st.score()) {
			*st = *to
		}
	}
	return err
}

// filled gives a state in which a part that lacks something has more. The passages
// of all parts that meet it are spread, their frames walk to where least is
// lacking, and only then is what is spread made whole: that is what takes long. It
// is nil where the part can't be worked around.
func (s *search) filled(ctx context.Context, st *state, i int, goal model.Wish) (*state, error) {
	w := newWalk(newSpread(s.o.Engine, st), weighed(trade), s.o.Seed)
	w.least = fillLeast
	list, err := w.around(ctx, i)
	if list == nil || err != nil {
		return nil, err
	}
	if err := w.whole(ctx, list, w.aim, s.scaled(15)); err != nil {
		return nil, err
	}
	to := w.state()
	if err := s.repair(ctx, to, list, goal, brief); err != nil {
		return nil, err
	}
	return to, nil
}

// fills is how many parts are worked around, fillRounds how often; fillLeast is
// what a frame has to save there, a tenth of what a day late weighs.
const (
	fills      = 2
	fillRounds = 2
	fillLeast  = 100
)

// lack gives what the passages of a part cost in a wish.
func (s *state) lack(i int, goal model.Wish) int64 {
	sum := int64(0)
	for k := s.p.parts[i].first; k < s.p.parts[i].last; k++ {
		sum += s.p.scheduleScore(&s.p.passages[k], s.sched[k])[goal]
	}
	return sum
}
