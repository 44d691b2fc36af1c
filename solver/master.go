package solver

import (
	"context"
	"errors"
	"fmt"
	"math"

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

// unit is what one weight decides: passages[first:last] of a part, and the
// part's frame if whole, in the frame given if not.
type unit struct {
	part, first, last int
	whole             bool
	held              bool // whole, but with its read-through and first round as the frame has them
	frame             frame
	box               *box    // whole, but only in frames of a box; nil: in any
	piece             *piece  // a passage, of which some visits stay on their days; nil: none does
	days              []int16 // those days
}

// keeps tells whether a unit may take a plan in a frame.
func (u *unit) keeps(f frame) bool {
	if u.box != nil && !u.box.holds(f) {
		return false
	}
	return !u.held || f.read == none || f.read == u.frame.read && f.phi == u.frame.phi
}

// takes tells whether a column keeps to its unit's frame as it is now.
func (m *master) takes(c *column) bool {
	u := &m.units[c.unit]
	if u.whole {
		return c.keep || u.keeps(c.plan.frame) // with nothing placed any frame is kept
	}
	return m.p.inFrame(&m.p.passages[u.first], u.frame, c.plan.days[0])
}

// column is the weight of a unit's plan.
type column struct {
	unit int
	plan partPlan
	idle int  // runs without weight
	keep bool // never taken out: with it the program stays feasible
}

// wholeParts gives the units of the whole season.
func (p *problem) wholeParts() []unit {
	out := make([]unit, len(p.parts))
	for i := range out {
		out[i] = p.wholePart(i)
	}
	return out
}

// wholePart gives a part as a unit of a master, in any frame.
func (p *problem) wholePart(i int) unit {
	q := &p.parts[i]
	return unit{part: i, first: q.first, last: q.last, whole: true}
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

// warm goes on from the last corner by the primal simplex method, cold begins
// anew inside.
var (
	warm = highs.Options{LPSolver: "simplex", Presolve: highs.Off, Raw: map[string]any{"simplex_strategy": 4}}
	cold = highs.Options{LPSolver: "ipx", Presolve: highs.On}
)

// run solves the linear program and reads its prices. Where the simplex method
// gives up, or calls a corner optimal without having prices for it, interior
// point does it.
func (m *master) run(ctx context.Context) error {
	if ctx.Err() != nil {
		return context.Cause(ctx)
	}
	if len(m.units) > 0 && !m.units[0].whole {
		ctx = briefly(ctx)
	}
	err := m.solveBy(ctx, warm)
	if stuck := (*stuckError)(nil); errors.As(err, &stuck) {
		err = m.solveBy(ctx, cold)
	}
	if err != nil {
		return err
	}
	iterations, err := m.lp.Iterations()
	if err != nil {
		return err
	}
	m.work += (iterations + 1) * int64(m.lp.Rows())
	for n, w := range m.x[m.base:] { // one for each column: none was added since the run
		if c := &m.cols[n]; w > 1e-6 {
			c.idle = 0
		} else {
			c.idle++
		}
	}
	m.t.read(m.c, m.price, &m.aim)
	m.value, err = m.lp.Objective()
	m.value += m.aim.want[model.Body] * m.c.outside
	return err
}

// briefly lets a program that takes a moment run to its end. The engine asks
// whether to stop at every iteration otherwise, some hundredths of its time.
func briefly(ctx context.Context) context.Context { return context.WithoutCancel(ctx) }

// solveBy solves the linear program by one method and takes its prices and
// weights.
func (m *master) solveBy(ctx context.Context, by highs.Options) error {
	status, err := m.lp.Run(ctx, by)
	if err != nil {
		return err
	}
	if status == highs.Interrupted {
		return context.Cause(ctx)
	}
	if status != highs.Optimal {
		return &stuckError{status}
	}
	m.price, m.x = sized(m.price, m.lp.Rows()), sized(m.x, m.lp.Cols())
	err = errors.Join(m.lp.Duals(m.price), m.lp.Primal(m.x))
	if errors.Is(err, highs.ErrNoSolution) {
		return &stuckError{highs.Unknown}
	}
	return err
}

// stuckError says that the engine gave up on a linear program. Nothing is wrong
// with the plan so far: what was being tried ends there.
type stuckError struct{ status highs.Status }

func (e *stuckError) Error() string { return fmt.Sprintf("the master program is %s", e.status) }

// ended tells whether an error only ends what was being tried.
func ended(ctx context.Context, err error) bool {
	var stuck *stuckError
	return ctx.Err() != nil || errors.As(err, &stuck)
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

// prove gives the master an aim, and runs and prices until its bound is as near
// to its value as a share of it, in so many rounds at most.
func (m *master) prove(ctx context.Context, a aim, rounds int, near float64) error {
	if err := m.set(a); err != nil {
		return err
	}
	for range rounds {
		if err := m.run(ctx); err != nil {
			return err
		}
		added, err := m.round()
		if err != nil || added == 0 || m.value-m.bound <= near*m.value {
			return err
		}
	}
	return nil
}
