package solver

import (
	"context"
	"math"
	"sync"

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
	rounds int   // of pricing
	work   int64 // iterations of the integer program's linear programs
}

// worth gives what a state costs in a window's aim.
func (w *window) worth(s score) float64 {
	return w.aim.cost(s) + w.aim.want[model.Body]*float64(s[model.Body])/100
}

// schedules solves the window of the passages listed and gives their schedules,
// nil where it finds none that cost less.
func (w *window) schedules(ctx context.Context, st *state, list []int) ([]partPlan, error) {
	rest := st.clone()
	var units []unit
	for _, k := range list {
		units = append(units, unit{part: st.p.passages[k].part, first: k, last: k + 1, frame: st.frames[st.p.passages[k].part]})
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
	for _, k := range list {
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
	if m.bound > now {
		return nil, nil
	}
	return w.integers(ctx, m, now)
}

// better solves a window and puts what it finds into the state.
func (w *window) better(ctx context.Context, st *state, list []int) error {
	plans, err := w.schedules(ctx, st, list)
	if plans != nil {
		w.replace(st, list, plans)
	}
	return err
}

// replace gives passages other schedules if that costs less.
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
	now := s.score()
	if w.worth(now) < was && float64(now[model.Body])/100 <= w.aim.limits[model.Body] {
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

// worthIt is the least by which a window has to better what it aims at.
const worthIt = 0.1

// integers solves the integer program over the master's columns: a plan for
// each unit, nil if none is found that costs at most `now`.
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
	r, err := w.engine.Solve(ctx, in, highs.Options{AbsGap: worthIt, MaxLPIterations: w.work}, start)
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

// windowSize is how many passages a window frees, windowWork how many
// iterations its integer program gets, windowPasses how often the season is
// gone through.
const (
	windowSize   = 60
	windowWork   = 2500
	windowPasses = 3
	bodyFirst    = 5 // what body weighs the first time
)

// windows goes through the season, by first rehearsal, so many times. The first
// time body weighs most, and what that reaches is the limit from then on. Then
// body weighs against spacing, a little more when there is too much of it and a
// little less otherwise, so that what one window saves another may spend; the
// last time, what is left below the limit is spent where it helps.
func (s *search) windows(ctx context.Context, limit score) error {
	st := s.st.clone()
	pr := [2]*pricer{newPricer(s.p, 1), newPricer(s.p, 1)}
	a := aim{limits: [5]float64{inf, inf, inf, inf, inf}}
	a.want[model.Body], a.want[model.Spacing] = bodyFirst, 1
	if err := s.through(ctx, st, pr, &a, &limit, 0, 1); err != nil || ctx.Err() != nil {
		return err
	}
	if now := st.score(); limit.allows(now, model.Spacing) {
		s.st = st.clone()
		limit = now
		if err := s.prove(ctx, model.Spacing, st, s.scaled(effort[model.Spacing].rounds)); err != nil {
			return err
		}
	}
	a.want[model.Body] = trade
	passes := s.scaled(windowPasses)
	for pass := range passes {
		if pass == passes-1 {
			st = s.st.clone()
			a.want[model.Body], a.limits[model.Body] = 0.01, float64(limit[model.Body])/100
		}
		if err := s.through(ctx, st, pr, &a, &limit, pass+1, tradeStep); err != nil {
			return err
		}
	}
	return nil
}

// through goes through the season once, two windows at a time that have no day
// in common. The best state below the limit stays.
func (s *search) through(ctx context.Context, st *state, pr [2]*pricer, a *aim, limit *score, pass int, step float64) error {
	lists := cuts(s.p.byRehearsal(), windowSize, pass)
	half := (len(lists) + 1) / 2
	for n := range half {
		if ctx.Err() != nil {
			return nil
		}
		for j := range model.Body {
			a.limits[j] = float64(limit[j])
		}
		s.told("windows", (5+(float64(pass)+float64(n)/float64(half))/float64(s.scaled(windowPasses)+1))/6)
		if err := s.pair(ctx, st, pr, *a, lists, n, half); err != nil {
			return err
		}
		s.take(st, limit)
		if st.score()[model.Body] > limit[model.Body] {
			a.want[model.Body] *= step
		} else {
			a.want[model.Body] /= step
		}
	}
	return nil
}

// tradeStep is by how much body's weight changes from one pair of windows to
// the next.
const tradeStep = 1.04

// pair solves windows n and n+half, side by side where they are far enough
// apart.
func (s *search) pair(ctx context.Context, st *state, pr [2]*pricer, a aim, lists [][]int, n, half int) error {
	two := lists[n:min(n+1, len(lists))]
	if n+half < len(lists) {
		two = [][]int{lists[n], lists[n+half]}
	}
	if len(two) == 2 && !s.p.apart(two[0], two[1]) {
		for _, list := range two {
			if err := s.better(ctx, st, pr, a, list); err != nil {
				return err
			}
		}
		return nil
	}
	return s.better(ctx, st, pr, a, two...)
}

// cuts cuts a list into windows that overlap by a third, each pass elsewhere.
func cuts(order []int, size, pass int) [][]int {
	var out [][]int
	by := max(1, size*2/3)
	for first := -(pass * by / 3) % by; first < len(order); first += by {
		if list := order[max(0, first):min(len(order), first+size)]; len(list) > 0 {
			out = append(out, list)
		}
	}
	return out
}

// apart tells whether the days of two lists of passages are at least two weeks
// apart, so that neither changes what the other costs.
func (p *problem) apart(a, b []int) bool {
	lo, hi := [2]int{p.days, p.days}, [2]int{}
	for n, list := range [2][]int{a, b} {
		for _, k := range list {
			lo[n], hi[n] = min(lo[n], p.passages[k].lo), max(hi[n], p.passages[k].hi)
		}
	}
	return hi[0]+14 < lo[1] || hi[1]+14 < lo[0]
}

// better solves windows side by side and puts what they find into the state.
func (s *search) better(ctx context.Context, st *state, pr [2]*pricer, a aim, lists ...[]int) error {
	ws := make([]*window, len(lists))
	plans := make([][]partPlan, len(lists))
	errs := make([]error, len(lists))
	var wg sync.WaitGroup
	for i, list := range lists {
		ws[i] = &window{s.o.Engine, pr[i], a, 12, windowWork}
		wg.Go(func() { plans[i], errs[i] = ws[i].schedules(ctx, st, list) })
	}
	wg.Wait()
	for i, list := range lists {
		if errs[i] != nil {
			if !ended(ctx, errs[i]) {
				return errs[i]
			}
			continue
		}
		if plans[i] != nil {
			ws[i].replace(st, list, plans[i])
		}
	}
	return nil
}
