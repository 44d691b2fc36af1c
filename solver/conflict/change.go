package conflict

import (
	"primaprova/model"
	"primaprova/solver/instance"
	"primaprova/solver/oracle"
)

// change is a season as it would be, what has to be placed in it, and what of
// the plan it gives up.
type change struct {
	season *model.Season
	bid    func(p *instance.Instance) oracle.Demand
}

// trial is a change that was judged.
type trial struct {
	change
	p     *instance.Instance // of the whole season
	cut   *instance.Instance
	back  oracle.Origin
	state *instance.Solution // of cut
}
