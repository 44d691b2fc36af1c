package instance

import (
	"fmt"
	"strings"
	"time"

	"primaprova/model"
	"primaprova/solver/run"
)

// Finish assembles, audits and labels a plan.
func Finish(st *Solution, o run.Options, proven Bounds, status model.PlanStatus, took time.Duration) (*model.Plan, error) {
	s := st.P.Season
	plan := st.Assemble(o.History, o.Standing)
	if breaches := s.Audit(plan, o.History); len(breaches) > 0 {
		return nil, &FaultyPlan{breaches}
	}
	plan.Season.Content = s.Content()
	engine := "none"
	if o.Engine != nil {
		engine = "HiGHS " + o.Engine.Version()
	}
	values, least := s.Measure(plan, o.History, o.Standing), proven.All(st.Score())
	bounds, free := least.Measures(), proven.Free(o.Tolerance, st.Score())
	plan.Provenance = model.Provenance{Engine: engine, Status: status, Seed: o.Seed, Seconds: took.Seconds()}
	best := true
	for _, w := range model.Wishes {
		if bounds[w] > values[w] {
			return nil, fmt.Errorf("internal error: a plan costs %v %s in %v, and %v is proven to be the least", values[w], w.Unit(), w, bounds[w])
		}
		best = best && st.Score()[w] <= max(least[w], free[w])
		plan.Provenance.Wishes = append(plan.Provenance.Wishes,
			model.WishValue{Name: w.String(), Value: values[w], Bound: bounds[w], Unit: w.Unit(), Tolerance: o.Tolerance[w]})
	}
	if status == model.NotProven && best {
		plan.Provenance.Status = model.Proven
	}
	return plan, nil
}

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

// Assemble turns a solution into a plan: sessions from the days chosen, the past
// from the model, warm-ups, hours and sums too.
func (s *Solution) Assemble(h *model.History, standing *model.Plan) *model.Plan {
	p := s.P
	on := map[string]int{} // session id -> day
	for i := range p.Parts {
		q, f := &p.Parts[i], s.Frames[i]
		for n, d := range [3]Day{f.Listen, f.Read, f.Rec} {
			if d >= 0 && [3]int{q.Listen, q.Read, q.Rec}[n] > 0 {
				for k, id := range q.IDs(n) {
					on[id] = q.SitDay(n, k, int(d))
				}
			}
		}
	}
	for i := range p.Passages {
		q := &p.Passages[i]
		for k, d := range s.Sched[i] {
			on[model.VisitID(q.Work.Name, q.Done+k+1)] = int(d)
		}
	}
	plan := &model.Plan{Format: model.PlanFormat, From: p.Season.From, To: p.Season.To, Sessions: p.Season.Past(h, standing)}
	wanted := p.Season.Wanted(h)
	for i := range wanted {
		w := &wanted[i]
		if d, ok := on[w.ID]; ok {
			plan.Sessions = append(plan.Sessions, w.On(p.Season.From+model.Date(d)))
		} else {
			plan.Unplaced = append(plan.Unplaced, w.LeftOut())
		}
	}
	p.Season.FinishFrom(plan, h)
	return plan
}

// Measures gives a score in the units of the wishes.
func (a Score) Measures() model.Measures {
	var m model.Measures
	for i, v := range a {
		m[i] = float64(v)
	}
	m[model.Body] /= 100
	return m
}
