package instance

import "primaprova/model"

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
