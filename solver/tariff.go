package solver

import (
	"primaprova/model"
	"primaprova/solver/mip"
)

// tariff is the prices of a linear program: what a day charges for a minute of
// playing, a minute of listening and a visit, and what each wish weighs. Every
// price is 0 or more.
type tariff struct {
	minute, listen, visit []float64 // by day
	weight                [5]float64
	constant              float64 // what the rows and their own variables add to the bound
}

// forbidding is the weight of a wish of which nothing is allowed: no schedule
// that pays it can be part of a plan, so any weight gives a valid bound, and
// one far above the others keeps such schedules away.
const forbidding = 1e6

// weights gives the weights of the wishes that a part decides alone.
func (t *tariff) weights() weights {
	return weights{t.weight[model.Coverage], t.weight[model.ReadyBy], t.weight[model.Closeness], t.weight[model.Spacing]}
}

// cost weighs a score; body is charged by the day.
func (t *tariff) cost(s score) float64 {
	sum := 0.0
	for j, v := range s {
		if model.Wish(j) != model.Body {
			sum += t.weight[j] * float64(v)
		}
	}
	return sum
}

// schedule prices a passage's schedule.
func (t *tariff) schedule(q *passage, days []int16, s score) float64 {
	sum := t.cost(s)
	for k, d := range days {
		sum += t.minute[d]*float64(q.visits[k].minutes) + t.visit[d]
	}
	return sum
}

// frame prices a part's stages.
func (t *tariff) frame(q *part, f frame, s score) float64 {
	sum := t.cost(s)
	if q.read > 0 && f.read >= 0 {
		sum += t.minute[f.read] * float64(q.read)
	}
	if q.listen > 0 && f.listen >= 0 {
		sum += t.listen[f.listen] * float64(q.listen)
	}
	if q.rec > 0 && f.rec >= 0 {
		sum += t.listen[f.rec] * float64(q.rec)
	}
	return sum
}

// read takes the prices off a linear program's row duals (≤ 0 on upper sides).
//
// The bound they prove is, for any prices y of the right sign,
//
//	Σ y(r)·side(r) + Σ over the rows' own variables of their cheapest value
//	  + Σ over parts of the cheapest part at these prices,
//
// of which constant holds the first two.
func (t *tariff) read(c *coupling, price []float64, a *aim) {
	n := len(c.load)
	t.minute, t.listen, t.visit = sized(t.minute, n), sized(t.listen, n), sized(t.visit, n)
	t.weight, t.constant = [5]float64{}, a.want[model.Body]*c.outside
	y := make([]float64, c.m.Rows())
	for r := range y {
		row := mip.Row(r)
		lo, hi := c.m.RowLower(row), c.m.RowUpper(row)
		y[r] = price[r]
		if lo != hi {
			y[r] = min(0, y[r])
		}
		switch {
		case lo == hi, y[r] != 0 && hi < inf:
			t.constant += y[r] * hi
		case hi == inf:
			y[r] = 0
		}
	}
	t.weight = a.want
	for j, limit := range a.limits {
		switch r := c.wish[j]; {
		case a.forbids(j):
			t.weight[j], y[r] = forbidding, 0
		case limit < inf:
			y[r] = min(0, price[r])
			t.weight[j] -= y[r]
			t.constant += y[r] * c.side(j, limit)
		}
	}
	clear(t.minute)
	clear(t.listen)
	clear(t.visit)
	for d := c.first; d <= c.last; d++ {
		t.minute[d] = -y[c.load[d]]
		t.listen[d] = -y[c.listen[d]]
		if c.held[d] != noRow {
			t.listen[d] -= y[c.held[d]]
		}
		t.visit[d] = -y[c.visits[d]]
	}
	t.own(c, y, a)
}

// own adds the cheapest values of the rows' own variables. A minute's price is
// free in sign (its row is an equation), yet a negative one is as good as 0:
// p(d) then pays it back here.
func (t *tariff) own(c *coupling, y []float64, a *aim) {
	reduced := make([]float64, c.m.Vars())
	c.costs(reduced, a.want[model.Body])
	for r := range y {
		if y[r] == 0 {
			continue
		}
		for _, e := range c.m.Terms(mip.Row(r)) {
			reduced[e.Var] -= y[r] * e.Coef
		}
	}
	for v, c0 := range reduced {
		if c0 < 0 {
			t.constant += c0 * c.m.Upper(mip.Var(v))
		} else if c0 > 0 {
			t.constant += c0 * c.m.Lower(mip.Var(v))
		}
	}
}

func sized(s []float64, n int) []float64 {
	if cap(s) < n {
		return make([]float64, n)
	}
	return s[:n]
}
