package bound

import (
	"slices"

	"primaprova/model"
	"primaprova/solver/colgen"
	"primaprova/solver/instance"
	"primaprova/solver/mip"
)

// decomposition cuts a season's master into clusters of parts that can be branched
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
type decomposition struct {
	m      *colgen.Master
	of     []int       // by part: its cluster
	owner  []int       // by day: the cluster whose rows its cap, hours, listening and visits are; none where no part may be
	keeper []int       // by strain of the master's linking rows; none where no part may be
	worth  [][]float64 // β, by cluster and day
	here   [][]bool    // by cluster and day: whether a part of it may be there
	names  []string    // of the strains
}

// decompose cuts a master, as it was solved last, by the cluster of each part.
func decompose(m *colgen.Master, of []int) *decomposition {
	n := slices.Max(of) + 1
	v := &decomposition{m: m, of: of, owner: slices.Repeat([]int{instance.None}, m.P.Days)}
	load := make([][]float64, n)
	for k := range n {
		load[k] = make([]float64, m.P.Days)
		v.worth = append(v.worth, make([]float64, m.P.Days))
		v.here = append(v.here, make([]bool, m.P.Days))
	}
	for i, k := range of {
		for d := m.P.Parts[i].Lo; d <= m.P.Parts[i].Hi; d++ {
			v.here[k][d] = true
		}
	}
	m.EachMinute(func(c *colgen.Column, w float64, d instance.Day, minutes int) {
		load[of[m.Blocks[c.Block].Part]][d] += w * float64(minutes)
	})
	for d := range v.owner {
		for k := range n {
			if v.here[k][d] && (v.owner[d] == instance.None || load[k][d] > load[v.owner[d]][d]) {
				v.owner[d] = k
			}
		}
	}
	v.keep(load)
	return v
}

// keep gives each strain to the cluster that plays most on its days, and works
// out what a minute of others is worth under what each cluster keeps and owns.
func (v *decomposition) keep(load [][]float64) {
	c := v.m.Linking
	day := make(map[mip.Var]int, v.m.P.Days)
	for d := c.First; d <= c.Last; d++ {
		day[c.P[d]] = d
	}
	rows, price := c.StrainRows(), v.m.RowDuals
	left := slices.Clone(v.m.Duals.Minute) // after strain and hours, the cap's
	for s, list := range rows {
		v.names = append(v.names, c.M.Name(c.Strain[s]))
		keeper, most := instance.None, 0.0
		for k := range load {
			sum, here := 0.0, false
			for _, e := range c.M.Terms(list[0]) {
				if d, ok := day[e.Var]; ok {
					sum += load[k][d]
					here = here || v.here[k][d]
				}
			}
			if here && (keeper == instance.None || sum > most) {
				keeper, most = k, sum
			}
		}
		v.keeper = append(v.keeper, keeper)
		if keeper == instance.None {
			continue // nobody ever plays there
		}
		for _, r := range list {
			for _, e := range c.M.Terms(r) {
				if d, ok := day[e.Var]; ok {
					worth := -min(0, price[r]) * e.Coef
					v.worth[keeper][d] += worth
					left[d] -= worth
				}
			}
		}
	}
	for d := c.First; d <= c.Last; d++ {
		if k := v.owner[d]; k != instance.None {
			hours := 0.0
			if r := c.Held[d]; r != colgen.NoRow {
				hours = -min(0, price[r])
			}
			v.worth[k][d] += hours + max(0, left[d]-hours)
		}
	}
}

// aim weighs the wishes in the brackets as the master's prices do. What the
// master forbids only has to cost much: a part that finds no day in a box of
// frames must be able to do without.
func (v *decomposition) aim() instance.Objective {
	a := instance.Objective{Weight: v.m.Duals.Weight, Limit: instance.Unlimited}
	for j, much := range instance.WeightedSum(0).Weight {
		if v.m.Objective.Forbids(j) {
			a.Weight[j] = much
		}
	}
	return a
}

// constant is what no bracket holds: strain of services alone, and the sides of
// the wishes' rows at their prices.
func (v *decomposition) constant() float64 {
	m := v.m
	sum := m.Objective.Weight[model.Body] * m.Linking.Outside
	for j, limit := range m.Objective.Limit {
		if limit < instance.Inf && !m.Objective.Forbids(j) {
			sum -= (m.Duals.Weight[j] - m.Objective.Weight[j]) * m.Linking.Side(j, limit)
		}
	}
	return sum
}
