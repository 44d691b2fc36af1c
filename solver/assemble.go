package solver

import "primaprova/model"

// assemble turns a state into a plan: sessions from the days chosen, the past
// from the model, warm-ups, hours and sums too.
func (s *state) assemble(h *model.History, standing *model.Plan) *model.Plan {
	p := s.p
	on := map[string]int{} // session id -> day
	for i := range p.parts {
		q, f := &p.parts[i], s.frames[i]
		for n, d := range [3]int16{f.listen, f.read, f.rec} {
			if d >= 0 && [3]int{q.listen, q.read, q.rec}[n] > 0 {
				on[model.StageID(q.work.Name, stages[n])] = int(d)
			}
		}
	}
	for i := range p.passages {
		q := &p.passages[i]
		for k, d := range s.sched[i] {
			on[model.VisitID(q.work.Name, q.done+k+1)] = int(d)
		}
	}
	plan := &model.Plan{Format: model.PlanFormat, From: p.season.From, To: p.season.To, Sessions: p.season.Past(h, standing)}
	wanted := p.season.Wanted(h)
	for i := range wanted {
		w := &wanted[i]
		if d, ok := on[w.ID]; ok {
			plan.Sessions = append(plan.Sessions, w.On(p.season.From+model.Date(d)))
		} else {
			plan.Unplaced = append(plan.Unplaced, w.LeftOut())
		}
	}
	p.season.FinishFrom(plan, h)
	return plan
}

// measures gives a score in the units of the wishes.
func (a score) measures() model.Measures {
	var m model.Measures
	for i, v := range a {
		m[i] = float64(v)
	}
	m[model.Body] /= 100
	return m
}
