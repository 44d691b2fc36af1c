package oracle

import (
	"primaprova/model"
	"primaprova/solver/instance"
)

// stageSupply is what each stage takes of a day.
var stageSupply = [3]model.Supply{model.ListeningTime, model.PlayingTime, model.ListeningTime}

func stageFits(p *instance.Instance, q *instance.Part, n, minutes, d int) bool {
	if !q.Allowed(n, d) {
		return false
	}
	if n == 1 {
		return p.Plays(d, minutes)
	}
	if n == 0 {
		return q.HearsAll(p.Room, d)
	}
	return p.Hears(d, minutes)
}

func visitFits(p *instance.Instance, v *instance.Visit, d int) bool {
	return v.May(d) && p.Plays(d, v.Minutes) && p.Room[d].Visits > 0
}
