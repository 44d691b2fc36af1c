package colgen

import (
	"fmt"
	"math"
	"slices"

	"primaprova/model"
	"primaprova/solver/instance"
	"primaprova/solver/mip"
)

// cut adds the row through the two multiples of step beside a side, over the
// strain variable added last.
func (c *Linking) cut(name string, step, side int, l load) {
	below := side / step * step
	if below == side {
		return
	}
	slope := float64(below+step-side) / float64(step)
	terms := slices.Clone(l.terms)
	for i := range terms {
		terms[i].Coef *= slope
	}
	v := c.Strain[len(c.Strain)-1]
	c.M.Row(name, math.Inf(-1), slope*(float64(below)-l.apart), append(terms, mip.Term{Var: v, Coef: -1})...)
}

// sum adds up the playing of days, times a factor.
func (c *Linking) sum(t instance.Usage, first, last int, factor float64, l load) load {
	for d := first; d <= last; d++ {
		fixed := factor * t.Playing[d]
		l.now += factor * math.Round(t.Playing[d])
		if d < c.First || d > c.Last {
			l.apart += fixed
			l.top += fixed
			continue
		}
		l.terms = append(l.terms, mip.Term{Var: c.P[d], Coef: factor})
		l.top += max(0, factor*c.M.Upper(c.P[d]))
	}
	return l
}

// load is a sum of days' playing as strain counts it: variables of the days that
// have rows, beside what is fixed on the others.
type load struct {
	terms           []mip.Term
	apart, now, top float64 // fixed elsewhere; the sum as fixed; the most it may be
}

// addStrain states the rows of the strain. Steps are cut where what will be
// played is a multiple of them: everywhere ahead, whatever a spread plan takes now.
func (c *Linking) addStrain(q *instance.Instance, t instance.Usage) {
	whole := func(d int) bool { return d >= q.Today || int(q.Fixed[d])%q.Step == 0 }
	b := q.Strain
	c.Outside = float64(b.Excess(t.Rounded())) / 100
	over := func(name string, at int, most, hi float64, l load) {
		v := c.M.Real(fmt.Sprintf("over.%s[%s]", name, q.Season.From+model.Date(at)), 0, most, 0)
		c.Strain = append(c.Strain, v)
		c.Outside -= max(0, l.now-hi)
		c.M.AddTerm(c.Wish[model.Body], v, 1)
		c.M.Row(fmt.Sprintf("%s[%s]", name, q.Season.From+model.Date(at)), math.Inf(-1), hi-l.apart, append(l.terms, mip.Term{Var: v, Coef: -1})...)
	}
	for d := max(0, c.First-1); d <= c.Last; d++ {
		at := q.Season.From + model.Date(d)
		if slack := float64(b.Slack[d]); d >= c.First && c.M.Upper(c.P[d]) > slack {
			l := c.sum(t, d, d, 1, load{})
			over("heavy", d, l.top, slack, l)
			if whole(d) {
				c.cut(fmt.Sprintf("step[%s]", at), q.Step, int(b.Slack[d]), l)
			}
		}
		if d+1 == q.Days {
			continue
		}
		l := c.sum(t, d, d+1, 1, load{})
		if pair := float64(b.Pair[d]); l.top > pair {
			over("pair", d, l.top, pair, l)
			if whole(d) && whole(d+1) {
				c.cut(fmt.Sprintf("steps[%s]", at), q.Step, int(b.Pair[d]), l)
			}
		}
	}
	for w, k := range b.Weeks {
		if !k.Rises || k.Last < c.First || b.Weeks[w-1].First > c.Last {
			continue
		}
		before := b.Weeks[w-1]
		share := 1 + float64(b.Rise)/100
		l := c.sum(t, k.First, k.Last, 1, load{})
		most := float64(k.Services) + l.top
		l = c.sum(t, before.First, before.Last, -share, l)
		over("rise", k.First, most, float64(b.Floor)-float64(k.Services)+share*float64(before.Services), l)
	}
}
