package compact

import (
	"fmt"

	"primaprova/model"
	"primaprova/solver/instance"
	"primaprova/solver/mip"
)

// The wishes of the written-out program, one function each. Each ends in one
// variable that equals the wish, so that a wish is held at a value by a bound.

// wishUnits are the names of the wishes' variables; body is in hundredths of a
// minute, since a share of a week's load is.
var wishUnits = [5]string{"coverage", "ready-by", "closeness", "body", "spacing"}

func (w *Program) become(wish model.Wish, s Sum) {
	w.Wishes[wish] = w.equal("wish["+wishUnits[wish]+"]", s)
}

// coverage: the worth of what is left out.
func (w *Program) coverage() {
	var all Sum
	left := func(value int, t *track) {
		all = all.Plus(-float64(value), t.Placed())
		all.Constant += float64(value)
	}
	for i := range w.P.Parts {
		q := &w.P.Parts[i]
		if q.Listen > 0 {
			left(q.ListenWorth, &w.listen[i])
		}
		if q.Read > 0 {
			left(q.ReadWorth, &w.read[i])
		}
		if q.Rec > 0 {
			left(q.RecWorth, &w.rec[i])
		}
	}
	for i := range w.P.Passages {
		for k := range w.Visits[i] {
			left(w.P.Passages[i].Visits[k].Value, &w.Visits[i][k])
		}
	}
	w.become(model.Coverage, all)
}

// readyBy: each day after the ready-by date on which a visit of the passage
// still lies ahead, or which itself has the last one.
func (w *Program) readyBy() {
	var all Sum
	for i := range w.P.Passages {
		q := &w.P.Passages[i]
		for d := max(q.Ready+1, q.Lo); d <= q.Hi; d++ {
			var ahead []Sum
			for k := range w.Visits[i] {
				t := &w.Visits[i][k]
				ahead = append(ahead, t.Placed().Plus(-1, t.upTo(d-1)))
			}
			all = all.Plus(1, w.excess(fmt.Sprintf("late[%s,%s]", q.Work.Name, w.day(d)), ahead...))
		}
		// days before the first possible one are late for any visit
		if early := q.Lo - 1 - q.Ready; early > 0 && len(w.Visits[i]) > 0 {
			all = all.Plus(float64(early), w.Visits[i][0].Placed())
		}
	}
	w.become(model.ReadyBy, all)
}

// closeness: what it costs that sessions leave the standing plan.
func (w *Program) closeness() {
	var all Sum
	cost := func(t *track, of func(d int) int) {
		t.each(func(d int) {
			if by := of(d); by > 0 {
				all = all.Plus(float64(by), t.on(d))
			}
		})
	}
	moved := func(stand int, t *track) { cost(t, func(d int) int { return w.P.Moved(stand, d) }) }
	for i := range w.P.Parts {
		q := &w.P.Parts[i]
		cost(&w.listen[i], func(d int) int { return w.P.MovedListening(q, d) })
		moved(q.Stand[1], &w.read[i])
		moved(q.Stand[2], &w.rec[i])
	}
	for i := range w.P.Passages {
		for k := range w.Visits[i] {
			moved(w.P.Passages[i].Visits[k].Stand, &w.Visits[i][k])
		}
	}
	w.become(model.Closeness, all)
}

// body: minutes over a day's, a pair of days' and a week's easy load, in
// hundredths.
func (w *Program) body() {
	var all Sum
	b := w.P.Strain
	load := make([]Sum, w.P.Days)
	for d := range load {
		load[d].Constant = float64(w.P.Fixed[d])
		if minutes := w.On[d].Playing; len(minutes.Terms) > 0 {
			v := w.equal("load["+w.day(d)+"]", minutes)
			w.M.SetBounds(v, 0, min(w.M.Upper(v), float64(w.P.Room[d].Playing)))
			load[d] = load[d].Plus(1, Sum{Terms: []mip.Term{{Var: v, Coef: 1}}})
		}
	}
	for d := range load {
		over := Sum{Constant: -float64(b.Slack[d])}.Plus(1, load[d])
		all = all.Plus(100, w.excess("heavy["+w.day(d)+"]", over))
		if d+1 < w.P.Days {
			pair := Sum{Constant: -float64(b.Pair[d])}.Plus(1, load[d]).Plus(1, load[d+1])
			all = all.Plus(100, w.excess("pair["+w.day(d)+"]", pair))
		}
	}
	week := func(k int) Sum {
		s := Sum{Constant: float64(b.Weeks[k].Services)}
		for d := b.Weeks[k].First; d <= b.Weeks[k].Last; d++ {
			s = s.Plus(1, load[d])
		}
		return s
	}
	for k := range b.Weeks {
		if b.Weeks[k].Rises {
			rise := Sum{Constant: -100 * float64(b.Floor)}.Plus(100, week(k)).Plus(-float64(100+b.Rise), week(k-1))
			all = all.Plus(1, w.excess("rise["+w.day(b.Weeks[k].First)+"]", rise))
		}
	}
	w.become(model.Body, all)
}

// spacing: days that a visit lets the one before wait longer than preferred,
// and days that a passage is finished too early.
func (w *Program) spacing() {
	var all Sum
	for i := range w.P.Passages {
		q := &w.P.Passages[i]
		for k := range q.Visits {
			all = all.Plus(1, w.waits(i, k))
		}
		for d := q.Lo; d < q.Fresh; d++ {
			var over []Sum
			for k := range q.Visits {
				s := w.Visits[i][k].upTo(d)
				if k+1 < len(q.Visits) {
					s = s.Plus(-1, w.Visits[i][k+1].Placed())
				}
				over = append(over, s)
			}
			all = all.Plus(1, w.excess(fmt.Sprintf("stale[%s,%s]", q.Work.Name, w.day(d)), over...))
		}
	}
	w.become(model.Spacing, all)
}

// waits gives the days by which visit k comes later than preferred: those on
// which the visit before is the preferred gap past and this one, which is
// placed, still lies ahead.
func (w *Program) waits(i, k int) (days Sum) {
	q, t := &w.P.Passages[i], &w.Visits[i][k]
	pref := q.Visits[k].Preferred
	if k == 0 {
		if q.Done > 0 {
			t.each(func(d int) { days = days.Plus(float64(max(0, d-q.Since-pref)), t.on(d)) })
		}
		return days
	}
	before := &w.Visits[i][k-1]
	for d := before.lo + pref; d < q.Hi; d++ {
		s := before.upTo(d-pref).Plus(-1, t.upTo(d)).Plus(1, t.Placed())
		s.Constant--
		days = days.Plus(1, w.excess(fmt.Sprintf("waits[%s,%d,%s]", q.Work.Name, q.Done+k+1, w.day(d)), s))
	}
	return days
}

// Weights of the wishes in the one sum that an outside solver minimises; see
// WriteProgram.
var OutsideWeights = [5]float64{model.Coverage: 1e4, model.ReadyBy: 1e3, model.Closeness: 100, model.Body: 0.1, model.Spacing: 1}

// weigh makes the weighted sum of all wishes the objective.
func (w *Program) weigh() {
	for j, v := range w.Wishes {
		w.M.SetCost(v, OutsideWeights[j])
		w.M.SetBounds(v, 0, w.M.Upper(v))
	}
}

// hold lets no wish rise above what it is in held.
func (w *Program) hold(held instance.Score) {
	for i, v := range w.Wishes {
		w.M.SetBounds(v, 0, float64(held[i]))
	}
}

// wish makes wish j the objective; those before it may not rise above what
// they are in held.
func (w *Program) wish(j model.Wish, held instance.Score) {
	for i, v := range w.Wishes {
		w.M.SetCost(v, 0)
		if model.Wish(i) < j {
			w.M.SetBounds(v, 0, float64(held[i]))
		}
	}
	w.M.SetCost(w.Wishes[j], 1)
}
