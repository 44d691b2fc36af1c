package solver

import (
	"cmp"
	"context"
	"slices"
)

// settle holds the first n units of a master over whole parts to one frame each,
// one after the other, those first whose heaviest frame weighs most. A frame's
// weight says little of what it costs to have nothing else: a first round of
// two days takes a third of the passages, and not all of them. So a part's
// heaviest frames are tried, and the frame it has in the state given beside
// them, until one costs next to nothing; the cheapest stays.
// tries is how many frames at most, rounds how often each is priced.
func (m *master) settle(ctx context.Context, st *state, n, tries, rounds int) error {
	if err := m.solve(ctx, 5*rounds); err != nil {
		return err
	}
	for range n {
		weight := make([][]ratedFrame, n) // by unit, the heaviest first
		for i := range weight {
			if !m.units[i].held {
				weight[i] = m.mixed(i)
			}
		}
		next := none
		for i, w := range weight {
			if len(w) > 0 && (next == none || w[0].cost > weight[next][0].cost) {
				next = i
			}
		}
		if next == none {
			break
		}
		try := append(weight[next][:min(tries, len(weight[next]))], ratedFrame{frame: st.frames[m.units[next].part]})
		if err := m.hold(ctx, next, try, rounds); err != nil {
			return err
		}
	}
	return nil
}

// mixed gives a unit's frames in the last run with their weights, the heaviest
// first. Of the columns with the same read-through and first round, the heaviest
// says where the other stages lie.
func (m *master) mixed(i int) []ratedFrame {
	var out []ratedFrame
	var heavy []float64
	for n, w := range m.x[m.base:] {
		if c := &m.cols[n]; c.unit == i && w > 1e-6 {
			at := slices.IndexFunc(out, func(f ratedFrame) bool { return f.read == c.plan.read && f.phi == c.plan.phi })
			if at < 0 {
				at = len(out)
				out, heavy = append(out, ratedFrame{}), append(heavy, 0)
			}
			if w > heavy[at] {
				out[at].frame, heavy[at] = c.plan.frame, w
			}
			out[at].cost += w
		}
	}
	slices.SortStableFunc(out, func(a, b ratedFrame) int { return cmp.Compare(b.cost, a.cost) })
	return out
}

// hold holds a unit to the cheapest of the frames given.
func (m *master) hold(ctx context.Context, i int, frames []ratedFrame, rounds int) error {
	before, best := m.value, inf
	var at frame
	u := &m.units[i]
	for _, f := range frames {
		if f.read == none {
			continue
		}
		u.held, u.frame = true, f.frame
		if err := m.set(m.aim); err != nil {
			return err
		}
		for range rounds {
			if err := m.run(ctx); err != nil {
				return err
			}
			added, err := m.round()
			if err != nil {
				return err
			}
			if added == 0 || m.bound >= best || m.value-m.bound < 1e-4*m.value {
				break
			}
		}
		if m.value < best {
			best, at = m.value, f.frame
		}
		if best <= before+worthwhile {
			break
		}
	}
	if best == inf {
		at = frame{none, none, none, none}
	}
	u.held, u.frame = true, at
	if err := m.set(m.aim); err != nil {
		return err
	}
	return m.solve(ctx, (rounds+1)/2)
}
