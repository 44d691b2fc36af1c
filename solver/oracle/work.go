package oracle

import "primaprova/solver/instance"

// The work of an inquiry is counted, not timed, so that the same question has the same
// answer on any machine. One unit is about a microsecond of a core of 2024, by what was
// measured on a season of 2,900 sessions and one of a hundred; how many units a step
// takes depends on nothing but what it is given.

// Over tells whether an oracle has no work left: it tells nothing then.
func (j *Oracle) Over() bool { return j.Work <= 0 }

// What the steps take.
func (j *Oracle) SpendBuild(p *instance.Instance)  { j.Work -= 500 + p.Size() }
func (j *Oracle) SpendDemand(p *instance.Instance) { j.Work -= 10 + p.Size()/3 }
func (j *Oracle) SpendTurns(p *instance.Instance, tries int) {
	j.Work -= 10 + int64(tries)*(1+p.Size()/8)
}
func (j *Oracle) spendMoves(p *instance.Instance, moves int) {
	j.Work -= int64(moves) * (20 + p.Size()/14)
}
func (j *Oracle) spendEngine(p *instance.Instance, pivots int64) {
	j.Work -= 2000 + pivots*int64(20+p.VisitDays()/25)
}
