package colgen

import (
	"fmt"
	"math"
	"slices"

	"primaprova/model"
	"primaprova/solver/instance"
	"primaprova/solver/mip"
)

// Linking is what some parts and passages of a season have in common: the
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
type Linking struct {
	M                          *mip.Model
	First, Last                int       // days that have rows
	Load, Listen, Visits, Held []mip.Row // by day; noRow where a day needs none
	Wish                       [5]mip.Row
	P                          []mip.Var // planned playing by day
	Strain                     []mip.Var // a, b and c together
	Outside                    float64   // minutes of strain that no row here holds
}

const NoRow mip.Row = -1

// NewLinking states the rows of the days from first to last, over what is taken
// of them already.
func NewLinking(name string, q *instance.Instance, first, last int, t instance.Usage) *Linking {
	c := &Linking{M: mip.New(name), First: first, Last: last, P: make([]mip.Var, q.Days)}
	for j, w := range model.Wishes {
		c.Wish[j] = c.M.Row("wish["+w.String()+"]", math.Inf(-1), math.Inf(1))
	}
	for _, rows := range []*[]mip.Row{&c.Load, &c.Listen, &c.Visits, &c.Held} {
		*rows = slices.Repeat([]mip.Row{NoRow}, q.Days)
	}
	for d := first; d <= last; d++ {
		r := &q.Room[d]
		at := q.Season.From + model.Date(d)
		p := c.M.Real(fmt.Sprintf("load[%s]", at), 0, max(t.Playing[d], float64(r.Playing)), 0)
		row := func(name string, terms ...mip.Term) mip.Row {
			return c.M.Row(fmt.Sprintf("%s[%s]", name, at), math.Inf(-1), math.Inf(1), terms...)
		}
		c.P[d] = p
		c.Load[d] = row("day", mip.Term{Var: p, Coef: -1})
		c.Listen[d], c.Visits[d] = row("listen"), row("visits")
		if r.Held < int(model.NoLimit)/2 {
			c.Held[d] = row("held", mip.Term{Var: p, Coef: 1})
		}
	}
	c.restate(q, t)
	c.addStrain(q, t)
	return c
}

// restate puts the days' rows over what is taken now.
func (c *Linking) restate(q *instance.Instance, t instance.Usage) {
	for d := c.First; d <= c.Last; d++ {
		r := &q.Room[d]
		c.M.SetRow(c.Load[d], -t.Playing[d], -t.Playing[d])
		c.M.SetRow(c.Listen[d], math.Inf(-1), float64(r.Listening)-t.Listening[d])
		c.M.SetRow(c.Visits[d], math.Inf(-1), max(0, float64(r.Visits)-t.Visits[d]))
		if c.Held[d] != NoRow {
			c.M.SetRow(c.Held[d], math.Inf(-1), max(float64(r.Held)-t.Listening[d], t.Playing[d]))
		}
	}
}

// costs writes what the rows' own variables cost, a minute of strain as much as
// body weighs, into the head of a slice by variable.
func (c *Linking) costs(cost []float64, body float64) {
	for v := range c.M.Vars() {
		cost[v] = c.M.Cost(mip.Var(v))
	}
	for _, v := range c.Strain {
		cost[v] = body
	}
}

// Side gives the side of a wish's row where the wish may cost so much.
func (c *Linking) Side(j int, limit float64) float64 {
	if model.Wish(j) == model.Body {
		return limit - c.Outside
	}
	return limit
}

// Coefficients gathers a column's coefficients.
type Coefficients struct {
	Rows   []int32
	Values []float64
}

func (e *Coefficients) add(r mip.Row, v float64) {
	if r != NoRow && v != 0 {
		e.Rows = append(e.Rows, int32(r))
		e.Values = append(e.Values, v)
	}
}

// Schedule adds what a passage's schedule takes of the days and costs in the
// wishes.
func (c *Linking) Schedule(e *Coefficients, q *instance.Passage, days []instance.Day, s instance.Score) {
	for k, d := range days {
		e.add(c.Load[d], float64(q.Visits[k].Minutes))
		e.add(c.Visits[d], 1)
	}
	c.wishes(e, s)
}

// frame adds what a part's stages take of the days and cost in the wishes.
func (c *Linking) frame(e *Coefficients, q *instance.Part, f instance.Frame, s instance.Score) {
	if q.Read > 0 && f.Read >= 0 {
		e.add(c.Load[f.Read], float64(q.Read))
	}
	hear := func(d, minutes int) {
		e.add(c.Listen[d], float64(minutes))
		e.add(c.Held[d], float64(minutes))
	}
	if q.Listen > 0 && f.Listen >= 0 {
		q.Heard(int(f.Listen), hear)
	}
	if q.Rec > 0 && f.Rec >= 0 {
		hear(int(f.Rec), q.Rec)
	}
	c.wishes(e, s)
}

func (c *Linking) wishes(e *Coefficients, s instance.Score) {
	for j, v := range s {
		e.add(c.Wish[j], float64(v))
	}
}

// StrainRows gives the rows of each strain, its wish's row apart.
func (c *Linking) StrainRows() [][]mip.Row {
	at := make(map[mip.Var]int, len(c.Strain))
	for s, v := range c.Strain {
		at[v] = s
	}
	out := make([][]mip.Row, len(c.Strain))
	for r := range mip.Row(c.M.Rows()) {
		if r == c.Wish[model.Body] {
			continue
		}
		for _, e := range c.M.Terms(r) {
			if s, ok := at[e.Var]; ok {
				out[s] = append(out[s], r)
			}
		}
	}
	return out
}
