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
func (o *Options) stands(s *model.Season) (*model.Plan, bool) {
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
	return plan, true
}

// withoutOver gives a plan that leaves out nothing any more that was due by a first
// rehearsal that has come since. What they went without, w, is settled: it goes from
// the value of coverage, and from its bound b too, since any plan of the rest
// leaves out b − w at least.
func withoutOver(s *model.Season, h *model.History, old *model.Plan) *model.Plan {
	plan := *old
	plan.Sessions, plan.Unplaced = slices.Clone(old.Sessions), nil
	wanted, worth, gone := map[string]bool{}, map[string]int{}, 0.0
	for _, w := range s.Wanted(h) {
		wanted[w.ID] = true
	}
	for _, t := range s.Stands(old, h) {
		for i := range t.Lacks {
			worth[t.Lacks[i].ID] = t.Lacks[i].Value
		}
	}
	for _, u := range old.Unplaced {
		if v, lacks := worth[u.ID]; lacks && !wanted[u.ID] {
			gone += float64(v)
		} else {
			plan.Unplaced = append(plan.Unplaced, u)
		}
	}
	if len(plan.Unplaced) == len(old.Unplaced) {
		return &plan
	}
	plan.Provenance.Wishes = slices.Clone(old.Provenance.Wishes)
	for i := range plan.Provenance.Wishes {
		if x := &plan.Provenance.Wishes[i]; x.Name == model.Coverage.String() {
			x.Value, x.Bound = max(0, x.Value-gone), max(0, x.Bound-gone)
		}
	}
	return &plan
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
