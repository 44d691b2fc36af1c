package lns

import (
	"slices"

	"primaprova/solver/colgen"
	"primaprova/solver/instance"
	"primaprova/solver/pricing"
	"primaprova/solver/run"
)

// frameMixture is how a master weighs the plans of whole parts, beside what the others
// take. Some of its parts can be weighed anew while the rest stays as it is mixed
// (among).
type frameMixture struct {
	o     *run.Options
	work  int64              // of its masters so far
	rest  *instance.Solution // without its parts
	t     instance.Usage     // by all others
	list  []int              // its parts
	parts []mixedPart        // by part; of the others nothing is known
}

// mixedPart is a part's plans with their weights.
type mixedPart struct {
	held   bool // to its frame
	frame  instance.Frame
	frames []colgen.WeighedFrame // with their weights, the heaviest first
	plans  []weighedPlan
}

type weighedPlan struct {
	pricing.BlockPlan
	weight float64
}

// mix begins a mixture of the parts listed beside all others of a spread plan.
func (k *Fractional) mix(list []int) *frameMixture {
	x := &frameMixture{o: k.o, list: list, parts: make([]mixedPart, len(k.p.Parts))}
	frames := slices.Clone(k.frames)
	for _, i := range list {
		frames[i] = k.p.Unplaced(i)
	}
	x.rest, x.t = k.beside(k.p.PassagesOf(list), frames)
	return x
}

// take takes over how a master over some of its parts weighs them in the last run.
func (x *frameMixture) take(m *colgen.Master) {
	for i := range m.Blocks {
		u := &m.Blocks[i]
		x.parts[u.Part] = mixedPart{held: u.Held, frame: u.Frame, frames: m.Frames(i)}
	}
	for n, w := range m.Weights[m.Base:] {
		if c := &m.Columns[n]; w > 1e-6 {
			q := &x.parts[m.Blocks[c.Block].Part]
			q.plans = append(q.plans, weighedPlan{c.Plan, w})
		}
	}
}

// heaviest gives of the parts listed that are not held the one whose heaviest frame
// weighs most; none where all are held.
func (x *frameMixture) heaviest(list []int) int {
	best := instance.None
	for _, i := range list {
		if q := &x.parts[i]; !q.held && len(q.frames) > 0 && (best == instance.None || q.frames[0].Weight > x.parts[best].frames[0].Weight) {
			best = i
		}
	}
	return best
}

// among states a master over those of its parts that are listed, beside the others as
// they are mixed, with the plans that have weight as its first columns.
func (x *frameMixture) among(pr *pricing.Pricer, list []int, a instance.Objective) (*colgen.Master, error) {
	p, t := x.rest.P, x.t.Clone()
	var units []pricing.Block
	for _, i := range x.list {
		q := &x.parts[i]
		if slices.Contains(list, i) {
			u := pricing.WholePart(p, i)
			u.Held, u.Frame = q.held, q.frame
			units = append(units, u)
			continue
		}
		for _, pl := range q.plans {
			placePlan(t, p, i, &pl.BlockPlan, pl.weight)
		}
	}
	var cols []colgen.Column
	for n, u := range units {
		for _, pl := range x.parts[u.Part].plans {
			cols = append(cols, colgen.Column{Block: n, Plan: pl.BlockPlan})
		}
	}
	return colgen.NewMasterWith(x.o.Engine, pr, units, x.rest, t, a, cols)
}

// placePlan adds a whole part's plan with a weight.
func placePlan(t instance.Usage, p *instance.Instance, i int, pl *pricing.BlockPlan, weight float64) {
	q := &p.Parts[i]
	if pl.Read >= 0 {
		t.Playing[pl.Read] += weight * float64(q.Read)
	}
	if pl.Listen >= 0 {
		q.Heard(int(pl.Listen), func(d, minutes int) { t.Listening[d] += weight * float64(minutes) })
	}
	if pl.Rec >= 0 {
		t.Listening[pl.Rec] += weight * float64(q.Rec)
	}
	for k, days := range pl.Days {
		t.Place(&p.Passages[q.First+k], days, weight)
	}
}
