// Package colgen is column generation: the rows that link parts (Linking), the restricted master over
// the plans found so far (Master), its duals, and the bound that they prove.
package colgen

import (
	"primaprova/model"
	"primaprova/solver/highs"
	"primaprova/solver/instance"
	"primaprova/solver/pricing"
)

// Master is the linear program over the plans found so far. Each block - a whole
// part with its frame, or one passage in a frame that is settled - has a weight
// for each of its plans, together 1, beside the linking rows. Plans that would
// better it are found by the pricer, one for each block and round; when there
// are none, its value is the best bound that prices alone can prove.
//
// It is solved by the primal simplex method from the last corner, without
// presolve: new columns leave that corner feasible, and a round moves on from
// it in a few milliseconds. (Interior point without crossover needs no fewer
// rounds and takes five times as long. Weights for passages' schedules, tied to
// weights for frames by a row for each passage and frame, give the same bound
// in fewer rounds, but the rows make each linear program a hundred times
// dearer.)
type Master struct {
	P         *instance.Instance
	Engine    *highs.Library
	Linking   *Linking
	LP        *highs.LP
	Pricer    *pricing.Pricer
	Blocks    []pricing.Block
	Objective instance.Objective
	Fixed     []int // by block: the column it is fixed to; none
	Base      int   // columns of the linking rows
	Row       int   // row of the first block
	Columns   []Column
	Weights   []float64 // weights of the columns in the last run, those of the linking rows first
	RowDuals  []float64 // row duals of the last run
	Duals     pricing.Duals
	Value     float64 // of the last run
	Bound     float64 // best bound proven for the aim so far
	rounds    int
	Work      int64 // of all runs: iterations, and one for the run, times rows, since an iteration takes the longer the more there are
	Plenty    int   // columns a block has on average before any is taken out
}

// NewMaster starts from nothing placed in any block, beside what rest holds
// placed; rest must hold nothing of the blocks.
func NewMaster(engine *highs.Library, pr *pricing.Pricer, units []pricing.Block, rest *instance.Solution) (*Master, error) {
	return newMasterBeside(engine, pr, units, rest, rest.Usage())
}

// newMasterBeside is newMaster where the days are taken otherwise than rest says.
func newMasterBeside(engine *highs.Library, pr *pricing.Pricer, units []pricing.Block, rest *instance.Solution, t instance.Usage) (*Master, error) {
	p := rest.P
	first, last := p.Days, -1
	for i := range units {
		q := &p.Parts[units[i].Part]
		first, last = min(first, q.Lo), max(last, q.Hi)
	}
	c := NewLinking("master", p, max(0, first), min(last, p.Days-1), t)
	return NewMasterOver(engine, pr, units, rest, c)
}

// NewMasterWith is newMasterBeside with an aim and its first columns.
func NewMasterWith(engine *highs.Library, pr *pricing.Pricer, units []pricing.Block, rest *instance.Solution, t instance.Usage, a instance.Objective, cols []Column) (*Master, error) {
	m, err := newMasterBeside(engine, pr, units, rest, t)
	if err != nil {
		return nil, err
	}
	if err := m.Minimise(a); err != nil {
		m.Close()
		return nil, err
	}
	var batch highs.Columns
	for _, c := range cols {
		m.Push(&batch, c)
	}
	if err := m.LP.AddCols(&batch); err != nil {
		m.Close()
		return nil, err
	}
	return m, nil
}

// NewMasterOver is newMaster with the rows of the days given.
func NewMasterOver(engine *highs.Library, pr *pricing.Pricer, units []pricing.Block, rest *instance.Solution, c *Linking) (*Master, error) {
	m := &Master{P: rest.P, Engine: engine, Pricer: pr, Blocks: units, Fixed: make([]int, len(units)), Linking: c, Plenty: plenty}
	lp, err := engine.NewLP()
	if err != nil {
		return nil, err
	}
	m.LP = lp
	if err := m.begin(rest); err != nil {
		m.Close()
		return nil, err
	}
	return m, nil
}

// begin states the rows, and adds the blocks as they stand.
func (m *Master) begin(rest *instance.Solution) error {
	lp := m.LP
	if err := lp.PassModel(m.Linking.M); err != nil {
		return err
	}
	m.Base, m.Row = lp.Cols(), lp.Rows()
	var rows highs.Rows
	for i := range m.Blocks {
		m.Fixed[i] = instance.None
		rows.Add(1, 1, nil, nil)
	}
	if err := lp.AddRows(&rows); err != nil {
		return err
	}
	if err := m.AddState(rest); err != nil {
		return err
	}
	for n := range m.Columns {
		m.Columns[n].Keep = true
	}
	return nil
}

func (m *Master) Close() { m.LP.Close() }

// Minimise gives the master another aim.
func (m *Master) Minimise(a instance.Objective) error {
	m.Objective, m.Bound = a, 0
	n := m.LP.Cols()
	set, cost, lo, hi := make([]int32, n), make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range set {
		set[i] = int32(i)
		if i >= m.Base {
			c := &m.Columns[i-m.Base]
			cost[i], hi[i] = a.Cost(c.Plan.S), a.Most(c.Plan.S)
			if f := m.Fixed[c.Block]; f != instance.None && f != i-m.Base || !m.takes(c) {
				hi[i] = 0
			}
		}
	}
	m.Linking.costs(cost, a.Weight[model.Body])
	if err := m.LP.ChangeCosts(set, cost); err != nil {
		return err
	}
	if err := m.LP.ChangeBounds(set[m.Base:], lo[m.Base:], hi[m.Base:]); err != nil {
		return err
	}
	rows, low, high := make([]int32, 5), make([]float64, 5), make([]float64, 5)
	for j := range rows {
		rows[j], low[j], high[j] = int32(m.Linking.Wish[j]), -instance.Inf, m.Linking.Side(j, a.Limit[j])
	}
	return m.LP.ChangeSides(rows, low, high)
}
