package colgen

import (
	"primaprova/model"
	"primaprova/solver/instance"
	"primaprova/solver/mip"
	"primaprova/solver/pricing"
)

// readDuals takes the prices off a linear program's row duals (≤ 0 on upper sides).
//
// The bound they prove is, for any prices y of the right sign,
//
//	Σ y(r)·side(r) + Σ over the rows' own variables of their cheapest value
//	  + Σ over parts of the cheapest part at these prices,
//
// of which constant holds the first two.
func readDuals(t *pricing.Duals, c *Linking, price []float64, a *instance.Objective) {
	n := len(c.Load)
	t.Minute, t.Listen, t.Visit = pricing.Sized(t.Minute, n), pricing.Sized(t.Listen, n), pricing.Sized(t.Visit, n)
	t.Weight, t.Constant = [5]float64{}, a.Weight[model.Body]*c.Outside
	y := make([]float64, c.M.Rows())
	for r := range y {
		row := mip.Row(r)
		lo, hi := c.M.RowLower(row), c.M.RowUpper(row)
		y[r] = price[r]
		if lo != hi {
			y[r] = min(0, y[r])
		}
		switch {
		case lo == hi, y[r] != 0 && hi < instance.Inf:
			t.Constant += y[r] * hi
		case hi == instance.Inf:
			y[r] = 0
		}
	}
	t.Weight = a.Weight
	for j, limit := range a.Limit {
		switch r := c.Wish[j]; {
		case a.Forbids(j):
			t.Weight[j], y[r] = pricing.Forbidding, 0
		case limit < instance.Inf:
			y[r] = min(0, price[r])
			t.Weight[j] -= y[r]
			t.Constant += y[r] * c.Side(j, limit)
		}
	}
	clear(t.Minute)
	clear(t.Listen)
	clear(t.Visit)
	for d := c.First; d <= c.Last; d++ {
		t.Minute[d] = -y[c.Load[d]]
		t.Listen[d] = -y[c.Listen[d]]
		if c.Held[d] != NoRow {
			t.Listen[d] -= y[c.Held[d]]
		}
		t.Visit[d] = -y[c.Visits[d]]
	}
	addOwn(t, c, y, a)
}

// addOwn adds the cheapest values of the rows' own variables. A minute's price is
// free in sign (its row is an equation), yet a negative one is as good as 0:
// p(d) then pays it back here.
func addOwn(t *pricing.Duals, c *Linking, y []float64, a *instance.Objective) {
	reduced := make([]float64, c.M.Vars())
	c.costs(reduced, a.Weight[model.Body])
	for r := range y {
		if y[r] == 0 {
			continue
		}
		for _, e := range c.M.Terms(mip.Row(r)) {
			reduced[e.Var] -= y[r] * e.Coef
		}
	}
	for v, c0 := range reduced {
		if c0 < 0 {
			t.Constant += c0 * c.M.Upper(mip.Var(v))
		} else if c0 > 0 {
			t.Constant += c0 * c.M.Lower(mip.Var(v))
		}
	}
}
