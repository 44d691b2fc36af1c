package lns

import (
	"context"
	"slices"

	"primaprova/model"
	"primaprova/solver/instance"
)

// care is how much a repair takes: how often it goes through what is lacking, how
// many iterations each of its integer programs gets at most, and for each unit of
// the wish that its linear program promises, and how near to the best is near
// enough.
type care struct {
	passes int
	work   int64
	each   int64 // 0: no matter what it promises
	gap    float64
	whole  bool // where strips bring nothing, windows over whole passages are tried
}

// Thorough takes much work, because in a crowded stretch what the linear program
// places in pieces has to be packed into days by whole minutes. Brief is for what
// may not be kept, and for when somebody waits.
var (
	Thorough = care{5, 10_000, 0, worthIt, true}
	Brief    = care{3, 5000, 300, 0.5, false}
)

// repairDays is how long a strip is in which something is won back.
const repairDays = 21

// Repair wins back, by windows over the strips around them, what of the passages
// listed costs something in the wishes up to last, one wish after the other: each by
// an integer program that counts that wish before all, so that it stops where it has
// found the most. What that costs in body and spacing the windows that follow have
// to win back.
func (nb *Search) Repair(ctx context.Context, st *instance.Solution, list []int, last model.Wish, by care) error {
	for goal := model.Coverage; goal <= last; goal++ {
		strips := true
		for pass := range by.passes {
			before := st.Score()
			if nb.Met(goal, before) {
				break
			}
			w := subMIP{engine: nb.O.Engine, aim: above(goal, before), rounds: 12, gap: by.gap, work: by.work, each: by.each, wide: true}
			if err := nb.pipeline(ctx, st, lacking(st, list, goal, pass, strips), func() subMIP { return w }, func() {}); err != nil || ctx.Err() != nil {
				return err
			}
			if st.Score().Less(before) {
				continue
			}
			if !strips || !by.whole {
				break
			}
			strips = false
		}
	}
	return nil
}

// lacking gives the pieces, strips or whole passages, that hold something of the
// passages listed that costs something in a wish.
func lacking(s *instance.Solution, list []int, goal model.Wish, pass int, strips bool) []neighbourhood {
	lacking := slices.DeleteFunc(slices.Clone(list), func(k int) bool {
		return s.P.ScheduleScore(&s.P.Passages[k], s.Sched[k])[goal] == 0
	})
	pieces := passageNeighbourhoods(s.P, list, windowSize, pass)
	if strips {
		pieces = dayNeighbourhoods(s, repairDays, pass, lacking)
	}
	return slices.DeleteFunc(pieces, func(c neighbourhood) bool {
		return !slices.ContainsFunc(lacking, func(k int) bool { return slices.Contains(c.list, k) })
	})
}

// above aims at one wish, those before it held at what a score has, those after
// it weighing next to nothing.
func above(goal model.Wish, at instance.Score) instance.Objective {
	a := instance.ConstrainedBy(goal, at)
	little := [5]float64{model.ReadyBy: 0.1, model.Closeness: 0.05, model.Body: 0.005, model.Spacing: 0.005}
	copy(a.Weight[goal+1:], little[goal+1:])
	return a
}
