package solver

import (
	"context"
	"time"

	"primaprova/model"
	"primaprova/solver/compact"
	"primaprova/solver/construct"
	"primaprova/solver/highs"
	"primaprova/solver/instance"
	"primaprova/solver/run"
)

// upToBody solves the written-out program of a season of some weeks from the plan so far, for each
// wish up to body that is not proven: in such programs an engine still gets there, and proves
// more than the columns do. What saves body alone is given apart, nil if nothing is: it costs so
// much spacing that windows mostly, but not always, come further from the plan as it was.
func (s *search) upToBody(ctx context.Context, limit *instance.Score) (light *instance.Solution, err error) {
	if !s.writtenInReach(1) {
		return nil, nil
	}
	s.told("whole", 5.0/6)
	from := s.st
	for goal := model.Coverage; goal < model.Body; goal++ {
		if goal == model.ReadyBy && !s.o.Tuning().Short && s.o.Ample() {
			if err := s.inStrips(ctx); err != nil {
				return nil, err
			}
		}
		st, err := s.writtenFor(ctx, goal, s.st, s.st.Score())
		if err != nil {
			return nil, err
		}
		s.st = st
		s.find(st)
	}
	if s.st != from {
		now := s.Limits(s.st.Score())
		copy(limit[:model.Body], now[:model.Body]) // less of one wish may cost more of the next
		s.aimAt(ctx, s.st, limit)
	}
	if light, err = s.writtenFor(ctx, model.Body, s.st, s.st.Score()); err != nil {
		return nil, err
	}
	limit[model.Body] = max(limit[model.Body], instance.Tolerated(s.o.Tolerance, model.Body, s.Proven.Least(model.Body, s.st.Score())))
	if light == s.st {
		return nil, nil
	}
	return light, nil
}

// inStrips betters ready-by before its program is solved, which gets nowhere from a solution that
// leaves much to be won: what coverage came to costs anything in the wishes after it. Moves and
// windows come before each pass: from another plan that costs the same strips find what they did not.
// After one that brings nothing they are cut elsewhere; two of these in a row end it. Of coverage, where few
// passages lack anything, strips find less than its program.
func (s *search) inStrips(ctx context.Context) error {
	const goal = model.ReadyBy
	t, held := s.o.Tuning(), s.st.Score()
	strips := compact.Strips{Engine: compact.ByHighs(s.o.Engine, highs.Options{MaxLPIterations: s.o.Share(t.StripEach)}), Days: t.StripDays}
	idle := 0 // passes that brought nothing, in a row
	for range s.o.Scaled(t.StripPasses) {
		if idle > 1 || s.Least(goal, s.st.Score()) || ctx.Err() != nil {
			break
		}
		began, was := time.Now(), s.st.Score()
		if moved := s.bettered(ctx)(goal, held, s.st); moved.Score().LessFrom(was, goal) && held.Allows(moved.Score(), goal) {
			s.st = moved
		}
		found, tried, err := strips.Better(ctx, s.p, s.st, goal, held)
		if err != nil && ctx.Err() == nil {
			return err
		}
		if s.st = found; s.st.Score()[goal] < was[goal] {
			idle = 0
		} else {
			idle++
			strips.Pass++
		}
		s.o.NoteSaved(began, run.Event{Phase: "strips", Operator: run.Compact, Wish: goal.String(), Tried: tried,
			Score: s.st.Score().Figures(), Saved: was.Measures()[goal] - s.st.Score().Measures()[goal]})
	}
	return nil
}

// writtenSpacing solves it for spacing, once the windows are done: where all wishes before are
// proven it may get further than they do, elsewhere it gets nowhere.
func (s *search) writtenSpacing(ctx context.Context) (err error) {
	limit := s.Limits(s.st.Score())
	for goal := range model.Spacing {
		if limit[goal] > instance.Tolerated(s.o.Tolerance, goal, s.Proven.Least(goal, s.st.Score())) {
			return nil
		}
	}
	times := 1
	if s.p.Days <= s.o.Tuning().CompactBrief {
		times = 4 // who plans so short a season waits for seconds alone
	}
	if s.writtenInReach(times) {
		s.st, err = s.writtenFor(ctx, model.Spacing, s.st, limit)
	}
	return err
}

// writtenInReach tells whether a program so many times as hard is solved beside the columns.
func (s *search) writtenInReach(times int) bool {
	return !s.apart && s.o.Does(run.Compact) && times*s.p.VisitDays() <= s.o.Tuning().CompactReach
}

// writtenFor solves the written-out program for one wish, unless it is proven already. It gives
// the solution it began with where it finds none better.
func (s *search) writtenFor(ctx context.Context, goal model.Wish, st *instance.Solution, held instance.Score) (*instance.Solution, error) {
	if ctx.Err() != nil || s.Least(goal, st.Score()) {
		return st, nil
	}
	if s.o.Tuning().Short && goal < model.Body {
		if err := s.Further(ctx, st, goal); err != nil || s.Least(goal, st.Score()) {
			return st, err
		}
	}
	began, was := time.Now(), st.Score()
	work := max(s.o.Tuning().CompactLeast, s.o.Share(s.o.Tuning().CompactEach))
	if goal == model.Coverage { // no wish pays for what is left out
		work *= 2
	}
	engine := compact.ByHighs(s.o.Engine, highs.Options{MaxLPIterations: work, Patience: work / 2, Enough: compact.Within(s.o.Gap, work/2)})
	if s.o.Tuning().Short {
		if s.engines == nil {
			s.engines = compact.NewEngines(s.o)
		}
		engine = s.engines.Solve
	}
	found, proven, err := compact.SolveWish(ctx, s.p, engine, st, goal, held)
	if err != nil {
		if ctx.Err() != nil {
			return st, nil
		}
		return nil, err
	}
	s.Proven = append(s.Proven, proven)
	e := run.Event{Phase: "compact", Operator: run.Compact, Wish: goal.String(), Tried: 1, Score: found.Score().Figures(), Saved: was.Measures()[goal] - found.Score().Measures()[goal]}
	if found != st {
		e.Kept = 1
	}
	if found != st && s.o.Tuning().Short && s.o.Does(run.Anneal) { // what it costs after the goal is anything
		construct.NewAnnealer(found, uint64(s.o.Seed)).Towards(ctx, model.Spacing, s.Limits(found.Score()), s.o.Tuning().CompactMoves)
		e.Score = found.Score().Figures()
	}
	s.o.NoteSaved(began, e)
	return found, nil
}
