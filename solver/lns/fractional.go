package lns

import (
	"context"
	"math"
	"slices"
	"time"

	"primaprova/solver/colgen"
	"primaprova/solver/construct"
	"primaprova/solver/instance"
	"primaprova/solver/pricing"
	"primaprova/solver/run"
)

// Fractional is a plan in which frames are whole and passages are not: each is
// spread over a few schedules, as a linear program weighs them. It is what
// frames are judged by (frameSearch), and what a dive makes whole.
type Fractional struct {
	p      *instance.Instance
	o      *run.Options
	phase  string // for the trace
	frames []instance.Frame
	shares [][]colgen.WeighedSchedule // by passage
	work   int64                      // of the linear programs solved over it so far (master.work)
	most   int64                      // work after which its frames rest; 0: they never have to
}

// NewFractional starts from a solution, every passage whole.
func NewFractional(o *run.Options, st *instance.Solution) *Fractional {
	k := &Fractional{p: st.P, o: o, phase: "frames", frames: slices.Clone(st.Frames), shares: make([][]colgen.WeighedSchedule, len(st.P.Passages))}
	for i, days := range st.Sched {
		k.settle(i, days)
	}
	return k
}

// clone gives a plan of its own that begins as this one.
func (k *Fractional) clone() *Fractional {
	c := *k
	c.frames, c.shares = slices.Clone(k.frames), slices.Clone(k.shares)
	return &c
}

// rests tells whether the work is done that its frames get.
func (k *Fractional) rests() bool { return k.most > 0 && k.work >= k.most }

// takeFrom takes over the weights of a mixture, of the parts listed: each part in the
// frame that weighs most, or as near to it as its stages find room.
func (k *Fractional) takeFrom(x *frameMixture, list []int) {
	s := instance.NewSolution(k.p)
	for i, f := range k.frames {
		if !slices.Contains(list, i) {
			s.SetFrame(i, f)
		}
	}
	for _, i := range list {
		q := &x.parts[i]
		if len(q.frames) > 0 {
			k.frames[i] = s.NearestFrame(i, q.frames[0].Frame, k.p.Days)
		}
		s.SetFrame(i, k.frames[i])
		first, last := k.p.Parts[i].First, k.p.Parts[i].Last
		clear(k.shares[first:last])
		for _, pl := range q.plans {
			for n, days := range pl.Days {
				if len(days) > 0 && pl.weight > 1e-4 {
					k.shares[first+n] = append(k.shares[first+n], colgen.WeighedSchedule{Days: days, Weight: pl.weight})
				}
			}
		}
	}
}

// settle makes a passage whole.
func (k *Fractional) settle(i int, days []instance.Day) {
	k.shares[i] = nil
	if len(days) > 0 {
		k.shares[i] = []colgen.WeighedSchedule{{Days: days, Weight: 1}}
	}
}

// beside gives the days as all but the passages listed take them, with the parts
// in the frames given: as a solution, rounded to whole minutes and visits that the
// days have room for, and as it is. The solution is nil where the frames' stages find
// no room.
func (k *Fractional) beside(list []int, frames []instance.Frame) (*instance.Solution, instance.Usage) {
	s := k.p.StagesIn(frames)
	if s == nil {
		return nil, instance.Usage{}
	}
	t := s.Usage()
	free := make([]bool, len(k.p.Passages))
	for _, q := range list {
		free[q] = true
	}
	for q, shares := range k.shares {
		if free[q] {
			continue
		}
		for _, h := range shares {
			t.Place(&k.p.Passages[q], h.Days, h.Weight)
		}
	}
	for d, minutes := range t.Rounded() {
		r := &k.p.Room[d]
		most := max(0, min(r.Playing-int(s.Planned[d]), r.Held-int(s.Planned[d])-s.Listen[d]))
		s.Play(d, min(int(minutes-s.Planned[d]), most))
		s.Visits[d] = min(int(math.Round(t.Visits[d])), r.Visits)
	}
	return s, t
}

// master states the linear program of the passages listed beside a rest, with
// the schedules they are spread over as its first columns.
func (k *Fractional) master(pr *pricing.Pricer, list []int, rest *instance.Solution, t instance.Usage, a instance.Objective) (*colgen.Master, error) {
	units := make([]pricing.Block, len(list))
	for n, q := range list {
		part := k.p.Passages[q].Part
		units[n] = pricing.Block{Part: part, First: q, Last: q + 1, Frame: rest.Frames[part]}
	}
	var cols []colgen.Column
	for n, q := range list {
		ps := &k.p.Passages[q]
		for _, h := range k.shares[q] {
			if k.p.InFrame(ps, units[n].Frame, h.Days) {
				cols = append(cols, colgen.Column{Block: n, Plan: pricing.BlockPlan{PricedFrame: pricing.PricedFrame{Frame: units[n].Frame}, Days: [][]instance.Day{h.Days}, S: k.p.ScheduleScore(ps, h.Days)}})
			}
		}
	}
	return colgen.NewMasterWith(k.o.Engine, pr, units, rest, t, a, cols)
}

// Whole makes the passages listed whole by a dive.
func (k *Fractional) Whole(ctx context.Context, list []int, a instance.Objective, rounds int, by run.DiveRate) error {
	rest, t := k.beside(list, k.frames)
	m, err := k.master(pricing.NewPricer(k.p, 1), list, rest, t, a)
	if err != nil {
		return err
	}
	began := time.Now()
	defer func() {
		k.o.Note(began, run.Event{Phase: k.phase, Operator: run.Dive, Tried: len(list), Kept: len(list), Work: m.Work})
		m.Close()
	}()
	if err := m.Solve(ctx, rounds); err != nil {
		return err
	}
	if err := diveIn(ctx, m, rest, by); err != nil {
		return err
	}
	for _, q := range list {
		k.settle(q, rest.Sched[q])
	}
	return nil
}

// State gives the plan of a spread whose passages are whole. What finds no
// room, because the days were rounded, is placed where it costs least.
func (k *Fractional) State() *instance.Solution {
	s := instance.NewSolution(k.p)
	for i, f := range k.frames {
		s.SetFrame(i, f)
	}
	var left []int
	for i, shares := range k.shares {
		if len(shares) == 1 && s.Takes(i, shares[0].Days) {
			s.Place(i, shares[0].Days)
		} else {
			left = append(left, i)
		}
	}
	in := &construct.Inserter{S: s, By: instance.InOrder}
	for _, i := range left {
		in.Passage(i)
	}
	return s
}
