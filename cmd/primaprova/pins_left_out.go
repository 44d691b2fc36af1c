package main

import (
	"primaprova/model"
)

// sayPins says of each pinned session that is left out why it could not stay:
// what the rules say of the plan with it on its day.
func (a *app) sayPins(h *happened, p *model.Plan) {
	w := newView(a.say, h.season, p, h.history)
	for _, pin := range h.season.Pins {
		for i := range p.Unplaced {
			if p.Unplaced[i].ID == pin.Session {
				a.say.aside("Pinned to %s and left out: %s, since %s.", a.say.locale.Day(pin.Date), w.called(pin.Session), w.inWords(whyNot(h, p, i, pin.Date)))
			}
		}
	}
}

func whyNot(h *happened, p *model.Plan, unplaced int, on model.Date) string {
	if on < h.history.Today {
		return "the day has gone by"
	}
	trial := *p
	trial.Sessions = append([]model.Session(nil), p.Sessions...)
	trial.Unplaced = append(append([]model.Unplaced(nil), p.Unplaced[:unplaced]...), p.Unplaced[unplaced+1:]...)
	for _, w := range h.season.Wanted(h.history) {
		if w.ID == p.Unplaced[unplaced].ID {
			trial.Sessions = append(trial.Sessions, w.On(on))
		}
	}
	h.season.FinishFrom(&trial, h.history)
	for _, b := range h.season.Audit(&trial, h.history) {
		return b.Text
	}
	return "the search found no place for it beside the rest"
}
