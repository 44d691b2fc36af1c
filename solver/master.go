package solver

import (
	"primaprova/model"
	"primaprova/solver/highs"
)

// master is the linear program over the plans found so far. Each unit - a whole
// part with its frame, or one passage in a frame that is settled - has a weight
// for each of its plans, together 1, beside the coupling rows. Plans that would
// better it are found by the pricer, one for each unit and round; when there
// are none, its value is the best bound that prices alone can prove.
//
// It is solved by the primal simplex method from the last corner, without
// presolve: new columns leave that corner feasible, and a round moves on from
// it in a few milliseconds. (Interior point without crossover needs no fewer
// rounds and takes five times as long. Weights for passages' schedules, tied to
// weights for frames by a row for each passage and frame, give the same bound
// in fewer rounds, but the rows make each linear program a hundred times
// dearer.)
type master struct {
	p      *problem
	engine *highs.Library
	c      *coupling
	lp     *highs.LP
	pricer *pricer
	units  []unit
	aim    aim
	fixed  []int // by unit: the column it is fixed to; none
	base   int   // columns of the coupling
	row    int   // row of the first unit
	cols   []column
	x      []float64 // weights of the columns in the last run, those of the coupling first
	price  []float64 // row duals of the last run
	t      tariff
	value  float64 // of the last run
	bound  float64 // best bound proven for the aim so far
	rounds int
	work   int64 // of all runs: iterations, and one for the run, times rows, since an iteration takes the longer the more there are
	plenty int   // columns a unit has on average before any is taken out
}

// newMaster starts from nothing placed in any unit, beside what rest holds
// placed; rest must hold nothing of the units.
func newMaster(engine *highs.Library, pr *pricer, units []unit, rest *state) (*master, error) {
	return newMasterBeside(engine, pr, units, rest, rest.taken())
}

// newMasterBeside is newMaster where the days are taken otherwise than rest says.
func newMasterBeside(engine *highs.Library, pr *pricer, units []unit, rest *state, t taken) (*master, error) {
	p := rest.p
	first, last := p.days, -1
	for i := range units {
		q := &p.parts[units[i].part]
		first, last = min(first, q.lo), max(last, q.hi)
	}
	c := newCoupling("master", p, max(0, first), min(last, p.days-1), t)
	return newMasterOver(engine, pr, units, rest, c)
}

// newMasterWith is newMasterBeside with an aim and its first columns.
func newMasterWith(engine *highs.Library, pr *pricer, units []unit, rest *state, t taken, a aim, cols []column) (*master, error) {
	m, err := newMasterBeside(engine, pr, units, rest, t)
	if err != nil {
		return nil, err
	}
	if err := m.set(a); err != nil {
		m.close()
		return nil, err
	}
	var batch highs.Columns
	for _, c := range cols {
		m.push(&batch, c)
	}
	if err := m.lp.AddCols(&batch); err != nil {
		m.close()
		return nil, err
	}
	return m, nil
}

// newMasterOver is newMaster with the rows of the days given.
func newMasterOver(engine *highs.Library, pr *pricer, units []unit, rest *state, c *coupling) (*master, error) {
	m := &master{p: rest.p, engine: engine, pricer: pr, units: units, fixed: make([]int, len(units)), c: c, plenty: plenty}
	lp, err := engine.NewLP()
	if err != nil {
		return nil, err
	}
	m.lp = lp
	if err := m.begin(rest); err != nil {
		m.close()
		return nil, err
	}
	return m, nil
}

// begin states the rows, and adds the units as they stand.
func (m *master) begin(rest *state) error {
	lp := m.lp
	if err := lp.PassModel(m.c.m); err != nil {
		return err
	}
	m.base, m.row = lp.Cols(), lp.Rows()
	var rows highs.Rows
	for i := range m.units {
		m.fixed[i] = none
		rows.Add(1, 1, nil, nil)
	}
	if err := lp.AddRows(&rows); err != nil {
		return err
	}
	if err := m.addState(rest); err != nil {
		return err
	}
	for n := range m.cols {
		m.cols[n].keep = true
	}
	return nil
}

func (m *master) close() { m.lp.Close() }

// set gives the master another aim.
func (m *master) set(a aim) error {
	m.aim, m.bound = a, 0
	n := m.lp.Cols()
	set, cost, lo, hi := make([]int32, n), make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range set {
		set[i] = int32(i)
		if i >= m.base {
			c := &m.cols[i-m.base]
			cost[i], hi[i] = a.cost(c.plan.s), a.most(c.plan.s)
			if f := m.fixed[c.unit]; f != none && f != i-m.base || !m.takes(c) {
				hi[i] = 0
			}
		}
	}
	m.c.costs(cost, a.want[model.Body])
	if err := m.lp.ChangeCosts(set, cost); err != nil {
		return err
	}
	if err := m.lp.ChangeBounds(set[m.base:], lo[m.base:], hi[m.base:]); err != nil {
		return err
	}
	rows, low, high := make([]int32, 5), make([]float64, 5), make([]float64, 5)
	for j := range rows {
		rows[j], low[j], high[j] = int32(m.c.wish[j]), -inf, m.c.side(j, a.limits[j])
	}
	return m.lp.ChangeSides(rows, low, high)
}
