package solver

import (
	"context"
	"errors"
	"strings"
	"time"

	"primaprova/model"
	"primaprova/solver/construct"
	"primaprova/solver/hours"
	"primaprova/solver/instance"
	"primaprova/solver/run"
)

// Options says how a season is planned; Progress what may be told while that goes on; a
// FaultyPlan is a plan that broke a rule, never shown as one.
type (
	Options    = run.Options
	Progress   = run.Progress
	FaultyPlan = instance.FaultyPlan
	Event      = run.Event  // of a trace
	Params     = run.Params // all that is tuned
	Pass       = run.Pass   // of them
)

// Tuned are the ordinary parameters, Operators the names that Params.Off may hold, and
// Processor gives the processor seconds that the process has taken.
var (
	Tuned     = run.Tuned
	Operators = run.Operators
	Processor = run.Processor
)

// ErrStopped says that the context ended before there was any plan.
var ErrStopped = errors.New("stopped before there was a plan")

// begin gives the solution to begin with.
func begin(p *instance.Instance, o *Options) *instance.Solution {
	if !o.Replans() {
		return construct.Greedy(p)
	}
	return construct.FromStanding(p)
}

// Greedy plans without an engine, in no time: earliest first rehearsal first.
func Greedy(s *model.Season, o Options) (*model.Plan, error) {
	p := instance.New(s, o.History, o.Standing)
	st := begin(p, &o)
	return instance.Finish(st, o, nil, model.FirstPlan, 0)
}

// Solve plans a season. When the context ends early it gives the best plan so
// far, marked cut short. Every plan has passed the audit. Where a plan stands
// and nothing has changed since, it is that plan.
func Solve(ctx context.Context, s *model.Season, o Options) (*model.Plan, error) {
	at := time.Now()
	if ctx.Err() != nil {
		return nil, ErrStopped
	}
	if o.Engine == nil {
		return nil, errors.New("solver: no engine was given")
	}
	if plan, ok := stands(&o, s); ok {
		if !strings.HasSuffix(plan.Provenance.Engine, hours.Clocked) {
			return giveHours(ctx, &o, s, plan) // its hours are nobody's choice yet
		}
		return plan, nil
	}
	o = o.Traced()
	p := instance.New(s, o.History, o.Standing)
	if short(p, &o) {
		o.Params = o.Tuning().Shortened()
	}
	p.Params = o.Tuning()
	w := newSearch(p, &o, begin(p, &o))
	last, most := "", 0.0
	w.told = func(step string, done float64) {
		most = max(most, done) // windows may be gone through twice
		if o.Progress != nil {
			now := w.st.Score()
			o.Progress(Progress{Step: step, Done: most, Score: now.Measures(), Least: w.Proven.All(now).Measures()})
		}
		if o.Best != nil && step != last {
			if plan, err := instance.Finish(w.st, o, w.Proven, model.CutShort, time.Since(at)); err == nil {
				o.Best(plan)
			}
			last = step
		}
	}
	defer w.Close()
	if err := w.run(ctx); err != nil {
		return nil, err
	}
	if o.Replans() && ctx.Err() != nil {
		construct.Restore(w.st)
	}
	status := model.NotProven
	if ctx.Err() != nil {
		status = model.CutShort
	}
	plan, err := instance.Finish(w.st, o, w.Proven, status, time.Since(at))
	if err != nil {
		return nil, err
	}
	w.told("the hours of each day", 1)
	return giveHours(ctx, &o, s, plan)
}

// short tells whether a season has so few weeks that seconds are waited for, though it is planned by columns,
// with so much work that there are seconds to save.
func short(p *instance.Instance, o *Options) bool {
	by, size := o.Tuning(), p.VisitDays()
	return !o.Replans() && o.Ample() && o.Does(run.Compact) && p.Days <= by.CompactBrief && size > by.CompactSize && size <= by.CompactReach
}

// giveHours gives a finished plan's days better hours, and audits it once more.
func giveHours(ctx context.Context, o *Options, s *model.Season, plan *model.Plan) (*model.Plan, error) {
	if !o.Does(run.Hours) || !s.HasHours() || ctx.Err() != nil {
		return plan, nil
	}
	if o.Hours() == nil {
		return plan, nil
	}
	from := s.From
	if o.History != nil {
		from = max(from, o.History.Today)
		for _, v := range s.Past(o.History, o.Standing) {
			if v.Date == from && v.Start != nil {
				from++ // what is done keeps its hours, and the rest of that day has followed it
				break
			}
		}
	}
	began := time.Now()
	changed, err := hours.LayOutDays(ctx, o.Days, o.Tuning().HoursWork, s, plan, o.Standing, from)
	if err != nil {
		return nil, err
	}
	o.Note(began, run.Event{Phase: "hours", Operator: run.Hours, Tried: int(s.To-from) + 1, Kept: len(changed)})
	if breaches := s.Audit(plan, o.History); len(breaches) > 0 {
		return nil, &FaultyPlan{Breaches: breaches}
	}
	if ctx.Err() == nil {
		plan.Provenance.Engine += hours.Clocked
	}
	return plan, nil
}
