package lns

import (
	"context"
	"math"
	"math/rand/v2"

	"primaprova/model"
	"primaprova/solver/colgen"
	"primaprova/solver/highs"
	"primaprova/solver/instance"
	"primaprova/solver/mip"
	"primaprova/solver/pricing"
)

// subMIP frees a few passages and finds their best schedules together, all else
// fixed: a linear program over their columns first, then the integer program
// over those columns whose reduced cost leaves room for something better, with
// the present schedules as its start. What it minimises, and under which
// limits, its aim says.
type subMIP struct {
	engine            *highs.Library
	pricer            *pricing.Pricer
	aim               instance.Objective
	rounds            int     // of pricing
	least             float64 // by which it has to better what it aims at
	gap               float64 // how near to the best its plan has to be
	work              int64   // iterations of the integer program's linear programs at most,
	each              int64   // and for each unit of the objective that the linear program promises; 0: no matter what it promises
	chance            float64 // how much a schedule's cost is changed by, at most, where that tells apart what costs the same
	salt              uint64  // for that
	wide              bool    // the engine looks for plans by programs inside the program, too
	phase             string  // for the trace, as are
	spent, iterations int64   // the work of its linear programs, and the iterations of its integer program
}

// schedules solves the window of a piece and gives its passages' schedules, nil
// where it finds none that cost less.
func (w *subMIP) schedules(ctx context.Context, st *instance.Solution, c *neighbourhood) ([]pricing.BlockPlan, error) {
	rest := st.Clone()
	var units []pricing.Block
	for _, k := range c.list {
		u := pricing.Block{Part: st.P.Passages[k].Part, First: k, Last: k + 1, Frame: st.Frames[st.P.Passages[k].Part]}
		if c.strip {
			days := st.Sched[k]
			u.Frees = func(k, d int) bool { return c.frees(days, k, d) }
		}
		units = append(units, u)
		rest.Lift(k)
	}
	m, err := colgen.NewMaster(w.engine, w.pricer, units, rest)
	if err != nil {
		return nil, err
	}
	defer func() { w.spent = m.Work; m.Close() }()
	if err := m.AddState(st); err != nil {
		return nil, err
	}
	for n := range m.Columns {
		m.Columns[n].Keep = true // the present schedules are where the integer program starts
	}
	// What the rest costs is spent already.
	spent := rest.Sum
	for _, k := range c.list {
		spent = spent.Minus(st.P.ScheduleScore(&st.P.Passages[k], nil))
	}
	a := w.aim
	for j := range a.Limit {
		if model.Wish(j) != model.Body {
			a.Limit[j] -= float64(spent[j])
		}
	}
	if err := m.Minimise(a); err != nil {
		return nil, err
	}
	if err := m.Solve(ctx, w.rounds); err != nil {
		return nil, err
	}
	now := w.aim.Whole(st.Score()) - w.aim.Cost(spent) - w.least
	if w.chance > 0 {
		now += w.least // what costs the same will do
	}
	if m.Bound > now {
		return nil, nil
	}
	return w.integers(ctx, m, now)
}

// replace gives passages other schedules if that costs less, or no more where there
// is chance in it.
func (w *subMIP) replace(s *instance.Solution, list []int, plans []pricing.BlockPlan) {
	was, kept := w.aim.Whole(s.Score()), make([][]instance.Day, len(list))
	for n, k := range list {
		kept[n] = s.Sched[k]
	}
	for _, k := range list {
		s.Lift(k)
	}
	for n, k := range list {
		if days := plans[n].Days[0]; len(days) > 0 {
			s.Place(k, days)
		}
	}
	if now := w.aim.Whole(s.Score()); now < was || now == was && w.chance > 0 {
		return
	}
	for _, k := range list {
		s.Lift(k)
	}
	for n, k := range list {
		if len(kept[n]) > 0 {
			s.Place(k, kept[n])
		}
	}
}

// plainly leaves out the engine's searches of smaller programs inside a program:
// a window is small itself, and they took half of its time. Where something is
// left out, they are what finds room for it.
var plainly = map[string]any{"mip_heuristic_run_rens": false, "mip_heuristic_run_rins": false}

// integers solves the integer program over the master's columns: a plan for
// each block, nil if none is found that costs at most `now`.
func (w *subMIP) integers(ctx context.Context, m *colgen.Master, now float64) ([]pricing.BlockPlan, error) {
	in := m.Linking.M
	for j, limit := range m.Objective.Limit {
		in.SetRow(m.Linking.Wish[j], math.Inf(-1), m.Linking.Side(j, limit))
	}
	for _, v := range m.Linking.Strain {
		in.SetCost(v, m.Objective.Weight[model.Body])
	}
	choose := make([]mip.Row, len(m.Blocks))
	for i := range choose {
		choose[i] = in.Row("", 1, 1)
	}
	var vars []mip.Var
	var of []int // column by variable
	rng := rand.New(rand.NewPCG(w.salt, 0x7069656365))
	for n := range m.Columns {
		c := &m.Columns[n]
		if m.Objective.Most(c.Plan.S) == 0 || !c.Keep && m.Duals.Schedule(&m.P.Passages[m.Blocks[c.Block].First], c.Plan.Days[0], c.Plan.S)-m.RowDuals[m.Row+c.Block] > now-m.Bound+1e-6 {
			continue
		}
		v := in.Bool("", m.Objective.Cost(c.Plan.S)+w.chance*rng.Float64())
		var e colgen.Coefficients
		m.Linking.Schedule(&e, &m.P.Passages[m.Blocks[c.Block].First], c.Plan.Days[0], c.Plan.S)
		for i, r := range e.Rows {
			in.AddTerm(mip.Row(r), v, e.Values[i])
		}
		in.AddTerm(choose[c.Block], v, 1)
		vars, of = append(vars, v), append(of, n)
	}
	start := make([]float64, in.Vars())
	for v := range start {
		start[v] = math.NaN()
	}
	for i, v := range vars {
		start[v] = 0
		if n := len(m.Blocks); of[i] >= n && of[i] < 2*n {
			start[v] = 1
		}
	}
	o := highs.Options{AbsGap: w.gap, MaxLPIterations: w.work}
	if w.each > 0 {
		o.MaxLPIterations = max(1, min(w.work, int64(float64(w.each)*(now-m.Bound))))
	}
	if !w.wide {
		o.Raw = plainly
	}
	r, err := w.engine.Solve(colgen.Briefly(ctx), in, o, start)
	if err != nil {
		return nil, err
	}
	if w.iterations = r.LPIterations; r.X == nil {
		return nil, nil
	}
	out := make([]pricing.BlockPlan, len(m.Blocks))
	for i, v := range vars {
		if r.X[v] > 0.5 {
			out[m.Columns[of[i]].Block] = m.Columns[of[i]].Plan
		}
	}
	for i := range out {
		if out[i].Days == nil {
			return nil, nil
		}
	}
	return out, nil
}
