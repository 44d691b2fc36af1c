package solver

import (
	"fmt"

	"primaprova/model"
	"primaprova/solver/mip"
)

// The wishes of the written-out program, one function each. Each ends in one
// variable that equals the wish, so that a wish is held at a value by a bound.

// wishUnits are the names of the wishes' variables; body is in hundredths of a
// minute, since a share of a week's load is.
var wishUnits = [5]string{"coverage", "ready-by", "closeness", "body", "spacing"}

func (w *written) become(wish model.Wish, s sum) {
	w.wishes[wish] = w.equal("wish["+wishUnits[wish]+"]", s)
}

// coverage: the worth of what is left out.
func (w *written) coverage() {
	var all sum
	left := func(value int, t *track) {
		all = all.plus(-float64(value), t.placed())
		all.constant += float64(value)
	}
	for i := range w.p.parts {
		q := &w.p.parts[i]
		if q.listen > 0 {
			left(q.listenV, &w.listen[i])
		}
		if q.read > 0 {
			left(q.readV, &w.read[i])
		}
		if q.rec > 0 {
			left(q.recV, &w.rec[i])
		}
	}
	for i := range w.p.passages {
		for k := range w.visits[i] {
			left(w.p.passages[i].visits[k].value, &w.visits[i][k])
		}
	}
	w.become(model.Coverage, all)
}

// readyBy: each day after the ready-by date on which a visit of the passage
// still lies ahead, or which itself has the last one.
func (w *written) readyBy() {
	var all sum
	for i := range w.p.passages {
		q := &w.p.passages[i]
		for d := max(q.ready+1, q.lo); d <= q.hi; d++ {
			var ahead []sum
			for k := range w.visits[i] {
				t := &w.visits[i][k]
				ahead = append(ahead, t.placed().plus(-1, t.upTo(d-1)))
			}
			all = all.plus(1, w.excess(fmt.Sprintf("late[%s,%s]", q.work.Name, w.day(d)), ahead...))
		}
		// days before the first possible one are late for any visit
		if early := q.lo - 1 - q.ready; early > 0 && len(w.visits[i]) > 0 {
			all = all.plus(float64(early), w.visits[i][0].placed())
		}
	}
	w.become(model.ReadyBy, all)
}

// closeness: what it costs that sessions leave the standing plan.
func (w *written) closeness() {
	var all sum
	moved := func(stand int, t *track) {
		t.each(func(d int) {
			if by := w.p.moved(stand, d); by > 0 {
				all = all.plus(float64(by), t.on(d))
			}
		})
	}
	for i := range w.p.parts {
		q := &w.p.parts[i]
		moved(q.stand[0], &w.listen[i])
		moved(q.stand[1], &w.read[i])
		moved(q.stand[2], &w.rec[i])
	}
	for i := range w.p.passages {
		for k := range w.visits[i] {
			moved(w.p.passages[i].visits[k].stand, &w.visits[i][k])
		}
	}
	w.become(model.Closeness, all)
}

// body: minutes over a day's, a pair of days' and a week's easy load, in
// hundredths.
func (w *written) body() {
	var all sum
	b := w.p.strain
	load := make([]sum, w.p.days)
	for d := range load {
		load[d].constant = float64(w.p.fixed[d])
		if minutes := w.on[d].playing; len(minutes.terms) > 0 {
			v := w.equal("load["+w.day(d)+"]", minutes)
			w.m.SetBounds(v, 0, min(w.m.Upper(v), float64(w.p.room[d].playing)))
			load[d] = load[d].plus(1, sum{terms: []mip.Term{{Var: v, Coef: 1}}})
		}
	}
	for d := range load {
		over := sum{constant: -float64(b.Slack[d])}.plus(1, load[d])
		all = all.plus(100, w.excess("heavy["+w.day(d)+"]", over))
		if d+1 < w.p.days {
			pair := sum{constant: -float64(b.Pair[d])}.plus(1, load[d]).plus(1, load[d+1])
			all = all.plus(100, w.excess("pair["+w.day(d)+"]", pair))
		}
	}
	week := func(k int) sum {
		s := sum{constant: float64(b.Weeks[k].Services)}
		for d := b.Weeks[k].First; d <= b.Weeks[k].Last; d++ {
			s = s.plus(1, load[d])
		}
		return s
	}
	for k := range b.Weeks {
		if b.Weeks[k].Rises {
			rise := sum{constant: -100 * float64(b.Floor)}.plus(100, week(k)).plus(-float64(100+b.Rise), week(k-1))
			all = all.plus(1, w.excess("rise["+w.day(b.Weeks[k].First)+"]", rise))
		}
	}
	w.become(model.Body, all)
}

// spacing: days that a visit lets the one before wait longer than preferred,
// and days that a passage is finished too early.
func (w *written) spacing() {
	var all sum
	for i := range w.p.passages {
		q := &w.p.passages[i]
		for k := range q.visits {
			all = all.plus(1, w.waits(i, k))
		}
		for d := q.lo; d < q.fresh; d++ {
			var over []sum
			for k := range q.visits {
				s := w.visits[i][k].upTo(d)
				if k+1 < len(q.visits) {
					s = s.plus(-1, w.visits[i][k+1].placed())
				}
				over = append(over, s)
			}
			all = all.plus(1, w.excess(fmt.Sprintf("stale[%s,%s]", q.work.Name, w.day(d)), over...))
		}
	}
	w.become(model.Spacing, all)
}

// waits gives the days by which visit k comes later than preferred: those on
// which the visit before is the preferred gap past and this one, which is
// placed, still lies ahead.
func (w *written) waits(i, k int) (days sum) {
	q, t := &w.p.passages[i], &w.visits[i][k]
	pref := q.visits[k].preferred
	if k == 0 {
		if q.done > 0 {
			t.each(func(d int) { days = days.plus(float64(max(0, d-q.since-pref)), t.on(d)) })
		}
		return days
	}
	before := &w.visits[i][k-1]
	for d := before.lo + pref; d < q.hi; d++ {
		s := before.upTo(d-pref).plus(-1, t.upTo(d)).plus(1, t.placed())
		s.constant--
		days = days.plus(1, w.excess(fmt.Sprintf("waits[%s,%d,%s]", q.work.Name, q.done+k+1, w.day(d)), s))
	}
	return days
}

// Weights of the wishes in the one sum that an outside solver minimises; see
// WriteProgram.
var outsideWeights = [5]float64{model.Coverage: 1e4, model.ReadyBy: 1e3, model.Closeness: 100, model.Body: 0.1, model.Spacing: 1}

// weigh makes the weighted sum of all wishes the objective.
func (w *written) weigh() {
	for j, v := range w.wishes {
		w.m.SetCost(v, outsideWeights[j])
		w.m.SetBounds(v, 0, w.m.Upper(v))
	}
}

// hold lets no wish rise above what it is in held.
func (w *written) hold(held score) {
	for i, v := range w.wishes {
		w.m.SetBounds(v, 0, float64(held[i]))
	}
}

// wish makes wish j the objective; those before it may not rise above what
// they are in held.
func (w *written) wish(j model.Wish, held score) {
	for i, v := range w.wishes {
		w.m.SetCost(v, 0)
		if model.Wish(i) < j {
			w.m.SetBounds(v, 0, float64(held[i]))
		}
	}
	w.m.SetCost(w.wishes[j], 1)
}
