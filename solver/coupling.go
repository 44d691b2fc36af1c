package solver

import (
	"fmt"
	"math"
	"slices"

	"primaprova/model"
	"primaprova/solver/mip"
)

// coupling is what some parts and passages of a season have in common: the
// rows of their days, the strain on the body, and one row for each wish. A
// master adds its own variables to its rows.
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
//
// Only the days from first to last have rows, and only strain that touches them;
// what strain is elsewhere is a number (outside). So a program around a few parts
// stays small however long the season is.
type coupling struct {
	m                          *mip.Model
	first, last                int       // days that have rows
	load, listen, visits, held []mip.Row // by day; noRow where a day needs none
	wish                       [5]mip.Row
	p                          []mip.Var // planned playing by day
	strain                     []mip.Var // a, b and c together
	outside                    float64   // minutes of strain that no row here holds
}

const noRow mip.Row = -1

// newCoupling states the rows of the days from first to last, over what is taken
// of them already.
func newCoupling(name string, q *problem, first, last int, t taken) *coupling {
	c := &coupling{m: mip.New(name), first: first, last: last, p: make([]mip.Var, q.days)}
	for j, w := range model.Wishes {
		c.wish[j] = c.m.Row("wish["+w.String()+"]", math.Inf(-1), math.Inf(1))
	}
	for _, rows := range []*[]mip.Row{&c.load, &c.listen, &c.visits, &c.held} {
		*rows = slices.Repeat([]mip.Row{noRow}, q.days)
	}
	for d := first; d <= last; d++ {
		r := &q.room[d]
		at := q.season.From + model.Date(d)
		p := c.m.Real(fmt.Sprintf("load[%s]", at), 0, max(t.playing[d], float64(r.playing)), 0)
		row := func(name string, terms ...mip.Term) mip.Row {
			return c.m.Row(fmt.Sprintf("%s[%s]", name, at), math.Inf(-1), math.Inf(1), terms...)
		}
		c.p[d] = p
		c.load[d] = row("day", mip.Term{Var: p, Coef: -1})
		c.listen[d], c.visits[d] = row("listen"), row("visits")
		if r.held < int(model.NoLimit)/2 {
			c.held[d] = row("held", mip.Term{Var: p, Coef: 1})
		}
	}
	c.restate(q, t)
	c.addStrain(q, t)
	return c
}

// restate puts the days' rows over what is taken now.
func (c *coupling) restate(q *problem, t taken) {
	for d := c.first; d <= c.last; d++ {
		r := &q.room[d]
		c.m.SetRow(c.load[d], -t.playing[d], -t.playing[d])
		c.m.SetRow(c.listen[d], math.Inf(-1), float64(r.listening)-t.listening[d])
		c.m.SetRow(c.visits[d], math.Inf(-1), max(0, float64(r.visits)-t.visits[d]))
		if c.held[d] != noRow {
			c.m.SetRow(c.held[d], math.Inf(-1), max(float64(r.held)-t.listening[d], t.playing[d]))
		}
	}
}

// load is a sum of days' playing as strain counts it: variables of the days that
// have rows, beside what is fixed on the others.
type load struct {
	terms           []mip.Term
	apart, now, top float64 // fixed elsewhere; the sum as fixed; the most it may be
}

// sum adds up the playing of days, times a factor.
func (c *coupling) sum(t taken, first, last int, factor float64, l load) load {
	for d := first; d <= last; d++ {
		fixed := factor * t.playing[d]
		l.now += factor * math.Round(t.playing[d])
		if d < c.first || d > c.last {
			l.apart += fixed
			l.top += fixed
			continue
		}
		l.terms = append(l.terms, mip.Term{Var: c.p[d], Coef: factor})
		l.top += max(0, factor*c.m.Upper(c.p[d]))
	}
	return l
}

// addStrain states the rows of the strain. Steps are cut where what will be
// played is a multiple of them: everywhere ahead, whatever a spread plan takes now.
func (c *coupling) addStrain(q *problem, t taken) {
	whole := func(d int) bool { return d >= q.today || int(q.fixed[d])%q.step == 0 }
	b := q.strain
	c.outside = float64(b.Excess(t.rounded())) / 100
	over := func(name string, at int, most, hi float64, l load) {
		v := c.m.Real(fmt.Sprintf("over.%s[%s]", name, q.season.From+model.Date(at)), 0, most, 0)
		c.strain = append(c.strain, v)
		c.outside -= max(0, l.now-hi)
		c.m.AddTerm(c.wish[model.Body], v, 1)
		c.m.Row(fmt.Sprintf("%s[%s]", name, q.season.From+model.Date(at)), math.Inf(-1), hi-l.apart, append(l.terms, mip.Term{Var: v, Coef: -1})...)
	}
	for d := max(0, c.first-1); d <= c.last; d++ {
		at := q.season.From + model.Date(d)
		if slack := float64(b.Slack[d]); d >= c.first && c.m.Upper(c.p[d]) > slack {
			l := c.sum(t, d, d, 1, load{})
			over("heavy", d, l.top, slack, l)
			if whole(d) {
				c.cut(fmt.Sprintf("step[%s]", at), q.step, int(b.Slack[d]), l)
			}
		}
		if d+1 == q.days {
			continue
		}
		l := c.sum(t, d, d+1, 1, load{})
		if pair := float64(b.Pair[d]); l.top > pair {
			over("pair", d, l.top, pair, l)
			if whole(d) && whole(d+1) {
				c.cut(fmt.Sprintf("steps[%s]", at), q.step, int(b.Pair[d]), l)
			}
		}
	}
	for w, k := range b.Weeks {
		if !k.Rises || k.Last < c.first || b.Weeks[w-1].First > c.last {
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

// cut adds the row through the two multiples of step beside a side, over the
// strain variable added last.
func (c *coupling) cut(name string, step, side int, l load) {
	below := side / step * step
	if below == side {
		return
	}
	slope := float64(below+step-side) / float64(step)
	terms := slices.Clone(l.terms)
	for i := range terms {
		terms[i].Coef *= slope
	}
	v := c.strain[len(c.strain)-1]
	c.m.Row(name, math.Inf(-1), slope*(float64(below)-l.apart), append(terms, mip.Term{Var: v, Coef: -1})...)
}

// costs writes what the rows' own variables cost, a minute of strain as much as
// body weighs, into the head of a slice by variable.
func (c *coupling) costs(cost []float64, body float64) {
	for v := range c.m.Vars() {
		cost[v] = c.m.Cost(mip.Var(v))
	}
	for _, v := range c.strain {
		cost[v] = body
	}
}

// side gives the side of a wish's row where the wish may cost so much.
func (c *coupling) side(j int, limit float64) float64 {
	if model.Wish(j) == model.Body {
		return limit - c.outside
	}
	return limit
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
