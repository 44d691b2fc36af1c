package solver

import (
	"context"
	"math"

	"primaprova/model"
	"primaprova/solver/highs"
	"primaprova/solver/mip"
)

// window frees a few passages and finds their best schedules together, all else
// fixed: a linear program over their columns first, then the integer program
// over those columns whose reduced cost leaves room for something better, with
// the present schedules as its start. It takes the goal down and lets no wish
// before it rise above limit.
type window struct {
	engine *highs.Library
	pricer *pricer
	goal   model.Wish
	limit  score
	rounds int   // of pricing
	work   int64 // iterations of the integer program's linear programs
}

// better solves the window of the passages listed. It tells whether the state
// has become better; if not it is as it was.
func (w *window) better(ctx context.Context, st *state, list []int) (bool, error) {
	before := st.score()
	rest := st.clone()
	var units []unit
	for _, k := range list {
		units = append(units, unit{part: st.p.passages[k].part, first: k, last: k + 1, frame: st.frames[st.p.passages[k].part]})
		rest.lift(k)
	}
	m, err := newMaster(w.engine, w.pricer, units, rest)
	if err != nil {
		return false, err
	}
	defer m.close()
	if err := m.addState(st); err != nil {
		return false, err
	}
	// What the rest costs is spent already.
	a := wishAim(w.goal, [5]float64{})
	spent := rest.sum
	for _, k := range list {
		spent = spent.minus(st.p.scheduleScore(&st.p.passages[k], nil))
	}
	for j := range w.goal {
		if j == model.Body {
			a.limits[j] = float64(w.limit[j]) / 100
		} else {
			a.limits[j] = float64(w.limit[j] - spent[j])
		}
	}
	if err := m.set(a); err != nil {
		return false, err
	}
	if err := m.solve(ctx, w.rounds); err != nil {
		return false, err
	}
	now := float64(before[w.goal]-spent[w.goal]) - 1
	if w.goal == model.Body {
		now = float64(before[w.goal])/100 - 0.5
	}
	if m.bound > now {
		return false, nil
	}
	x, err := w.integers(ctx, m, now)
	if err != nil || x == nil {
		return false, err
	}
	next := rest
	for n, c := range x {
		if len(c.days[0]) > 0 {
			next.place(list[n], c.days[0])
		}
	}
	if now := next.score(); w.limit.allows(now, w.goal) && now.lessFrom(before, w.goal) {
		*st = *next
		return true, nil
	}
	return false, nil
}

// integers solves the integer program over the master's columns: a plan for
// each unit, nil if none is found whose goal is at most `now`.
func (w *window) integers(ctx context.Context, m *master, now float64) ([]partPlan, error) {
	in := m.c.m
	for j, limit := range m.aim.limits {
		in.SetRow(m.c.wish[j], math.Inf(-1), limit)
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
	for n := range m.cols {
		c := &m.cols[n]
		if m.aim.most(c.plan.s) == 0 || !c.keep && m.t.schedule(&m.p.passages[m.units[c.unit].first], c.plan.days[0], c.plan.s)-m.price[m.row+c.unit] > now-m.bound+1e-6 {
			continue
		}
		v := in.Bool("", m.aim.cost(c.plan.s))
		var e entries
		m.c.schedule(&e, &m.p.passages[m.units[c.unit].first], c.plan.days[0], c.plan.s)
		for i, r := range e.rows {
			in.AddTerm(mip.Row(r), v, e.values[i])
		}
		in.AddTerm(choose[c.unit], v, 1)
		vars, of = append(vars, v), append(of, n)
	}
	cut := now + 0.01
	r, err := w.engine.Solve(ctx, in, highs.Options{AbsGap: 0.99, MaxLPIterations: w.work, Cutoff: &cut}, nil)
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
