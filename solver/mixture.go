package solver

import (
	"slices"

	"primaprova/solver/highs"
)

// mixture is how a master weighs the plans of whole parts, beside what the others
// take. Some of its parts can be weighed anew while the rest stays as it is mixed
// (among).
type mixture struct {
	engine *highs.Library
	rest   *state      // without its parts
	t      taken       // by all others
	list   []int       // its parts
	parts  []mixedPart // by part; of the others nothing is known
}

// mixedPart is a part's plans with their weights.
type mixedPart struct {
	held   bool // to its frame
	frame  frame
	frames []weighedFrame // with their weights, the heaviest first
	plans  []weighedPlan
}

type weighedPlan struct {
	partPlan
	weight float64
}

// mix begins a mixture of the parts listed beside all others of a spread plan.
func (k *spread) mix(list []int) *mixture {
	x := &mixture{engine: k.engine, list: list, parts: make([]mixedPart, len(k.p.parts))}
	frames := slices.Clone(k.frames)
	for _, i := range list {
		frames[i] = k.p.unplaced(i)
	}
	x.rest, x.t = k.beside(k.p.passagesOf(list), frames)
	return x
}

// take takes over how a master over some of its parts weighs them in the last run.
func (x *mixture) take(m *master) {
	for i := range m.units {
		u := &m.units[i]
		x.parts[u.part] = mixedPart{held: u.held, frame: u.frame, frames: m.mixed(i)}
	}
	for n, w := range m.x[m.base:] {
		if c := &m.cols[n]; w > 1e-6 {
			q := &x.parts[m.units[c.unit].part]
			q.plans = append(q.plans, weighedPlan{c.plan, w})
		}
	}
}

// heaviest gives of the parts listed that are not held the one whose heaviest frame
// weighs most; none where all are held.
func (x *mixture) heaviest(list []int) int {
	best := none
	for _, i := range list {
		if q := &x.parts[i]; !q.held && len(q.frames) > 0 && (best == none || q.frames[0].weight > x.parts[best].frames[0].weight) {
			best = i
		}
	}
	return best
}

// among states a master over those of its parts that are listed, beside the others as
// they are mixed, with the plans that have weight as its first columns.
func (x *mixture) among(pr *pricer, list []int, a aim) (*master, error) {
	p, t := x.rest.p, x.t.clone()
	var units []unit
	for _, i := range x.list {
		q := &x.parts[i]
		if slices.Contains(list, i) {
			u := p.wholePart(i)
			u.held, u.frame = q.held, q.frame
			units = append(units, u)
			continue
		}
		for _, pl := range q.plans {
			t.placePlan(p, i, &pl.partPlan, pl.weight)
		}
	}
	var cols []column
	for n, u := range units {
		for _, pl := range x.parts[u.part].plans {
			cols = append(cols, column{unit: n, plan: pl.partPlan})
		}
	}
	return newMasterWith(x.engine, pr, units, x.rest, t, a, cols)
}

// placePlan adds a whole part's plan with a weight.
func (t taken) placePlan(p *problem, i int, pl *partPlan, weight float64) {
	q := &p.parts[i]
	if pl.read >= 0 {
		t.playing[pl.read] += weight * float64(q.read)
	}
	if pl.listen >= 0 {
		t.listening[pl.listen] += weight * float64(q.listen)
	}
	if pl.rec >= 0 {
		t.listening[pl.rec] += weight * float64(q.rec)
	}
	for k, days := range pl.days {
		t.place(&p.passages[q.first+k], days, weight)
	}
}
