package solver

import (
	"fmt"
	"math"

	"primaprova/model"
	"primaprova/solver/mip"
)

// coupling is what the parts and passages of a season have in common: the
// days' rows, the strain on the body, and one row for each wish. Master,
// windows and the written-out program all start from it and add their own
// variables to its rows.
//
//	load(d):     Σ playing minutes on d − p(d) = −fixed(d),   0 ≤ p(d) ≤ room
//	listen(d):   Σ listening minutes on d ≤ room − fixed
//	visits(d):   Σ visits on d ≤ room − fixed
//	held(d):     p(d) + Σ listening minutes on d ≤ hours' room − fixed
//	heavy(d):    p(d) − a(d) ≤ slack(d)
//	pair(d):     p(d) + p(d+1) − b(d) ≤ pair(d)
//	rise(w):     L(w) − (1+r)·L(w−1) − c(w) ≤ floor,   L(w) = services + Σ p(d)
//	wish(j):     Σ what each variable costs in wish j ≤ what is allowed
//
// with a, b, c ≥ 0, whose sum is the body wish in minutes (model.Strain).
//
// Where every length of playing is a multiple of g (five minutes, mostly), so is
// p(d), and a slack between two multiples, g·n < slack < g·(n+1), is cut to
//
//	step(d):     s·p(d) − a(d) ≤ s·g·n   with s = (g·(n+1) − slack) / g
//
// the line through the two multiples: right at both, and above the heavy row
// between them. The same holds of pairs.
type coupling struct {
	m                          *mip.Model
	load, listen, visits, held []mip.Row // by day; -1 where a day needs none
	wish                       [5]mip.Row
	p                          []mip.Var // planned playing by day
	strain                     []mip.Var // a, b and c together
}

const noRow mip.Row = -1

// newCoupling states the rows over what is fixed already: playing minutes,
// listening minutes and visits by day.
func newCoupling(name string, q *problem, playing []model.Minutes, listening, visits []int) *coupling {
	c := &coupling{m: mip.New(name)}
	for j, w := range model.Wishes {
		c.wish[j] = c.m.Row("wish["+w.String()+"]", math.Inf(-1), math.Inf(1))
	}
	for d := range q.days {
		r := &q.room[d]
		at := q.season.From + model.Date(d)
		fixed := float64(playing[d])
		p := c.m.Real(fmt.Sprintf("load[%s]", at), 0, max(fixed, float64(r.playing)), 0)
		c.p = append(c.p, p)
		row := func(name string, hi float64, terms ...mip.Term) mip.Row {
			return c.m.Row(fmt.Sprintf("%s[%s]", name, at), math.Inf(-1), hi, terms...)
		}
		c.load = append(c.load, c.m.Row(fmt.Sprintf("day[%s]", at), -fixed, -fixed, mip.Term{Var: p, Coef: -1}))
		c.listen = append(c.listen, row("listen", float64(r.listening-listening[d])))
		c.visits = append(c.visits, row("visits", float64(r.visits-visits[d])))
		held := noRow
		if r.held < int(model.NoLimit)/2 {
			held = row("held", float64(max(r.held, listening[d]+int(playing[d]))-listening[d]), mip.Term{Var: p, Coef: 1})
		}
		c.held = append(c.held, held)
	}
	c.addStrain(q, playing)
	return c
}

func (c *coupling) addStrain(q *problem, playing []model.Minutes) {
	whole := func(d int) bool { return int(playing[d])%q.step == 0 }
	b := q.strain
	over := func(name string, most, hi float64, terms ...mip.Term) {
		v := c.m.Real("over."+name, 0, most, 0)
		c.strain = append(c.strain, v)
		c.m.AddTerm(c.wish[model.Body], v, 1)
		c.m.Row(name, math.Inf(-1), hi, append(terms, mip.Term{Var: v, Coef: -1})...)
	}
	for d := range q.days {
		at := q.season.From + model.Date(d)
		most := c.m.Upper(c.p[d])
		if slack := float64(b.Slack[d]); most > slack {
			over(fmt.Sprintf("heavy[%s]", at), most, slack, mip.Term{Var: c.p[d], Coef: 1})
			if whole(d) {
				c.cut(fmt.Sprintf("step[%s]", at), q.step, int(b.Slack[d]), mip.Term{Var: c.p[d], Coef: 1})
			}
		}
		if d+1 == q.days {
			continue
		}
		both := most + c.m.Upper(c.p[d+1])
		if pair := float64(b.Pair[d]); both > pair {
			over(fmt.Sprintf("pair[%s]", at), both, pair, mip.Term{Var: c.p[d], Coef: 1}, mip.Term{Var: c.p[d+1], Coef: 1})
			if whole(d) && whole(d+1) {
				c.cut(fmt.Sprintf("steps[%s]", at), q.step, int(b.Pair[d]), mip.Term{Var: c.p[d], Coef: 1}, mip.Term{Var: c.p[d+1], Coef: 1})
			}
		}
	}
	for w, k := range b.Weeks {
		if !k.Rises {
			continue
		}
		before := b.Weeks[w-1]
		share := 1 + float64(b.Rise)/100
		hi := float64(b.Floor) - float64(k.Services) + share*float64(before.Services)
		var terms []mip.Term
		most := float64(k.Services)
		for d := k.First; d <= k.Last; d++ {
			terms = append(terms, mip.Term{Var: c.p[d], Coef: 1})
			most += c.m.Upper(c.p[d])
		}
		for d := before.First; d <= before.Last; d++ {
			terms = append(terms, mip.Term{Var: c.p[d], Coef: -share})
		}
		over(fmt.Sprintf("rise[%s]", q.season.From+model.Date(k.First)), most, hi, terms...)
	}
}

// cut adds the row through the two multiples of step beside a side, over the
// strain variable added last.
func (c *coupling) cut(name string, step, side int, terms ...mip.Term) {
	below := side / step * step
	if below == side {
		return
	}
	slope := float64(below+step-side) / float64(step)
	for i := range terms {
		terms[i].Coef *= slope
	}
	v := c.strain[len(c.strain)-1]
	c.m.Row(name, math.Inf(-1), slope*float64(below), append(terms, mip.Term{Var: v, Coef: -1})...)
}

// entries gathers a column's coefficients.
type entries struct {
	rows   []int32
	values []float64
}

func (e *entries) add(r mip.Row, v float64) {
	if r != noRow && v != 0 {
		e.rows = append(e.rows, int32(r))
		e.values = append(e.values, v)
	}
}

// schedule adds what a passage's schedule takes of the days and costs in the
// wishes.
func (c *coupling) schedule(e *entries, q *passage, days []int16, s score) {
	for k, d := range days {
		e.add(c.load[d], float64(q.visits[k].minutes))
		e.add(c.visits[d], 1)
	}
	c.wishes(e, s)
}

// frame adds what a part's stages take of the days and cost in the wishes.
func (c *coupling) frame(e *entries, q *part, f frame, s score) {
	if q.read > 0 && f.read >= 0 {
		e.add(c.load[f.read], float64(q.read))
	}
	for i, d := range [2]int16{f.listen, f.rec} {
		if m := [2]int{q.listen, q.rec}[i]; m > 0 && d >= 0 {
			e.add(c.listen[d], float64(m))
			e.add(c.held[d], float64(m))
		}
	}
	c.wishes(e, s)
}

func (c *coupling) wishes(e *entries, s score) {
	for j, v := range s {
		e.add(c.wish[j], float64(v))
	}
}
