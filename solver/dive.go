package solver

import (
	"cmp"
	"context"
	"slices"

	"primaprova/solver/highs"
)

// heaviest gives each unit's column of the greatest weight in the last run, and
// that weight.
func (m *master) heaviest() ([]int, []float64) {
	heavy, weight := make([]int, len(m.units)), make([]float64, len(m.units))
	for i := range weight {
		weight[i] = -1
	}
	for n, w := range m.x[m.base:] {
		if c := &m.cols[n]; w > weight[c.unit] {
			heavy[c.unit], weight[c.unit] = n, w
		}
	}
	return heavy, weight
}

// pace is how a dive goes down: which share of the units left it places at a time,
// and how often it prices the others then. Around a few parts a slow one costs
// little, and leaves less out.
type pace struct {
	share  float64
	rounds int
}

var (
	fast = pace{0.15, 2}
	slow = pace{0.05, 4}
)

// dive places the units of the master in a state that holds the rest: those
// first whose heaviest plan weighs most. It solves and prices the others again
// around them, and goes on until every unit has its plan. What the last ones
// are squeezed out of is won back by moves and windows. The master is left with
// its units fixed.
func (m *master) dive(ctx context.Context, s *state, by pace) error {
	in := &inserter{s: s, by: inOrder, t: &m.t}
	for {
		if err := m.solve(ctx, by.rounds); err != nil {
			return err
		}
		heavy, weight := m.heaviest()
		var free []int
		for i := range weight {
			if m.fixed[i] == none {
				free = append(free, i)
			}
		}
		if len(free) == 0 {
			return nil
		}
		slices.SortStableFunc(free, func(a, b int) int { return cmp.Or(cmp.Compare(weight[b], weight[a]), a-b) })
		var batch highs.Columns
		for n, i := range free {
			if n > int(by.share*float64(len(free))) && weight[i] < 0.99 {
				break
			}
			in.plan(&m.units[i], &m.cols[heavy[i]].plan)
			m.fixed[i] = len(m.cols)
			m.push(&batch, column{unit: i, plan: s.unitPlan(&m.units[i])})
		}
		if err := m.lp.AddCols(&batch); err != nil {
			return err
		}
		m.leave(s)
		if err := m.set(m.aim); err != nil {
			return err
		}
	}
}

// leave tells the pricer what room the placed parts leave.
func (m *master) leave(s *state) {
	m.pricer.room = slices.Clone(m.p.room)
	for d := range m.pricer.room {
		r := &m.pricer.room[d]
		r.playing -= int(s.planned[d])
		r.listening -= s.listen[d]
		r.held -= int(s.planned[d]) + s.listen[d]
		r.visits -= s.visits[d]
	}
}

// plan places a unit that is lifted as a plan has it: its frame if it is a
// whole part, and each passage where the days still take it, each of the
// others where it costs least.
func (in *inserter) plan(u *unit, pl *partPlan) {
	s := in.s
	q := &s.p.parts[u.part]
	if u.whole {
		if pl.read == none || !s.takesFrame(q, pl.frame) {
			in.part(u.part, 2, s.p.order(q))
			return
		}
		s.setFrame(u.part, pl.frame)
	}
	var left []int
	for k := u.first; k < u.last; k++ {
		if days := pl.days[k-u.first]; len(days) == len(s.p.passages[k].visits) && s.takes(k, days) {
			s.place(k, days)
		} else {
			left = append(left, k)
		}
	}
	for _, k := range left {
		in.passage(k)
	}
}
