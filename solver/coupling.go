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

// strainRows gives the rows of each strain, its wish's row apart.
func (c *coupling) strainRows() [][]mip.Row {
	at := make(map[mip.Var]int, len(c.strain))
	for s, v := range c.strain {
		at[v] = s
	}
	out := make([][]mip.Row, len(c.strain))
	for r := range mip.Row(c.m.Rows()) {
		if r == c.wish[model.Body] {
			continue
		}
		for _, e := range c.m.Terms(r) {
			if s, ok := at[e.Var]; ok {
				out[s] = append(out[s], r)
			}
		}
	}
	return out
}
