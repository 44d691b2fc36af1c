package solver

import (
	"context"
	"time"

	"primaprova/model"
	"primaprova/solver/compact"
	"primaprova/solver/construct"
	"primaprova/solver/instance"
	"primaprova/solver/run"
)

// writtenOut solves the written-out program from the solution as it stands, as far as the
// work for it goes, which proves the best plan of a small season outright, most often.
func (s *search) writtenOut(ctx context.Context) error {
	if ctx.Err() != nil {
		return nil
	}
	s.told("whole", 5.0/6)
	best, proven, err := compact.Search{Engine: compact.NewEngines(s.o).Solve, Tolerance: s.o.Tolerance, Aid: s.bettered(ctx)}.Solve(ctx, s.p, s.st)
	if err != nil {
		if ctx.Err() != nil {
			return nil
		}
		return err
	}
	s.st, s.Proven = best, append(s.Proven, proven...)
	s.o.Note(time.Now(), run.Event{Phase: "compact", Operator: run.Compact, Score: s.st.Score().Figures()})
	return nil
}

// bettered betters a wish by moves and windows: what a program came to costs anything in the wishes
// after it.
func (s *search) bettered(ctx context.Context) func(model.Wish, instance.Score, *instance.Solution) *instance.Solution {
	return func(j model.Wish, held instance.Score, from *instance.Solution) *instance.Solution {
		if j == model.Coverage {
			return from
		}
		st := from.Clone()
		if s.o.Does(run.Anneal) {
			construct.NewAnnealer(st, uint64(s.o.Seed)).Towards(ctx, j, held, s.o.Tuning().CompactMoves)
		}
		if j != model.Body {
			kept := st.Clone()
			if err := s.RepairOne(ctx, st, s.p.ByRehearsal(), j, s.o.Tuning().Thorough); err != nil {
				return kept // a window that fails betters nothing
			}
		}
		return st
	}
}
