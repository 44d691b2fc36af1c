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
