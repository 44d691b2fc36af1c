package colgen

import (
	"math"

	"primaprova/solver/highs"
	"primaprova/solver/instance"
	"primaprova/solver/pricing"
)

// Column is the weight of a unit's plan.
type Column struct {
	Unit int
	Plan pricing.PartPlan
	idle int  // runs without weight
	Keep bool // never taken out: with it the program stays feasible
}

// AddState adds the units as they stand in a state.
func (m *Master) AddState(st *instance.State) error {
	var batch highs.Columns
	for u := range m.Units {
		m.Push(&batch, Column{Unit: u, Plan: pricing.PlanOf(st, &m.Units[u])})
	}
	return m.Lp.AddCols(&batch)
}

// Push adds a column to a batch.
func (m *Master) Push(batch *highs.Columns, c Column) {
	u := &m.Units[c.Unit]
	use := map[int32]float64{}
	var e Entries
	if u.Whole {
		m.C.frame(&e, &m.P.Parts[u.Part], c.Plan.Frame, instance.Score{})
	}
	for k, days := range c.Plan.Days {
		m.C.Schedule(&e, &m.P.Passages[u.First+k], days, instance.Score{})
	}
	m.C.wishes(&e, c.Plan.S)
	e.Rows, e.Values = append(e.Rows, int32(m.Row+c.Unit)), append(e.Values, 1)
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
	m.Cols = append(m.Cols, c)
	batch.Add(m.Aim.Cost(c.Plan.S), 0, m.Aim.Most(c.Plan.S), rows, values)
}

// plenty is how many columns a unit has on average before any is taken out: among
// few, where many corners cost the same, taking out might go round in circles.
const plenty = 10

// prune takes out the columns that had no weight in the last few runs.
func (m *Master) prune() error {
	var out []int32
	kept, x := m.Cols[:0], m.X[:m.Base]
	for n, c := range m.Cols {
		if c.idle > 4 && !c.Keep && m.Fixed[c.Unit] != n {
			out = append(out, int32(m.Base+n))
			continue
		}
		if m.Fixed[c.Unit] == n {
			m.Fixed[c.Unit] = len(kept)
		}
		kept = append(kept, c)
		if m.Base+n < len(m.X) {
			x = append(x, m.X[m.Base+n])
		}
	}
	m.Cols, m.X = kept, x
	return m.Lp.DeleteCols(out)
}

// Round prices every unit once and adds what helps. It tells how many columns
// came in; none means that the linear program is solved.
func (m *Master) Round() (added int, err error) {
	if m.rounds%4 == 3 && len(m.Cols) > max(200, m.Plenty*len(m.Units)) {
		if err := m.prune(); err != nil {
			return 0, err
		}
	}
	plans := make([]pricing.PartPlan, len(m.Units))
	m.Pricer.Each(len(m.Units), func(w *pricing.PricerWork, i int) {
		if m.Fixed[i] == instance.None {
			plans[i] = w.Unit(m.P, &m.Units[i], &m.T)
		}
	})
	bound := m.T.Constant
	var batch highs.Columns
	for i := range plans {
		bound += plans[i].Cost
		if m.Fixed[i] == instance.None && plans[i].Cost < m.Price[m.Row+i]-1e-6*(1+math.Abs(m.Price[m.Row+i])) {
			m.Push(&batch, Column{Unit: i, Plan: plans[i]})
			added++
		}
	}
	m.Bound = max(m.Bound, bound)
	m.rounds++
	return added, m.Lp.AddCols(&batch)
}

// takes tells whether a column keeps to its unit's frame as it is now.
func (m *Master) takes(c *Column) bool {
	u := &m.Units[c.Unit]
	if u.Whole {
		return c.Keep || u.Keeps(c.Plan.Frame) // with nothing placed any frame is kept
	}
	return m.P.InFrame(&m.P.Passages[u.First], u.Frame, c.Plan.Days[0])
}

// Reframe puts the units of a master in other frames, beside what is taken with them.
func (m *Master) Reframe(frames []instance.Frame, t instance.Taken) error {
	for n := range m.Units {
		m.Units[n].Frame = frames[m.Units[n].Part]
	}
	m.C.restate(m.P, t)
	rows := make([]int32, m.Row)
	for r := range rows {
		rows[r] = int32(r)
	}
	lo, hi := m.C.M.Sides()
	if err := m.Lp.ChangeSides(rows, lo, hi); err != nil {
		return err
	}
	return m.Set(m.Aim) // limits on wishes are in none of the coupling's own rows
}
