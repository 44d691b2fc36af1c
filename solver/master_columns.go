package solver

import (
	"math"

	"primaprova/solver/highs"
)

// column is the weight of a unit's plan.
type column struct {
	unit int
	plan partPlan
	idle int  // runs without weight
	keep bool // never taken out: with it the program stays feasible
}

// addState adds the units as they stand in a state.
func (m *master) addState(st *state) error {
	var batch highs.Columns
	for u := range m.units {
		m.push(&batch, column{unit: u, plan: st.unitPlan(&m.units[u])})
	}
	return m.lp.AddCols(&batch)
}

// push adds a column to a batch.
func (m *master) push(batch *highs.Columns, c column) {
	u := &m.units[c.unit]
	use := map[int32]float64{}
	var e entries
	if u.whole {
		m.c.frame(&e, &m.p.parts[u.part], c.plan.frame, score{})
	}
	for k, days := range c.plan.days {
		m.c.schedule(&e, &m.p.passages[u.first+k], days, score{})
	}
	m.c.wishes(&e, c.plan.s)
	e.rows, e.values = append(e.rows, int32(m.row+c.unit)), append(e.values, 1)
	var rows []int32
	for i, r := range e.rows {
		if _, ok := use[r]; !ok {
			rows = append(rows, r)
		}
		use[r] += e.values[i]
	}
	values := make([]float64, len(rows))
	for i, r := range rows {
		values[i] = use[r]
	}
	m.cols = append(m.cols, c)
	batch.Add(m.aim.cost(c.plan.s), 0, m.aim.most(c.plan.s), rows, values)
}

// plenty is how many columns a unit has on average before any is taken out: among
// few, where many corners cost the same, taking out might go round in circles.
const plenty = 10

// prune takes out the columns that had no weight in the last few runs.
func (m *master) prune() error {
	var out []int32
	kept, x := m.cols[:0], m.x[:m.base]
	for n, c := range m.cols {
		if c.idle > 4 && !c.keep && m.fixed[c.unit] != n {
			out = append(out, int32(m.base+n))
			continue
		}
		if m.fixed[c.unit] == n {
			m.fixed[c.unit] = len(kept)
		}
		kept = append(kept, c)
		if m.base+n < len(m.x) {
			x = append(x, m.x[m.base+n])
		}
	}
	m.cols, m.x = kept, x
	return m.lp.DeleteCols(out)
}

// round prices every unit once and adds what helps. It tells how many columns
// came in; none means that the linear program is solved.
func (m *master) round() (added int, err error) {
	if m.rounds%4 == 3 && len(m.cols) > max(200, m.plenty*len(m.units)) {
		if err := m.prune(); err != nil {
			return 0, err
		}
	}
	plans := make([]partPlan, len(m.units))
	m.pricer.each(len(m.units), func(w *pricerWork, i int) {
		if m.fixed[i] == none {
			plans[i] = w.unit(m.p, &m.units[i], &m.t)
		}
	})
	bound := m.t.constant
	var batch highs.Columns
	for i := range plans {
		bound += plans[i].cost
		if m.fixed[i] == none && plans[i].cost < m.price[m.row+i]-1e-6*(1+math.Abs(m.price[m.row+i])) {
			m.push(&batch, column{unit: i, plan: plans[i]})
			added++
		}
	}
	m.bound = max(m.bound, bound)
	m.rounds++
	return added, m.lp.AddCols(&batch)
}

// takes tells whether a column keeps to its unit's frame as it is now.
func (m *master) takes(c *column) bool {
	u := &m.units[c.unit]
	if u.whole {
		return c.keep || u.keeps(c.plan.frame) // with nothing placed any frame is kept
	}
	return m.p.inFrame(&m.p.passages[u.first], u.frame, c.plan.days[0])
}

// reframe puts the units of a master in other frames, beside what is taken with them.
func (m *master) reframe(frames []frame, t taken) error {
	for n := range m.units {
		m.units[n].frame = frames[m.units[n].part]
	}
	m.c.restate(m.p, t)
	rows := make([]int32, m.row)
	for r := range rows {
		rows[r] = int32(r)
	}
	lo, hi := m.c.m.Sides()
	if err := m.lp.ChangeSides(rows, lo, hi); err != nil {
		return err
	}
	return m.set(m.aim) // limits on wishes are in none of the coupling's own rows
}
