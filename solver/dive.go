package solver

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"primaprova/solver/highs"
)

// heaviest gives each unit's column of the greatest weight in the last run, and
// that weight.
func (m *master) heaviest() ([]int, []float64) {
	heavy, weight := make([]int, len(m.units)), make([]float64, len(m.units))
	for i := range weight {
		weight[i] = -1
	}
	for n, w := range m.x[m.base:] {
		if c := &m.cols[n]; w > weight[c.unit] {
			heavy[c.unit], weight[c.unit] = n, w
		}
	}
	return heavy, weight
}

// settle settles the frames of all parts and gives a state with the frames and
// no passages. Frames that carry most of their part's weight are settled at
// once; where the weight is scattered, a few candidates are tried one after the
// other, and the one that leaves the linear program best stays. Units must be
// whole parts; the master is left settled.
func (m *master) settle(ctx context.Context, rounds int) (*state, error) {
	s := newState(m.p)
	in := &inserter{s: s, by: inOrder, t: &m.t}
	for {
		if err := m.solve(ctx, rounds); err != nil {
			return nil, err
		}
		frames := m.frames()
		var free []int
		for i := range m.units {
			if !m.units[i].settled {
				free = append(free, i)
			}
		}
		if len(free) == 0 {
			return s, nil
		}
		slices.SortStableFunc(free, func(a, b int) int {
			return cmp.Or(cmp.Compare(frames[b][0].cost, frames[a][0].cost), a-b)
		})
		for n, i := range free {
			weight := frames[i][0].cost
			if n > 0 && weight < 0.9 && (weight < 0.6 || n > len(free)/6) {
				break
			}
			var options []frame
			if f, ok := middle(frames[i]); ok && weight < 0.6 {
				options = append(options, f)
			}
			for _, f := range append(frames[i], in.frames(m.units[i].part, 5)...) {
				options = append(options, f.frame)
			}
			options = slices.DeleteFunc(options, func(f frame) bool {
				return f.read == none || !s.takesFrame(&m.p.parts[m.units[i].part], f)
			})
			if weight >= 0.6 {
				options = options[:min(1, len(options))]
			}
			if err := m.settleOne(ctx, s, i, options[:min(3, len(options))], rounds); err != nil {
				return nil, err
			}
		}
	}
}

// settleOne gives a unit the frame, of those offered, that leaves the linear
// program best; with one or none offered nothing needs solving.
func (m *master) settleOne(ctx context.Context, s *state, i int, options []frame, rounds int) error {
	u := &m.units[i]
	try := func(f frame) error {
		u.settled, u.frame = true, f
		s.setFrame(u.part, f)
		var batch highs.Columns
		m.push(&batch, column{unit: i, plan: s.unitPlan(u), keep: true}) // the frame alone: always possible
		if err := m.lp.AddCols(&batch); err != nil {
			return err
		}
		return m.set(m.aim)
	}
	if len(options) == 0 {
		return try(s.frames[u.part])
	}
	best, at := inf, 0
	for n := range options {
		if len(options) == 1 {
			break
		}
		if err := try(options[n]); err != nil {
			return err
		}
		if err := m.solve(ctx, rounds); err != nil {
			return err
		}
		if m.value < best {
			best, at = m.value, n
		}
	}
	return try(options[at])
}

// middle gives the frame in the middle of weighted ones, day by day: where the
// weight lies half on an early and half on a late end of the first round, one
// in between takes about the same of every day.
func middle(l []ratedFrame) (frame, bool) {
	day := func(of func(frame) int16) int16 {
		sum, weight := 0.0, 0.0
		for _, f := range l {
			if f.read != none {
				sum += f.cost * float64(of(f.frame))
				weight += f.cost
			}
		}
		return int16(math.Round(sum / max(weight, 1e-9)))
	}
	if len(l) < 2 || l[0].read < 0 {
		return frame{}, false
	}
	f := frame{day(func(f frame) int16 { return f.listen }), day(func(f frame) int16 { return f.read }), l[0].rec, day(func(f frame) int16 { return f.phi })}
	if l[0].listen < 0 {
		f.listen = l[0].listen
	} else {
		f.listen = min(f.listen, f.read)
	}
	f.phi = max(f.phi, f.read)
	return f, f.rec < 0 || f.rec > f.read
}

// frames gives each unit's frames by their weight in the last run, over all
// its plans, the heaviest first; cost holds the weight.
func (m *master) frames() [][]ratedFrame {
	out := make([][]ratedFrame, len(m.units))
	for n, x := range m.x[m.base:] {
		c := &m.cols[n]
		if x < 1e-6 {
			continue
		}
		l := out[c.unit]
		i := slices.IndexFunc(l, func(f ratedFrame) bool { return f.frame == c.plan.frame })
		if i < 0 {
			out[c.unit] = append(l, ratedFrame{c.plan.frame, x})
		} else {
			l[i].cost += x
		}
	}
	for i := range out {
		slices.SortStableFunc(out[i], func(a, b ratedFrame) int { return cmp.Compare(b.cost, a.cost) })
	}
	return out
}

// dive places the units of the master in a state that holds the rest: those
// first whose heaviest plan weighs most. It solves and prices the others again
// around them, and goes on until every unit has its plan. What the last ones
// are squeezed out of is won back by moves and windows. The master is left with
// its units fixed.
func (m *master) dive(ctx context.Context, s *state, share float64, rounds int) error {
	in := &inserter{s: s, by: inOrder, t: &m.t}
	for {
		if err := m.solve(ctx, rounds); err != nil {
			return err
		}
		heavy, weight := m.heaviest()
		var free []int
		for i := range weight {
			if m.fixed[i] == none {
				free = append(free, i)
			}
		}
		if len(free) == 0 {
			return nil
		}
		slices.SortStableFunc(free, func(a, b int) int { return cmp.Or(cmp.Compare(weight[b], weight[a]), a-b) })
		var batch highs.Columns
		for n, i := range free {
			if n > int(share*float64(len(free))) && weight[i] < 0.99 {
				break
			}
			in.plan(&m.units[i], &m.cols[heavy[i]].plan)
			m.fixed[i] = len(m.cols)
			m.push(&batch, column{unit: i, plan: s.unitPlan(&m.units[i])})
		}
		if err := m.lp.AddCols(&batch); err != nil {
			return err
		}
		m.leave(s)
		if err := m.set(m.aim); err != nil {
			return err
		}
	}
}

// solve runs and prices so many rounds, fewer if nothing is found.
func (m *master) solve(ctx context.Context, rounds int) error {
	for n := range rounds {
		if err := m.run(ctx); err != nil {
			return err
		}
		if n == rounds-1 {
			break
		}
		if added, err := m.round(); err != nil || added == 0 {
			return err
		}
	}
	return nil
}

// leave tells the pricer what room the placed parts leave.
func (m *master) leave(s *state) {
	m.pricer.room = slices.Clone(m.p.room)
	for d := range m.pricer.room {
		r := &m.pricer.room[d]
		r.playing -= int(s.planned[d])
		r.listening -= s.listen[d]
		r.held -= int(s.planned[d]) + s.listen[d]
		r.visits -= s.visits[d]
	}
}

// plan places a unit that is lifted as a plan has it: its frame if it is a
// whole part, and each passage where the days still take it, each of the
// others where it costs least.
func (in *inserter) plan(u *unit, pl *partPlan) {
	s := in.s
	q := &s.p.parts[u.part]
	if u.whole {
		if pl.read == none || !s.takesFrame(q, pl.frame) {
			in.part(u.part, 2, s.p.order(q))
			return
		}
		s.setFrame(u.part, pl.frame)
	}
	var left []int
	for k := u.first; k < u.last; k++ {
		if days := pl.days[k-u.first]; len(days) == len(s.p.passages[k].visits) && s.takes(k, days) {
			s.place(k, days)
		} else {
			left = append(left, k)
		}
	}
	for _, k := range left {
		in.passage(k)
	}
}

// unitPlan gives a unit as it stands.
func (s *state) unitPlan(u *unit) partPlan {
	pl := partPlan{ratedFrame: ratedFrame{frame: s.frames[u.part]}, days: slices.Clone(s.sched[u.first:u.last])}
	if u.whole {
		pl.s = s.p.stagesScore(&s.p.parts[u.part], pl.frame)
	}
	for k, days := range pl.days {
		pl.s = pl.s.plus(s.p.scheduleScore(&s.p.passages[u.first+k], days))
	}
	return pl
}

// takes tells whether the days still have room for a passage's schedule.
func (s *state) takes(i int, days []int16) bool {
	q := &s.p.passages[i]
	for k, d := range days {
		if s.visits[d] >= s.p.room[d].visits || !s.playable(int(d), q.visits[k].minutes) {
			return false
		}
	}
	return true
}

// takesFrame tells whether the days have room for a part's stages.
func (s *state) takesFrame(q *part, f frame) bool {
	listen := q.listen == 0 || f.listen < 0 || s.listenable(int(f.listen), q.listen)
	read := q.read == 0 || f.read < 0 || s.playable(int(f.read), q.read)
	rec := q.rec == 0 || f.rec < 0 || s.listenable(int(f.rec), q.rec)
	return listen && read && rec && s.fits(q, f)
}

// seed adds the schedules that another master's plans hold, where they fit the
// units' frames.
func (m *master) seed(from *master) error {
	unitOf := map[int]int{} // passage -> unit
	for i, u := range m.units {
		for k := u.first; k < u.last && !u.whole; k++ {
			unitOf[k] = i
		}
	}
	seen := map[string]bool{}
	var batch highs.Columns
	for _, c := range from.cols {
		first := from.units[c.unit].first
		for n, days := range c.plan.days {
			k := first + n
			i, ok := unitOf[k]
			if !ok || len(days) == 0 || !m.p.inFrame(&m.p.passages[k], m.units[i].frame, days) {
				continue
			}
			if key := fmt.Sprint(k, days); !seen[key] {
				seen[key] = true
				m.push(&batch, column{unit: i, plan: partPlan{ratedFrame{frame: m.units[i].frame}, [][]int16{days}, m.p.scheduleScore(&m.p.passages[k], days)}})
			}
		}
	}
	return m.lp.AddCols(&batch)
}

// inFrame tells whether a schedule keeps to a frame.
func (p *problem) inFrame(q *passage, f frame, days []int16) bool {
	if f.read == none && q.done == 0 {
		return len(days) == 0
	}
	if len(days) > 0 && q.done == 0 && (days[0] <= f.read || q.inRound && days[0] > f.phi) {
		return false
	}
	return q.third == none || q.third >= len(days) || days[q.third] > f.phi
}
