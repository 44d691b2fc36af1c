package solver

import (
	"cmp"
	"slices"
)

// weighedFrame is a frame with the weight that a linear program gives it.
type weighedFrame struct {
	frame
	weight float64
}

// mixed gives a unit's frames in the last run with their weights, the heaviest
// first. Of the columns with the same read-through and first round, the heaviest
// says where the other stages lie.
func (m *master) mixed(i int) []weighedFrame {
	var out []weighedFrame
	var heavy []float64
	for n, w := range m.x[m.base:] {
		if c := &m.cols[n]; c.unit == i && w > 1e-6 {
			at := slices.IndexFunc(out, func(f weighedFrame) bool { return f.read == c.plan.read && f.phi == c.plan.phi })
			if at < 0 {
				at = len(out)
				out, heavy = append(out, weighedFrame{}), append(heavy, 0)
			}
			if w > heavy[at] {
				out[at].frame, heavy[at] = c.plan.frame, w
			}
			out[at].weight += w
		}
	}
	slices.SortStableFunc(out, func(a, b weighedFrame) int { return cmp.Compare(b.weight, a.weight) })
	return out
}

// shared gives what a master's last run spreads each of its passages over.
func (m *master) shared() [][]share {
	out := make([][]share, len(m.units))
	for n, w := range m.x[m.base:] {
		if c := &m.cols[n]; w > 1e-4 && len(c.plan.days[0]) > 0 {
			out[c.unit] = append(out[c.unit], share{c.plan.days[0], w})
		}
	}
	return out
}

// eachMinute goes through what the columns of the last run play, with their
// weights.
func (m *master) eachMinute(f func(c *column, weight float64, d int16, minutes int)) {
	for n, w := range m.x[m.base:] {
		c := &m.cols[n]
		if w < 1e-9 {
			continue
		}
		u := &m.units[c.unit]
		if q := &m.p.parts[u.part]; u.whole && q.read > 0 && c.plan.read >= 0 {
			f(c, w, c.plan.read, q.read)
		}
		for k, days := range c.plan.days {
			for j, d := range days {
				f(c, w, d, m.p.passages[u.first+k].visits[j].minutes)
			}
		}
	}
}

// share is a schedule with its weight; those of a passage add up to at most 1,
// what is missing is the passage left out.
type share struct {
	days   []int16
	weight float64
}
