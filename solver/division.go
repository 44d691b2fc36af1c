package solver

import (
	"slices"

	"primaprova/model"
	"primaprova/solver/mip"
)

// division cuts a season's master into clusters of parts that can be branched
// over one by one (branch), so that what each of them lacks of its bound may be
// added to the bound of the whole.
//
// Let x be a plan, L(k,d) the minutes that the parts of cluster k play on day d,
// p(d) = Σ L(k,d), w(k) what those parts cost in the wishes that a part decides
// alone, weighed as the master's aim has it, B the weight of a minute of body,
// and s(v) the minutes of a strain v (a heavy day, a pair, a rise). The plan
// costs
//
//	f(x) = Σ w(k) + B·Σ s(v) + constant
//
// Every strain has one keeper among the clusters, and every day one owner. For
// any numbers β(k,d) whatever,
//
//	f(x) = constant + Σ over k of
//	       [ w(k) + B·Σ over strains v kept by k of s(v)
//	         + Σ α(k,d)·L(k,d) − Σ β(k,d)·O(k,d) ]
//	with O(k,d) = Σ over others l of L(l,d),  α(k,d) = Σ over others l of β(l,d)
//
// because on each day every L(l,d) is charged and credited with the same. The
// same is done with listening minutes and visits, where only the owner of the
// day is credited for what others have. In the bracket of a cluster O(k,d) is
// made a variable, whose value is what it likes between 0 and the day's room. It
// still has to keep cap, hours, visits and listening of its days beside that. So
// the bracket's least value, over all frames and schedules of the cluster's own
// parts, is not above what it is at x, and
//
//	the least f(x) ≥ constant + Σ over k of the least value of bracket k.
//
// Any lower bound of a bracket will do in its place: that of a tree over frames,
// wherever it was stopped.
//
// β is chosen so that nothing is lost by the cutting: what a minute of others is
// worth under the rows that cluster k keeps and owns, at the prices the whole
// master ends with. These prices then prove for each bracket, all frames free, a
// bound; together those are the master's own. Above it cannot be, since the
// weights of the master's columns are a solution of each bracket.
type division struct {
	m      *master
	of     []int       // by part: its cluster
	owner  []int       // by day: the cluster whose rows its cap, hours, listening and visits are; none where no part may be
	keeper []int       // by strain of the master's coupling; none where no part may be
	worth  [][]float64 // β, by cluster and day
	here   [][]bool    // by cluster and day: whether a part of it may be there
	names  []string    // of the strains
}

// divide cuts a master, as it was solved last, by the cluster of each part.
func divide(m *master, of []int) *division {
	n := slices.Max(of) + 1
	v := &division{m: m, of: of, owner: slices.Repeat([]int{none}, m.p.days)}
	load := make([][]float64, n)
	for k := range n {
		load[k] = make([]float64, m.p.days)
		v.worth = append(v.worth, make([]float64, m.p.days))
		v.here = append(v.here, make([]bool, m.p.days))
	}
	for i, k := range of {
		for d := m.p.parts[i].lo; d <= m.p.parts[i].hi; d++ {
			v.here[k][d] = true
		}
	}
	m.eachMinute(func(c *column, w float64, d int16, minutes int) {
		load[of[m.units[c.unit].part]][d] += w * float64(minutes)
	})
	for d := range v.owner {
		for k := range n {
			if v.here[k][d] && (v.owner[d] == none || load[k][d] > load[v.owner[d]][d]) {
				v.owner[d] = k
			}
		}
	}
	v.keep(load)
	return v
}

// keep gives each strain to the cluster that plays most on its days, and works
// out what a minute of others is worth under what each cluster keeps and owns.
func (v *division) keep(load [][]float64) {
	c := v.m.c
	day := make(map[mip.Var]int, v.m.p.days)
	for d := c.first; d <= c.last; d++ {
		day[c.p[d]] = d
	}
	rows, price := c.strainRows(), v.m.price
	left := slices.Clone(v.m.t.minute) // after strain and hours, the cap's
	for s, list := range rows {
		v.names = append(v.names, c.m.Name(c.strain[s]))
		keeper, most := none, 0.0
		for k := range load {
			sum, here := 0.0, false
			for _, e := range c.m.Terms(list[0]) {
				if d, ok := day[e.Var]; ok {
					sum += load[k][d]
					here = here || v.here[k][d]
				}
			}
			if here && (keeper == none || sum > most) {
				keeper, most = k, sum
			}
		}
		v.keeper = append(v.keeper, keeper)
		if keeper == none {
			continue // nobody ever plays there
		}
		for _, r := range list {
			for _, e := range c.m.Terms(r) {
				if d, ok := day[e.Var]; ok {
					worth := -min(0, price[r]) * e.Coef
					v.worth[keeper][d] += worth
					left[d] -= worth
				}
			}
		}
	}
	for d := c.first; d <= c.last; d++ {
		if k := v.owner[d]; k != none {
			hours := 0.0
			if r := c.held[d]; r != noRow {
				hours = -min(0, price[r])
			}
			v.worth[k][d] += hours + max(0, left[d]-hours)
		}
	}
}

// aim weighs the wishes in the brackets as the master's prices do. What the
// master forbids only has to cost much: a part that finds no day in a box of
// frames must be able to do without.
func (v *division) aim() aim {
	a := aim{want: v.m.t.weight, limits: unlimited}
	for j, much := range weighed(0).want {
		if v.m.aim.forbids(j) {
			a.want[j] = much
		}
	}
	return a
}

// constant is what no bracket holds: strain of services alone, and the sides of
// the wishes' rows at their prices.
func (v *division) constant() float64 {
	m := v.m
	sum := m.aim.want[model.Body] * m.c.outside
	for j, limit := range m.aim.limits {
		if limit < inf && !m.aim.forbids(j) {
			sum -= (m.t.weight[j] - m.aim.want[j]) * m.c.side(j, limit)
		}
	}
	return sum
}
