package colgen

import (
	"cmp"
	"slices"

	"primaprova/solver/instance"
)

// WeighedFrame is a frame with the weight that a linear program gives it.
type WeighedFrame struct {
	instance.Frame
	Weight float64
}

// Frames gives a block's frames in the last run with their weights, the heaviest
// first. Of the columns with the same read-through and first round, the heaviest
// says where the other stages lie.
func (m *Master) Frames(i int) []WeighedFrame {
	var out []WeighedFrame
	var heavy []float64
	for n, w := range m.Weights[m.Base:] {
		if c := &m.Columns[n]; c.Block == i && w > 1e-6 {
			at := slices.IndexFunc(out, func(f WeighedFrame) bool { return f.Read == c.Plan.Read && f.Phi == c.Plan.Phi })
			if at < 0 {
				at = len(out)
				out, heavy = append(out, WeighedFrame{}), append(heavy, 0)
			}
			if w > heavy[at] {
				out[at].Frame, heavy[at] = c.Plan.Frame, w
			}
			out[at].Weight += w
		}
	}
	slices.SortStableFunc(out, func(a, b WeighedFrame) int { return cmp.Compare(b.Weight, a.Weight) })
	return out
}

// Schedules gives what a master's last run spreads each of its passages over.
func (m *Master) Schedules() [][]WeighedSchedule {
	out := make([][]WeighedSchedule, len(m.Blocks))
	for n, w := range m.Weights[m.Base:] {
		if c := &m.Columns[n]; w > 1e-4 && len(c.Plan.Days[0]) > 0 {
			out[c.Block] = append(out[c.Block], WeighedSchedule{c.Plan.Days[0], w})
		}
	}
	return out
}

// EachMinute goes through what the columns of the last run play, with their
// weights.
func (m *Master) EachMinute(f func(c *Column, weight float64, d instance.Day, minutes int)) {
	for n, w := range m.Weights[m.Base:] {
		c := &m.Columns[n]
		if w < 1e-9 {
			continue
		}
		u := &m.Blocks[c.Block]
		if q := &m.P.Parts[u.Part]; u.Whole && q.Read > 0 && c.Plan.Read >= 0 {
			f(c, w, c.Plan.Read, q.Read)
		}
		for k, days := range c.Plan.Days {
			for j, d := range days {
				f(c, w, d, m.P.Passages[u.First+k].Visits[j].Minutes)
			}
		}
	}
}

// WeighedSchedule is a schedule with its weight; those of a passage add up to at most 1,
// what is missing is the passage left out.
type WeighedSchedule struct {
	Days   []instance.Day
	Weight float64
}
