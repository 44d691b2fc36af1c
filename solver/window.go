package solver

import (
	"context"
	"math"
	"math/rand/v2"

	"primaprova/model"
	"primaprova/solver/highs"
	"primaprova/solver/mip"
)

// window frees a few passages and finds their best schedules together, all else
// fixed: a linear program over their columns first, then the integer program
// over those columns whose reduced cost leaves room for something better, with
// the present schedules as its start. What it minimises, and under which
// limits, its aim says.
type window struct {
	engine *highs.Library
	pricer *pricer
	aim    aim
	rounds int     // of pricing
	gap    float64 // how near to the best its plan has to be
	work   int64   // iterations of the integer program's linear programs at most,
	each   int64   // and for each unit of the aim that the linear program promises; 0: no matter what it promises
	chance float64 // how much a schedule's cost is changed by, at most, where that tells apart what costs the same
	salt   uint64  // for that
	wide   bool    // the engine looks for plans by programs inside the program, too
}

// worth gives what a state costs in a window's aim.
func (w *window) worth(s score) float64 {
	return w.aim.cost(s) + w.aim.want[model.Body]*float64(s[model.Body])/100
}

// schedules solves the window of a piece and gives its passages' schedules, nil
// where it finds none that cost less.
func (w *window) schedules(ctx context.Context, st *state, c *piece) ([]partPlan, error) {
	rest := st.clone()
	var units []unit
	for _, k := range c.list {
		u := unit{part: st.p.passages[k].part, first: k, last: k + 1, frame: st.frames[st.p.passages[k].part]}
		if c.strip {
			days := st.sched[k]
			u.frees = func(k, d int) bool { return c.frees(days, k, d) }
		}
		units = append(units, u)
		rest.lift(k)
	}
	m, err := newMaster(w.engine, w.pricer, units, rest)
	if err != nil {
		return nil, err
	}
	defer m.close()
	if err := m.addState(st); err != nil {
		return nil, err
	}
	for n := range m.cols {
		m.cols[n].keep = true // the present schedules are where the integer program starts
	}
	// What the rest costs is spent already.
	spent := rest.sum
	for _, k := range c.list {
		spent = spent.minus(st.p.scheduleScore(&st.p.passages[k], nil))
	}
	a := w.aim
	for j := range a.limits {
		if model.Wish(j) != model.Body {
			a.limits[j] -= float64(spent[j])
		}
	}
	if err := m.set(a); err != nil {
		return nil, err
	}
	if err := m.solve(ctx, w.rounds); err != nil {
		return nil, err
	}
	now := w.worth(st.score()) - w.aim.cost(spent) - worthIt
	if w.chance > 0 {
		now += worthIt // what costs the same will do
	}
	if m.bound > now {
		return nil, nil
	}
	return w.integers(ctx, m, now)
}

// replace gives passages other schedules if that costs less, or no more where there
// is chance in it.
func (w *window) replace(s *state, list []int, plans []partPlan) {
	was, kept := w.worth(s.score()), make([][]int16, len(list))
	for n, k := range list {
		kept[n] = s.sched[k]
	}
	for _, k := range list {
		s.lift(k)
	}
	for n, k := range list {
		if days := plans[n].days[0]; len(days) > 0 {
			s.place(k, days)
		}
	}
	if now := w.worth(s.score()); now < was || now == was && w.chance > 0 {
		return
	}
	for _, k := range list {
		s.lift(k)
	}
	for n, k := range list {
		if len(kept[n]) > 0 {
			s.place(k, kept[n])
		}
	}
}

// plainly leaves out the engine's searches of smaller programs inside a program:
// a window is small itself, and they took half of its time. Where something is
// left out, they are what finds room for it.
var plainly = map[string]any{"mip_heuristic_run_rens": false, "mip_heuristic_run_rins": false}

// worthIt is the least by which a window has to better what it aims at.
const worthIt = 0.1

// integers solves the integer program over the master's columns: a plan for
// each unit, nil if none is found that costs at most `now`.
func (w *window) integers(ctx context.Context, m *master, now float64) ([]partPlan, error) {
	in := m.c.m
	for j, limit := range m.aim.limits {
		in.SetRow(m.c.wish[j], math.Inf(-1), m.c.side(j, limit))
	}
	for _, v := range m.c.strain {
		in.SetCost(v, m.aim.want[model.Body])
	}
	choose := make([]mip.Row, len(m.units))
	for i := range choose {
		choose[i] = in.Row("", 1, 1)
	}
	var vars []mip.Var
	var of []int // column by variable
	rng := rand.New(rand.NewPCG(w.salt, 0x7069656365))
	for n := range m.cols {
		c := &m.cols[n]
		if m.aim.most(c.plan.s) == 0 || !c.keep && m.t.schedule(&m.p.passages[m.units[c.unit].first], c.plan.days[0], c.plan.s)-m.price[m.row+c.unit] > now-m.bound+1e-6 {
			continue
		}
		v := in.Bool("", m.aim.cost(c.plan.s)+w.chance*rng.Float64())
		var e entries
		m.c.schedule(&e, &m.p.passages[m.units[c.unit].first], c.plan.days[0], c.plan.s)
		for i, r := range e.rows {
			in.AddTerm(mip.Row(r), v, e.values[i])
		}
		in.AddTerm(choose[c.unit], v, 1)
		vars, of = append(vars, v), append(of, n)
	}
	start := make([]float64, in.Vars())
	for v := range start {
		start[v] = math.NaN()
	}
	for i, v := range vars {
		start[v] = 0
		if n := len(m.units); of[i] >= n && of[i] < 2*n {
			start[v] = 1
		}
	}
	o := highs.Options{AbsGap: w.gap, MaxLPIterations: w.work}
	if w.each > 0 {
		o.MaxLPIterations = max(1, min(w.work, int64(float64(w.each)*(now-m.bound))))
	}
	if !w.wide {
		o.Raw = plainly
	}
	r, err := w.engine.Solve(briefly(ctx), in, o, start)
	if err != nil || r.X == nil {
		return nil, err
	}
	out := make([]partPlan, len(m.units))
	for i, v := range vars {
		if r.X[v] > 0.5 {
			out[m.cols[of[i]].unit] = m.cols[of[i]].plan
		}
	}
	for i := range out {
		if out[i].days == nil {
			return nil, nil
		}
	}
	return out, nil
}
