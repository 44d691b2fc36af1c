package solver

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"primaprova/model"
	"primaprova/solver/cpsat"
	"primaprova/solver/highs"
)

// Options says how a season is planned. The zero value plans from nothing with
// the ordinary budget and no engine, which is an error: set Engine.
type Options struct {
	Engine *highs.Library // the linear programs' engine
	Days   *cpsat.Library // lays each day out in hours; nil: first fit
	// Tolerance is what of each wish may be spent on those after it; the zero value: nothing.
	Tolerance model.Tolerance
	Seed      int            // another seed, another plan of the same worth; 0 is a seed like any other
	Work      float64        // share of the ordinary budget of work; 0 means 1
	History   *model.History // what the record says; nil: nothing has happened
	Standing  *model.Plan    // the plan that stands, for closeness; nil: none
	Progress  func(Progress) // told what is going on, from the solving goroutine; nil: nobody
	// Best is given the best plan so far, audited, at the end of each step; nil: nobody. It is for
	// whoever must be prepared that Solve does not come back.
	Best func(*model.Plan)
}

// Progress is what may be told while the solving goes on.
type Progress struct {
	Step string  // what is being done, in the words of the manual
	Done float64 // share of the work done, 0..1
}

// ErrStopped says that the context ended before there was any plan.
var ErrStopped = errors.New("stopped before there was a plan")

// A FaultyPlan is a plan that broke a rule: an error of this program, never
// shown as a plan.
type FaultyPlan struct{ Breaches []model.Breach }

func (e *FaultyPlan) Error() string {
	var b strings.Builder
	fmt.Fprintf(&b, "internal error: the plan breaks %d rules", len(e.Breaches))
	for i, v := range e.Breaches {
		if i == 5 {
			b.WriteString("\n  …")
			break
		}
		fmt.Fprintf(&b, "\n  %s", v)
	}
	return b.String()
}

// begin gives the state to begin with.
func begin(p *problem, standing *model.Plan) *state {
	if standing == nil {
		return greedy(p)
	}
	return fromStanding(p)
}

// Greedy plans without an engine, in no time: earliest first rehearsal first.
func Greedy(s *model.Season, o Options) (*model.Plan, error) {
	p := build(s, o.History, o.Standing)
	st := begin(p, o.Standing)
	return finish(st, o, nil, model.FirstPlan, 0)
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
	if plan, ok := o.stands(s); ok {
		if !strings.HasSuffix(plan.Provenance.Engine, clocked) {
			return o.clock(ctx, s, plan) // its hours are nobody's choice yet
		}
		return plan, nil
	}
	p := build(s, o.History, o.Standing)
	w := &search{p: p, o: &o, st: begin(p, o.Standing)}
	last := ""
	w.told = func(step string, done float64) {
		if o.Progress != nil {
			o.Progress(Progress{Step: step, Done: done})
		}
		if o.Best != nil && step != last {
			if plan, err := finish(w.st, o, w.proven, model.CutShort, time.Since(at)); err == nil {
				o.Best(plan)
			}
			last = step
		}
	}
	defer w.close()
	if err := w.run(ctx); err != nil {
		return nil, err
	}
	if o.Standing != nil && ctx.Err() != nil {
		w.st.home()
	}
	status := model.NotProven
	if ctx.Err() != nil {
		status = model.CutShort
	}
	plan, err := finish(w.st, o, w.proven, status, time.Since(at))
	if err != nil {
		return nil, err
	}
	w.told("the hours of each day", 1)
	return o.clock(ctx, s, plan)
}

// clocked is added to the engine of a plan whose days were all given hours by
// CP-SAT, whether or not it found better ones.
const clocked = ", CP-SAT"

// clock gives a finished plan's days better hours, and audits it once more.
func (o *Options) clock(ctx context.Context, s *model.Season, plan *model.Plan) (*model.Plan, error) {
	if o.Days == nil || !s.HasHours() || ctx.Err() != nil {
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
	if _, err := LayOutDays(ctx, o.Days, s, plan, o.Standing, from); err != nil {
		return nil, err
	}
	if breaches := s.Audit(plan, o.History); len(breaches) > 0 {
		return nil, &FaultyPlan{breaches}
	}
	if ctx.Err() == nil {
		plan.Provenance.Engine += clocked
	}
	return plan, nil
}

// finish assembles, audits and labels a plan.
func finish(st *state, o Options, proven bounds, status model.PlanStatus, took time.Duration) (*model.Plan, error) {
	s := st.p.season
	plan := st.assemble(o.History, o.Standing)
	if breaches := s.Audit(plan, o.History); len(breaches) > 0 {
		return nil, &FaultyPlan{breaches}
	}
	plan.Season.Content = s.Content()
	engine := "none"
	if o.Engine != nil {
		engine = "HiGHS " + o.Engine.Version()
	}
	values, least := s.Measure(plan, o.History, o.Standing), proven.all(st.score())
	bounds, free := least.measures(), proven.free(o.Tolerance, st.score())
	plan.Provenance = model.Provenance{Engine: engine, Status: status, Seed: o.Seed, Seconds: took.Seconds()}
	best := true
	for _, w := range model.Wishes {
		if bounds[w] > values[w] {
			return nil, fmt.Errorf("internal error: a plan costs %v %s in %v, and %v is proven to be the least", values[w], w.Unit(), w, bounds[w])
		}
		best = best && st.score()[w] <= max(least[w], free[w])
		plan.Provenance.Wishes = append(plan.Provenance.Wishes,
			model.WishValue{Name: w.String(), Value: values[w], Bound: bounds[w], Unit: w.Unit(), Tolerance: o.Tolerance[w]})
	}
	if status == model.NotProven && best {
		plan.Provenance.Status = model.Proven
	}
	return plan, nil
}
