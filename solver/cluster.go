package solver

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"primaprova/model"
	"primaprova/solver/highs"
	"primaprova/solver/mip"
)

// clusterSize is about how many parts a cluster has at most: what a tree over
// twice as many proves takes four times as long for each program, and more of
// them.
const clusterSize = 12

// clusters puts the parts of a master, as it was solved last, into clusters:
// programmes that share the most minutes of days, at their prices, are put
// together first, as long as no cluster grows too large. It gives the cluster of
// each part.
func (m *master) clusters(size int) []int {
	of, n := m.p.byProgramme()
	load := make([][]float64, n)
	for k := range load {
		load[k] = make([]float64, m.p.days)
	}
	m.eachMinute(func(c *column, w float64, d int16, minutes int) {
		load[of[m.units[c.unit].part]][d] += w * float64(minutes)
	})
	type pair struct {
		a, b   int
		shared float64
	}
	var pairs []pair
	for a := range n {
		for b := a + 1; b < n; b++ {
			sum := 0.0
			for d := range load[a] {
				sum += m.t.minute[d] * min(load[a][d], load[b][d])
			}
			if sum > 0 {
				pairs = append(pairs, pair{a, b, sum})
			}
		}
	}
	slices.SortStableFunc(pairs, func(x, y pair) int { return cmp.Compare(y.shared, x.shared) })
	into, parts := make([]int, n), make([]int, n) // by programme: its cluster; by cluster: its parts
	for k := range into {
		into[k] = k
	}
	for _, k := range of {
		parts[k]++
	}
	for _, q := range pairs {
		a, b := into[q.a], into[q.b]
		if a == b || parts[a]+parts[b] > size {
			continue
		}
		parts[a] += parts[b]
		for k := range into {
			if into[k] == b {
				into[k] = a
			}
		}
	}
	number := map[int]int{}
	for i, k := range of {
		if _, ok := number[into[k]]; !ok {
			number[into[k]] = len(number)
		}
		of[i] = number[into[k]]
	}
	return of
}

// days gives the first and last day that a cluster's bracket speaks of: those of
// its parts and of the strains that it keeps.
func (v *division) days(k int) (first, last int) {
	c := v.m.c
	first, last = v.m.p.days, -1
	for d, here := range v.here[k] {
		if here {
			first, last = min(first, d), max(last, d)
		}
	}
	rows := c.strainRows()
	for d := c.first; d <= c.last; d++ {
		for s, list := range rows {
			if v.keeper[s] == k && slices.ContainsFunc(c.m.Terms(list[0]), func(e mip.Term) bool { return e.Var == c.p[d] }) {
				first, last = min(first, d), max(last, d)
			}
		}
	}
	return max(first, 0), min(last, v.m.p.days-1)
}

// cluster gives the bracket of a cluster as a master of its own, with the columns
// that have weight in the whole one, and the aim that it is to be solved for.
func (v *division) cluster(k int) (*master, aim, error) {
	whole, p := v.m, v.m.p
	a := v.aim()
	rest := newState(p)
	first, last := v.days(k)
	c := newCoupling(fmt.Sprint("cluster", k), p, first, last, rest.taken())
	v.restate(k, c)
	var units []unit
	at := make([]int, len(p.parts))
	for i := range p.parts {
		if v.of[i] == k {
			at[i] = len(units)
			units = append(units, p.wholePart(i))
		}
	}
	m, err := newMasterOver(whole.engine, newPricer(p, 1), units, rest, c)
	if err != nil {
		return nil, a, err
	}
	m.plenty = boxed
	var batch highs.Columns
	for n, w := range whole.x[whole.base:] {
		if i := whole.units[whole.cols[n].unit].part; w > 1e-9 && v.of[i] == k {
			m.push(&batch, column{unit: at[i], plan: whole.cols[n].plan})
		}
	}
	return m, a, m.lp.AddCols(&batch)
}

// boxed is how many columns a unit has on average before any is taken out where
// boxes of frames come and go: what one box forbids the next may need.
const boxed = 100

// restate turns the rows of some days into those of a cluster's bracket.
func (v *division) restate(k int, c *coupling) {
	rows, strain := c.strainRows(), c.strain
	c.strain, c.outside = nil, 0
	for s, x := range strain {
		if j := slices.Index(v.names, c.m.Name(x)); j >= 0 && v.keeper[j] == k {
			c.strain = append(c.strain, x)
			continue
		}
		for _, r := range rows[s] {
			c.m.SetRow(r, math.Inf(-1), inf)
		}
	}
	t := &v.m.t
	for d := c.first; d <= c.last; d++ {
		mine, others := v.here[k][d], false
		charge, credit := 0.0, v.worth[k][d]
		for l := range v.here {
			if l != k {
				others = others || v.here[l][d]
				charge += v.worth[l][d]
			}
		}
		room, at := &v.m.p.room[d], v.m.p.season.From+model.Date(d)
		more := func(what string, most int, cost, coef float64, rows ...mip.Row) {
			x := c.m.Real(fmt.Sprintf("%s[%s]", what, at), 0, float64(max(0, most)), cost)
			for _, r := range rows {
				if r != noRow {
					c.m.AddTerm(r, x, coef)
				}
			}
		}
		if mine {
			c.m.SetCost(c.p[d], charge)
			if played := v.m.p.fixed[d]; played > 0 { // that is nobody's: what p is charged for it is given back
				c.m.Real(fmt.Sprintf("played[%s]", at), 1, 1, -charge*float64(played))
			}
		} else {
			charge = 0
		}
		if others {
			more("others", room.playing, -charge-credit, 1, c.load[d])
		}
		switch {
		case !mine:
		case v.owner[d] != k:
			more("listens", room.listening, t.listen[d], -1, c.listen[d])
			more("visited", room.visits, t.visit[d], -1, c.visits[d])
			c.m.SetRow(c.listen[d], math.Inf(-1), 0)
			c.m.SetRow(c.visits[d], math.Inf(-1), 0)
		case others:
			more("others.listen", room.listening, -t.listen[d], 1, c.listen[d], c.held[d])
			more("others.visits", room.visits, -t.visit[d], 1, c.visits[d])
		}
	}
}
