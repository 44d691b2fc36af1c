package solver

import (
	"context"
	"math"
	"slices"

	"primaprova/solver/highs"
)

// spread is a plan in which frames are whole and passages are not: each is
// spread over a few schedules, as a linear program weighs them. It is what
// frames are judged by (walk), and what a dive makes whole.
type spread struct {
	p      *problem
	engine *highs.Library
	frames []frame
	shares [][]share // by passage
	work   int64     // of the linear programs solved over it so far (master.work)
	most   int64     // work after which its frames rest; 0: they never have to
}

// newSpread starts from a state, every passage whole.
func newSpread(engine *highs.Library, st *state) *spread {
	k := &spread{p: st.p, engine: engine, frames: slices.Clone(st.frames), shares: make([][]share, len(st.p.passages))}
	for i, days := range st.sched {
		k.settle(i, days)
	}
	return k
}

// clone gives a plan of its own that begins as this one.
func (k *spread) clone() *spread {
	c := *k
	c.frames, c.shares = slices.Clone(k.frames), slices.Clone(k.shares)
	return &c
}

// rests tells whether the work is done that its frames get.
func (k *spread) rests() bool { return k.most > 0 && k.work >= k.most }

// takeFrom takes over the weights of a mixture, of the parts listed: each part in the
// frame that weighs most, or as near to it as its stages find room.
func (k *spread) takeFrom(x *mixture, list []int) {
	s := newState(k.p)
	for i, f := range k.frames {
		if !slices.Contains(list, i) {
			s.setFrame(i, f)
		}
	}
	for _, i := range list {
		q := &x.parts[i]
		if len(q.frames) > 0 {
			k.frames[i] = s.room(i, q.frames[0].frame, k.p.days)
		}
		s.setFrame(i, k.frames[i])
		first, last := k.p.parts[i].first, k.p.parts[i].last
		clear(k.shares[first:last])
		for _, pl := range q.plans {
			for n, days := range pl.days {
				if len(days) > 0 && pl.weight > 1e-4 {
					k.shares[first+n] = append(k.shares[first+n], share{days, pl.weight})
				}
			}
		}
	}
}

// settle makes a passage whole.
func (k *spread) settle(i int, days []int16) {
	k.shares[i] = nil
	if len(days) > 0 {
		k.shares[i] = []share{{days, 1}}
	}
}

// beside gives the days as all but the passages listed take them, with the parts
// in the frames given: as a state, rounded to whole minutes and visits that the
// days have room for, and as it is. The state is nil where the frames' stages find
// no room.
func (k *spread) beside(list []int, frames []frame) (*state, taken) {
	s := k.p.stagesIn(frames)
	if s == nil {
		return nil, taken{}
	}
	t := s.taken()
	free := make([]bool, len(k.p.passages))
	for _, q := range list {
		free[q] = true
	}
	for q, shares := range k.shares {
		if free[q] {
			continue
		}
		for _, h := range shares {
			t.place(&k.p.passages[q], h.days, h.weight)
		}
	}
	for d, minutes := range t.rounded() {
		r := &k.p.room[d]
		most := max(0, min(r.playing-int(s.planned[d]), r.held-int(s.planned[d])-s.listen[d]))
		s.play(d, min(int(minutes-s.planned[d]), most))
		s.visits[d] = min(int(math.Round(t.visits[d])), r.visits)
	}
	return s, t
}

// master states the linear program of the passages listed beside a rest, with
// the schedules they are spread over as its first columns.
func (k *spread) master(pr *pricer, list []int, rest *state, t taken, a aim) (*master, error) {
	units := make([]unit, len(list))
	for n, q := range list {
		part := k.p.passages[q].part
		units[n] = unit{part: part, first: q, last: q + 1, frame: rest.frames[part]}
	}
	var cols []column
	for n, q := range list {
		ps := &k.p.passages[q]
		for _, h := range k.shares[q] {
			if k.p.inFrame(ps, units[n].frame, h.days) {
				cols = append(cols, column{unit: n, plan: partPlan{ratedFrame: ratedFrame{frame: units[n].frame}, days: [][]int16{h.days}, s: k.p.scheduleScore(ps, h.days)}})
			}
		}
	}
	return newMasterWith(k.engine, pr, units, rest, t, a, cols)
}

// whole makes the passages listed whole by a dive.
func (k *spread) whole(ctx context.Context, list []int, a aim, rounds int, by pace) error {
	rest, t := k.beside(list, k.frames)
	m, err := k.master(newPricer(k.p, 1), list, rest, t, a)
	if err != nil {
		return err
	}
	defer m.close()
	if err := m.solve(ctx, rounds); err != nil {
		return err
	}
	if err := m.dive(ctx, rest, by); err != nil {
		return err
	}
	for _, q := range list {
		k.settle(q, rest.sched[q])
	}
	return nil
}

// state gives the plan of a spread whose passages are whole. What finds no
// room, because the days were rounded, is placed where it costs least.
func (k *spread) state() *state {
	s := newState(k.p)
	for i, f := range k.frames {
		s.setFrame(i, f)
	}
	var left []int
	for i, shares := range k.shares {
		if len(shares) == 1 && s.takes(i, shares[0].days) {
			s.place(i, shares[0].days)
		} else {
			left = append(left, i)
		}
	}
	in := &inserter{s: s, by: inOrder}
	for _, i := range left {
		in.passage(i)
	}
	return s
}
