package lns

import (
	"context"
	"slices"

	"primaprova/model"
	"primaprova/solver/instance"
	"primaprova/solver/run"
)

// Repair wins back, by windows over the strips around them, what of the passages
// listed costs something in the wishes up to last, one wish after the other: each by
// an integer program that counts that wish before all, so that it stops where it has
// found the most. What that costs in body and spacing the windows that follow have
// to win back.
func (nb *Search) Repair(ctx context.Context, st *instance.Solution, list []int, last model.Wish, by run.Care) error {
	for goal := model.Coverage; goal <= last; goal++ {
		if err := nb.RepairOne(ctx, st, list, goal, by); err != nil || ctx.Err() != nil {
			return err
		}
	}
	return nil
}

// RepairOne does so for one wish alone, those before it held at what they cost.
func (nb *Search) RepairOne(ctx context.Context, st *instance.Solution, list []int, goal model.Wish, by run.Care) error {
	strips := true
	for pass := range by.Passes {
		before := st.Score()
		if nb.Met(goal, before) {
			break
		}
		w := subMIP{phase: "repair", engine: nb.O.Engine, aim: above(goal, before), rounds: nb.O.Tuning().RepairRounds, gap: by.Gap, least: nb.O.Tuning().WorthIt, work: by.Iterations, each: by.PerUnit, wide: true}
		var op Operator = Strips{nb.O.Tuning().RepairDays}
		if !strips {
			op = Passages{list, nb.O.Tuning().RepairPassages}
		}
		if err := nb.improve(ctx, st, lacking{op, list, goal}, pass, func() subMIP { return w }, func() {}); err != nil || ctx.Err() != nil {
			return err
		}
		if st.Score().Less(before) {
			continue
		}
		if !strips || !by.Whole {
			break
		}
		strips = false
	}
	return nil
}

// lacking is an operator that frees only where something of the passages listed costs
// something in a wish; in strips, such passages are freed that have days there, too.
type lacking struct {
	Operator
	list []int
	goal model.Wish
}

func (l lacking) Neighbourhoods(s *instance.Solution, pass int) []neighbourhood {
	lack := slices.DeleteFunc(slices.Clone(l.list), func(k int) bool {
		return s.P.ScheduleScore(&s.P.Passages[k], s.Sched[k])[l.goal] == 0
	})
	pieces := l.Operator.Neighbourhoods(s, pass)
	if strips, ok := l.Operator.(Strips); ok {
		pieces = dayNeighbourhoods(s, strips.Days, pass, lack)
	}
	return slices.DeleteFunc(pieces, func(c neighbourhood) bool {
		return !slices.ContainsFunc(lack, func(k int) bool { return slices.Contains(c.list, k) })
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
