package simulation

import (
	"cmp"
	"context"
	"slices"

	"primaprova/model"
	"primaprova/solver"
	"primaprova/solver/highs"
)

// blind follows the first plan to the letter, whatever happens.
type blind struct{ first *model.Plan }

func (*blind) name() string { return "the first plan, blindly" }

func (b *blind) day(_ context.Context, l *life, d model.Date, _ *model.Season, _ *model.History) ([]model.Session, error) {
	l.plan = b.first
	return onDay(b.first, d), nil
}

// replanning plans again in the morning after a day on which something went
// otherwise than planned.
type replanning struct {
	engine *highs.Library
	work   float64
	first  *model.Plan // for the first day
	whole  bool        // as few parts as possible give way; see model.Habits
	urgent bool        // days go by what can wait least; see model.Dispatch
	told   bool        // only those on which the day sheet says so
	seen   int         // events that the standing plan knows
	solved int
}

func (r *replanning) name() string {
	switch {
	case r.told:
		return "planned again, what can wait least first where the sheet says so"
	case r.urgent:
		return "planned again, what can wait least first"
	case r.whole:
		return "planned again, parts kept whole"
	}
	return "planned again"
}

func (r *replanning) day(ctx context.Context, l *life, d model.Date, s *model.Season, h *model.History) ([]model.Session, error) {
	news := slices.ContainsFunc(l.events[r.seen:], func(e model.Event) bool { return e.Kind != model.Done })
	r.seen = len(l.events)
	switch {
	case l.plan == nil:
		l.plan = r.first
		r.solved++
	case news:
		p, err := planned(ctx, s, solver.Options{Engine: r.engine, Tolerance: model.DefaultTolerance, Work: r.work, History: h, Standing: l.plan})
		if err != nil {
			return nil, err
		}
		p.Follow(l.plan)
		l.plan = p
		r.solved++
	}
	l.forward = nil
	if r.urgent {
		if list := s.Dispatch(l.plan, h); !r.told || list.Pressing() != nil {
			l.o.listed++
			return l.dispatched(list), nil
		}
	}
	return onDay(l.plan, d), nil
}

// dispatched gives the sessions of a dispatch list, and keeps what must be left of the
// day for those that come forward.
func (l *life) dispatched(list model.Dispatch) (out []model.Session) {
	l.forward = map[string]model.Minutes{}
	for i := range list.Sessions {
		x := &list.Sessions[i]
		if list.Forward(x) {
			l.forward[x.ID] = list.Spared(x)
		}
		out = append(out, x.On(list.Date))
	}
	return out
}

// planned plans a season: without an engine what is lacking is only fitted in.
func planned(ctx context.Context, s *model.Season, o solver.Options) (*model.Plan, error) {
	if o.Engine == nil {
		return solver.Greedy(s, o)
	}
	return solver.Solve(ctx, s, o)
}

// dueFirst has no plan: each day it does what is due first among what the rules
// allow, until the day is full. It knows everything that has happened.
type dueFirst struct{}

func (dueFirst) name() string { return "earliest due first, day by day" }

func (dueFirst) day(_ context.Context, _ *life, d model.Date, s *model.Season, h *model.History) ([]model.Session, error) {
	work := s.Work(h)
	var may []candidate
	for i := range work {
		may = append(may, candidates(s, h, &work[i], d)...)
	}
	slices.SortStableFunc(may, func(a, b candidate) int {
		return cmp.Or(cmp.Compare(a.due, b.due), cmp.Compare(a.stage, b.stage), cmp.Compare(a.visit, b.visit))
	})
	var out []model.Session
	for _, c := range may {
		out = append(out, c.w.On(d))
	}
	return out, nil
}

// candidate is a session that may be done today.
type candidate struct {
	w            model.Wanted
	due          model.Date
	stage, visit int
}

// candidates gives what the rules allow of a part today: listening, then the
// read-through, from the next day the visits with their least gaps, all once
// before any a third time, and the recordings in the last days.
func candidates(s *model.Season, h *model.History, w *model.PartWork, d model.Date) []candidate {
	var out []candidate
	due := map[string]model.Date{}
	may := map[string]bool{}
	once := true
	for i := range w.Passages {
		p := &w.Passages[i]
		once = once && (len(p.Done) > 0 || p.Passage.Found != 0)
	}
	for i := range w.Passages {
		p := &w.Passages[i]
		due[p.Name] = p.Deadline
		k := len(p.Done)
		ok := w.VisitDays(p).Holds(d) && k < len(p.Recipe) && w.Read != 0 && w.Read < d
		if ok && k > 0 {
			ok = d-p.Done[k-1] >= model.Date(p.Recipe[k].Least)
		}
		may[p.Name] = ok && (once || k != 2 || p.Passage.Found != 0)
	}
	for _, x := range s.Wanted(h) {
		if x.Part != w.Name {
			continue
		}
		c := candidate{w: x, due: w.Window.To + 1, visit: x.Visit}
		ok := w.Window.Holds(d)
		switch x.Stage {
		case model.ReadStage:
			ok, c.stage = ok && (w.Listened != 0 || w.Part.Listening == 0), 1
		case model.PassageStage:
			ok, c.stage, c.due = may[x.Passage], 2, due[x.Passage]
			may[x.Passage] = false // one visit of a passage a day
		case model.RecordingsStage:
			ok, c.stage = w.Read != 0 && w.Read < d && once && w.RecordingDays(&s.Habits).Holds(d), 3
		}
		if ok {
			out = append(out, c)
		}
	}
	return out
}
