package solver

// The work of an inquiry is counted, not timed, so that the same question has the same
// answer on any machine. One unit is about a microsecond of a core of 2024, by what was
// measured on a season of 2,900 sessions and one of a hundred; how many units a step
// takes depends on nothing but what it is given.

// reasonWork is what a reason may take, and offerWork what each kind of offer may, at
// Options.Work 1: some seconds each.
const (
	reasonWork = 3_000_000
	offerWork  = 1_500_000
)

// over tells whether a judge has no work left: it tells nothing then.
func (j *judge) over() bool { return j.work <= 0 }

// What the steps take.
func (j *judge) spendBuild(p *problem)            { j.work -= 500 + p.size() }
func (j *judge) spendDemand(p *problem)           { j.work -= 10 + p.size()/3 }
func (j *judge) spendTurns(p *problem, tries int) { j.work -= 10 + int64(tries)*(1+p.size()/8) }
func (j *judge) spendMoves(p *problem, moves int) { j.work -= int64(moves) * (20 + p.size()/14) }
func (j *judge) spendEngine(p *problem, pivots int64) {
	j.work -= 2000 + pivots*int64(20+p.visitDays()/25)
}
