package solver

import (
	"fmt"
	"slices"

	"primaprova/model"
)

// Elsewhere is what it would be for one session to lie on a day, all others
// staying where they are.
type Elsewhere struct {
	Date     model.Date
	Breaches []model.Breach // rules that forbid it; without any it may
	Change   model.Measures // what it changes in the wishes; closeness, which every move costs, apart
}

// Free tells whether the session may lie there at no cost.
func (e *Elsewhere) Free() bool { return len(e.Breaches) == 0 && !(model.Measures{}).Less(e.Change) }

// Around tries one session of a plan on every day from today on: each day's
// plan is audited and measured as any plan is. It solves nothing. The history
// may be nil. It is an error where the plan does not hold the session ahead.
func Around(s *model.Season, p *model.Plan, h *model.History, session string) (out []Elsewhere, err error) {
	today := s.Today(h)
	at := slices.IndexFunc(p.Sessions, func(v model.Session) bool { return v.ID == session })
	if at < 0 || p.Sessions[at].Date < today || p.Sessions[at].Stage == model.WarmUpStage {
		return nil, fmt.Errorf("%s is not planned from %v on", session, today)
	}
	now := s.Measure(p, h, nil)
	for d := today; d <= s.To; d++ {
		moved := *p
		moved.Sessions = slices.Clone(p.Sessions)
		moved.Sessions[at].Date = d
		s.FinishFrom(&moved, h)
		e := Elsewhere{Date: d, Breaches: s.Audit(&moved, h)}
		for w, v := range s.Measure(&moved, h, nil) {
			e.Change[w] = v - now[w]
		}
		out = append(out, e)
	}
	return out, nil
}
