package solver

import (
	"primaprova/model"
	"primaprova/solver/mip"
)

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
