package memory

import (
	"slices"

	"primaprova/model"
)

// AtRehearsal gives the passages of the parts whose first rehearsal lies ahead, each as
// it comes to it: with the visits that were done, and those that the plan has before.
// A part without rehearsals has its first date in their place, and a passage that the player
// wants for a later date is not among them. One without any visit is no case, since nothing is
// known of it: such are counted. History and plan may be nil.
func AtRehearsal(s *model.Season, h *model.History, p *model.Plan) (cases []Case, untouched int) {
	planned := map[string][]model.Date{}
	if p != nil {
		for i := range p.Sessions {
			if v := &p.Sessions[i]; v.Passage != nil && (h == nil || v.Date >= h.Today) {
				planned[*v.Passage] = append(planned[*v.Passage], v.Date)
			}
		}
	}
	for _, w := range s.Work(h) {
		if w.Over {
			continue
		}
		for i := range w.Passages {
			q := &w.Passages[i]
			if q.Passage.Upkeep || q.Passage.Due > w.Due {
				continue
			}
			x := Case{Hard: q.Passage.Hard}
			var last model.Date
			for _, d := range slices.Concat(q.Done, planned[q.Name]) {
				if d < w.Due {
					x.Visits++
					last = max(last, d)
				}
			}
			if x.Visits == 0 {
				untouched++
				continue
			}
			if h != nil {
				x.Failed = h.Failed[q.Name]
			}
			x.Gap = int(w.Due - last)
			cases = append(cases, x)
		}
	}
	return cases, untouched
}
