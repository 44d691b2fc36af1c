package colgen

import (
	"cmp"
	"math"
	"slices"

	"primaprova/solver/highs"
	"primaprova/solver/instance"
	"primaprova/solver/pricing"
)

// Column is the weight of a block's plan.
type Column struct {
	Block int
	Plan  pricing.BlockPlan
	idle  int  // runs without weight
	Keep  bool // never taken out: with it the program stays feasible
}

// AddState adds the blocks as they stand in a solution.
func (m *Master) AddState(st *instance.Solution) error {
	var batch highs.Columns
	for u := range m.Blocks {
		m.Push(&batch, Column{Block: u, Plan: pricing.PlanOf(st, &m.Blocks[u])})
	}
	return m.LP.AddCols(&batch)
}

// Push adds a column to a batch.
func (m *Master) Push(batch *highs.Columns, c Column) {
	u := &m.Blocks[c.Block]
	use := map[int32]float64{}
	var e Coefficients
	if u.Whole {
		m.Linking.frame(&e, &m.P.Parts[u.Part], c.Plan.Frame, instance.Score{})
	}
	for k, days := range c.Plan.Days {
		m.Linking.Schedule(&e, &m.P.Passages[u.First+k], days, instance.Score{})
	}
	m.Linking.wishes(&e, c.Plan.S)
	e.Rows, e.Values = append(e.Rows, int32(m.Row+c.Block)), append(e.Values, 1)
	var rows []int32
	for i, r := range e.Rows {
		if _, ok := use[r]; !ok {
			rows = append(rows, r)
		}
		use[r] += e.Values[i]
	}
	values := make([]float64, len(rows))
	for i, r := range rows {
		values[i] = use[r]
	}
	m.Columns = append(m.Columns, c)
	batch.Add(m.Objective.Cost(c.Plan.S), 0, m.Objective.Most(c.Plan.S), rows, values)
}

// plenty is how many columns a block has on average before any is taken out: among
// few, where many corners cost the same, taking out might go round in circles.
const plenty = 10

// prune takes out the columns that had no weight in the last few runs.
func (m *Master) prune() error {
	var out []int32
	kept, x := m.Columns[:0], m.Weights[:m.Base]
	for n, c := range m.Columns {
		if c.idle > 4 && !c.Keep && m.Fixed[c.Block] != n {
			out = append(out, int32(m.Base+n))
			continue
		}
		if m.Fixed[c.Block] == n {
			m.Fixed[c.Block] = len(kept)
		}
		kept = append(kept, c)
		if m.Base+n < len(m.Weights) {
			x = append(x, m.Weights[m.Base+n])
		}
	}
	m.Columns, m.Weights = kept, x
	return m.LP.DeleteCols(out)
}

// PriceOut prices every block once and adds what helps. It tells how many columns
// came in; none means that the linear program is solved.
func (m *Master) PriceOut() (added int, err error) {
	if m.rounds%4 == 3 && len(m.Columns) > max(200, m.Plenty*len(m.Blocks)) {
		if err := m.prune(); err != nil {
			return 0, err
		}
	}
	plans := make([]pricing.BlockPlan, len(m.Blocks))
	m.Pricer.Each(len(m.Blocks), func(w *pricing.Worker, i int) {
		if m.Fixed[i] == instance.None {
			plans[i] = w.Unit(m.P, &m.Blocks[i], &m.Duals)
		}
	})
	bound := m.Duals.Constant
	var batch highs.Columns
	for i := range plans {
		bound += plans[i].Cost
		if m.Fixed[i] == instance.None && plans[i].Cost < m.RowDuals[m.Row+i]-1e-6*(1+math.Abs(m.RowDuals[m.Row+i])) {
			m.Push(&batch, Column{Block: i, Plan: plans[i]})
			added++
		}
	}
	m.Bound = max(m.Bound, bound)
	m.rounds++
	return added, m.LP.AddCols(&batch)
}

// takes tells whether a column keeps to its block's frame as it is now.
func (m *Master) takes(c *Column) bool {
	u := &m.Blocks[c.Block]
	if u.Whole {
		return c.Keep || u.Keeps(c.Plan.Frame) // with nothing placed any frame is kept
	}
	return m.P.InFrame(&m.P.Passages[u.First], u.Frame, c.Plan.Days[0])
}

// Reframe puts the blocks of a master in other frames, beside what is taken with them.
func (m *Master) Reframe(frames []instance.Frame, t instance.Usage) error {
	for n := range m.Blocks {
		m.Blocks[n].Frame = frames[m.Blocks[n].Part]
	}
	m.Linking.restate(m.P, t)
	rows := make([]int32, m.Row)
	for r := range rows {
		rows[r] = int32(r)
	}
	lo, hi := m.Linking.M.Sides()
	if err := m.LP.ChangeSides(rows, lo, hi); err != nil {
		return err
	}
	return m.Minimise(m.Objective) // limits on wishes are in none of these rows
}

// WeighedFrame is a frame with the weight that a linear program gives it.
type WeighedFrame struct {
	instance.Frame
	Weight float64
}

// Frames gives a block's frames in the last run with their weights, the heaviest
// first. Of the columns with the same read-through and first round, the heaviest
// says where the other stages lie.
func (m *Master) Frames(i int) []WeighedFrame {
	var out []WeighedFrame
	var heavy []float64
	for n, w := range m.Weights[m.Base:] {
		if c := &m.Columns[n]; c.Block == i && w > 1e-6 {
			at := slices.IndexFunc(out, func(f WeighedFrame) bool { return f.Read == c.Plan.Read && f.Phi == c.Plan.Phi })
			if at < 0 {
				at = len(out)
				out, heavy = append(out, WeighedFrame{}), append(heavy, 0)
			}
			if w > heavy[at] {
				out[at].Frame, heavy[at] = c.Plan.Frame, w
			}
			out[at].Weight += w
		}
	}
	slices.SortStableFunc(out, func(a, b WeighedFrame) int { return cmp.Compare(b.Weight, a.Weight) })
	return out
}

// Schedules gives what a master's last run spreads each of its passages over.
func (m *Master) Schedules() [][]WeighedSchedule {
	out := make([][]WeighedSchedule, len(m.Blocks))
	for n, w := range m.Weights[m.Base:] {
		if c := &m.Columns[n]; w > 1e-4 && len(c.Plan.Days[0]) > 0 {
			out[c.Block] = append(out[c.Block], WeighedSchedule{c.Plan.Days[0], w})
		}
	}
	return out
}

// EachMinute goes through what the columns of the last run play, with their
// weights.
func (m *Master) EachMinute(f func(c *Column, weight float64, d instance.Day, minutes int)) {
	for n, w := range m.Weights[m.Base:] {
		c := &m.Columns[n]
		if w < 1e-9 {
			continue
		}
		u := &m.Blocks[c.Block]
		if q := &m.P.Parts[u.Part]; u.Whole && q.Read > 0 && c.Plan.Read >= 0 {
			f(c, w, c.Plan.Read, q.Read)
		}
		for k, days := range c.Plan.Days {
			for j, d := range days {
				f(c, w, d, m.P.Passages[u.First+k].Visits[j].Minutes)
			}
		}
	}
}

// WeighedSchedule is a schedule with its weight; those of a passage add up to at most 1,
// what is missing is the passage left out.
type WeighedSchedule struct {
	Days   []instance.Day
	Weight float64
}
