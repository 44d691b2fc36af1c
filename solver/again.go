package solver

import (
	"slices"

	"primaprova/model"
)

// stands gives the standing plan back where nothing has changed since it was
// planned: the same season in every value, the same seed and tolerances, work that was not cut
// short, a past that is what the record says, and an audit that finds nothing
// wrong with what lies ahead. Searching on could still better such a plan, but
// a player who asks again without news wants to see the same calendar.
// Options.Work above 1 asks for that search.
func stands(o *Options, s *model.Season) (*model.Plan, bool) {
	old := o.Standing
	if old == nil || old.Season.Content != s.Content() || old.Provenance.Seed != o.Seed || o.Work > 1 {
		return nil, false
	}
	for _, w := range old.Provenance.Wishes {
		if i := slices.IndexFunc(model.Wishes[:], func(j model.Wish) bool { return j.String() == w.Name }); i < 0 || w.Tolerance != o.Tolerance[i] {
			return nil, false
		}
	}
	if st := old.Provenance.Status; st != model.Proven && st != model.NotProven {
		return nil, false
	}
	plan := withoutOver(s, o.History, old)
	if !samePast(s, o.History, old) || len(s.Audit(plan, o.History)) > 0 {
		return nil, false
	}
	plan.Provenance.Wishes = remeasured(s, o.History, old, plan)
	for i, w := range plan.Provenance.Wishes {
		free := w.Bound
		if model.Wish(i) != model.Spacing { // of the last wish nothing is spent
			free += w.Bound * float64(w.Tolerance) / 100
		}
		if w.Value > free {
			plan.Provenance.Status = model.NotProven
		}
	}
	return plan, true
}

// withoutOver gives a plan that leaves out nothing any more that was due by a first
// rehearsal that has come since.
func withoutOver(s *model.Season, h *model.History, old *model.Plan) *model.Plan {
	plan := *old
	plan.Sessions, plan.Unplaced = slices.Clone(old.Sessions), nil
	wanted, over := map[string]bool{}, map[string]bool{}
	for _, w := range s.Wanted(h) {
		wanted[w.ID] = true
	}
	for _, t := range s.Stands(old, h) {
		for i := range t.Lacks {
			over[t.Lacks[i].ID] = true
		}
	}
	for _, u := range old.Unplaced {
		if wanted[u.ID] || !over[u.ID] {
			plan.Unplaced = append(plan.Unplaced, u)
		}
	}
	return &plan
}

// remeasured gives the wishes of a plan that is given back, which stood before as
// old: what it costs from today on, nothing having moved. All plans share what has gone by, so that none
// costs less by more than what none cost less by when it was planned; but for
// body, where days turned out otherwise than planned.
func remeasured(s *model.Season, h *model.History, old, plan *model.Plan) []model.WishValue {
	values, out := s.Measure(plan, h, plan), slices.Clone(old.Provenance.Wishes)
	for i, w := range model.Wishes {
		gap := max(0, out[i].Value-out[i].Bound)
		out[i].Value, out[i].Bound = values[w], max(0, values[w]-gap)
		if w == model.Body && !asPlanned(h, plan) {
			out[i].Bound = 0
		}
	}
	return out
}

// asPlanned tells whether days gone by took the minutes that were planned.
func asPlanned(h *model.History, plan *model.Plan) bool {
	if h == nil {
		return true
	}
	planned := map[model.Date]model.Minutes{}
	for i := range plan.Sessions {
		if v := &plan.Sessions[i]; v.Stage.Playing() && v.Stage != model.WarmUpStage {
			planned[v.Date] += v.Minutes
		}
	}
	for d, m := range h.Played {
		if d < h.Today && planned[d] != m {
			return false
		}
	}
	return true
}

// samePast tells whether the days gone by are in the plan what they are in the
// record.
func samePast(s *model.Season, h *model.History, plan *model.Plan) bool {
	if h == nil {
		return true
	}
	past := map[string]model.Date{}
	for _, v := range s.Past(h, plan) {
		if v.Date < h.Today {
			past[v.ID] = v.Date
		}
	}
	n := 0
	for i := range plan.Sessions {
		if v := &plan.Sessions[i]; v.Date < h.Today {
			if past[v.ID] != v.Date {
				return false
			}
			n++
		}
	}
	return n == len(past)
}
