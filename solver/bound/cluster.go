package bound

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"primaprova/model"
	"primaprova/solver/colgen"
	"primaprova/solver/highs"
	"primaprova/solver/instance"
	"primaprova/solver/mip"
	"primaprova/solver/pricing"
)

// clustersOf puts the parts of a master, as it was solved last, into clusters:
// programmes that share the most minutes of days, at their prices, are put
// together first, as long as no cluster grows too large. It gives the cluster of
// each part.
func clustersOf(m *colgen.Master, size int) []int {
	of, n := m.P.ByProgramme()
	load := make([][]float64, n)
	for k := range load {
		load[k] = make([]float64, m.P.Days)
	}
	m.EachMinute(func(c *colgen.Column, w float64, d instance.Day, minutes int) {
		load[of[m.Blocks[c.Block].Part]][d] += w * float64(minutes)
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
				sum += m.Duals.Minute[d] * min(load[a][d], load[b][d])
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
func (v *decomposition) days(k int) (first, last int) {
	c := v.m.Linking
	first, last = v.m.P.Days, -1
	for d, here := range v.here[k] {
		if here {
			first, last = min(first, d), max(last, d)
		}
	}
	rows := c.StrainRows()
	for d := c.First; d <= c.Last; d++ {
		for s, list := range rows {
			if v.keeper[s] == k && slices.ContainsFunc(c.M.Terms(list[0]), func(e mip.Term) bool { return e.Var == c.P[d] }) {
				first, last = min(first, d), max(last, d)
			}
		}
	}
	return max(first, 0), min(last, v.m.P.Days-1)
}

// cluster gives the bracket of a cluster as a master of its own, with the columns
// that have weight in the whole one, and the aim that it is to be solved for.
func (v *decomposition) cluster(k int) (*colgen.Master, instance.Objective, error) {
	whole, p := v.m, v.m.P
	a := v.aim()
	rest := instance.NewSolution(p)
	first, last := v.days(k)
	c := colgen.NewLinking(fmt.Sprint("cluster", k), p, first, last, rest.Usage())
	v.restate(k, c)
	var units []pricing.Block
	at := make([]int, len(p.Parts))
	for i := range p.Parts {
		if v.of[i] == k {
			at[i] = len(units)
			units = append(units, pricing.WholePart(p, i))
		}
	}
	m, err := colgen.NewMasterOver(whole.Engine, pricing.NewPricer(p, 1), units, rest, c)
	if err != nil {
		return nil, a, err
	}
	m.Plenty = boxed
	var batch highs.Columns
	for n, w := range whole.Weights[whole.Base:] {
		if i := whole.Blocks[whole.Columns[n].Block].Part; w > 1e-9 && v.of[i] == k {
			m.Push(&batch, colgen.Column{Block: at[i], Plan: whole.Columns[n].Plan})
		}
	}
	return m, a, m.LP.AddCols(&batch)
}

// boxed is how many columns a unit has on average before any is taken out where
// boxes of frames come and go: what one box forbids the next may need.
const boxed = 100

// restate turns the rows of some days into those of a cluster's bracket.
func (v *decomposition) restate(k int, c *colgen.Linking) {
	rows, strain := c.StrainRows(), c.Strain
	c.Strain, c.Outside = nil, 0
	for s, x := range strain {
		if j := slices.Index(v.names, c.M.Name(x)); j >= 0 && v.keeper[j] == k {
			c.Strain = append(c.Strain, x)
			continue
		}
		for _, r := range rows[s] {
			c.M.SetRow(r, math.Inf(-1), instance.Inf)
		}
	}
	t := &v.m.Duals
	for d := c.First; d <= c.Last; d++ {
		mine, others := v.here[k][d], false
		charge, credit := 0.0, v.worth[k][d]
		for l := range v.here {
			if l != k {
				others = others || v.here[l][d]
				charge += v.worth[l][d]
			}
		}
		room, at := &v.m.P.Room[d], v.m.P.Season.From+model.Date(d)
		more := func(what string, most int, cost, coef float64, rows ...mip.Row) {
			x := c.M.Real(fmt.Sprintf("%s[%s]", what, at), 0, float64(max(0, most)), cost)
			for _, r := range rows {
				if r != colgen.NoRow {
					c.M.AddTerm(r, x, coef)
				}
			}
		}
		if mine {
			c.M.SetCost(c.P[d], charge)
			if played := v.m.P.Fixed[d]; played > 0 { // that is nobody's: what p is charged for it is given back
				c.M.Real(fmt.Sprintf("played[%s]", at), 1, 1, -charge*float64(played))
			}
		} else {
			charge = 0
		}
		if others {
			more("others", room.Playing, -charge-credit, 1, c.Load[d])
		}
		switch {
		case !mine:
		case v.owner[d] != k:
			more("listens", room.Listening, t.Listen[d], -1, c.Listen[d])
			more("visited", room.Visits, t.Visit[d], -1, c.Visits[d])
			c.M.SetRow(c.Listen[d], math.Inf(-1), 0)
			c.M.SetRow(c.Visits[d], math.Inf(-1), 0)
		case others:
			more("others.listen", room.Listening, -t.Listen[d], 1, c.Listen[d], c.Held[d])
			more("others.visits", room.Visits, -t.Visit[d], 1, c.Visits[d])
		}
	}
}
