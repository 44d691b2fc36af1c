package lns

import (
	"cmp"
	"context"
	"slices"

	"primaprova/solver/colgen"
	"primaprova/solver/construct"
	"primaprova/solver/highs"
	"primaprova/solver/instance"
	"primaprova/solver/pricing"
	"primaprova/solver/run"
)

// heaviestColumns gives each block's column of the greatest weight in the last run, and
// that weight.
func heaviestColumns(m *colgen.Master) ([]int, []float64) {
	heavy, weight := make([]int, len(m.Blocks)), make([]float64, len(m.Blocks))
	for i := range weight {
		weight[i] = -1
	}
	for n, w := range m.Weights[m.Base:] {
		if c := &m.Columns[n]; w > weight[c.Block] {
			heavy[c.Block], weight[c.Block] = n, w
		}
	}
	return heavy, weight
}

// diveIn places the blocks of the master in a solution that holds the rest: those
// first whose heaviest plan weighs most. It solves and prices the others again
// around them, and goes on until every block has its plan. What the last ones
// are squeezed out of is won back by moves and windows. The master is left with
// its blocks fixed.
func diveIn(ctx context.Context, m *colgen.Master, s *instance.Solution, by run.DiveRate) error {
	in := &construct.Inserter{S: s, By: instance.InOrder, T: &m.Duals}
	for {
		if err := m.Solve(ctx, by.Rounds); err != nil {
			return err
		}
		heavy, weight := heaviestColumns(m)
		var free []int
		for i := range weight {
			if m.Fixed[i] == instance.None {
				free = append(free, i)
			}
		}
		if len(free) == 0 {
			return nil
		}
		slices.SortStableFunc(free, func(a, b int) int { return cmp.Or(cmp.Compare(weight[b], weight[a]), a-b) })
		var batch highs.Columns
		for n, i := range free {
			if n > int(by.Share*float64(len(free))) && weight[i] < 0.99 {
				break
			}
			placeBlock(in, &m.Blocks[i], &m.Columns[heavy[i]].Plan)
			m.Fixed[i] = len(m.Columns)
			m.Push(&batch, colgen.Column{Block: i, Plan: pricing.PlanOf(s, &m.Blocks[i])})
		}
		if err := m.LP.AddCols(&batch); err != nil {
			return err
		}
		leaveRoom(m, s)
		if err := m.Minimise(m.Objective); err != nil {
			return err
		}
	}
}

// leaveRoom tells the pricer what room the placed parts leave.
func leaveRoom(m *colgen.Master, s *instance.Solution) {
	m.Pricer.Room = slices.Clone(m.P.Room)
	for d := range m.Pricer.Room {
		r := &m.Pricer.Room[d]
		r.Playing -= int(s.Planned[d])
		r.Listening -= s.Listen[d]
		r.Held -= int(s.Planned[d]) + s.Listen[d]
		r.Visits -= s.Visits[d]
	}
}

// placeBlock places a block that is lifted as a plan has it: its frame if it is a
// whole part, and each passage where the days still take it, each of the
// others where it costs least.
func placeBlock(in *construct.Inserter, u *pricing.Block, pl *pricing.BlockPlan) {
	s := in.S
	q := &s.P.Parts[u.Part]
	if u.Whole {
		if pl.Read == instance.None || !s.TakesFrame(q, pl.Frame) {
			in.Part(u.Part, 2, s.P.Order(q))
			return
		}
		s.SetFrame(u.Part, pl.Frame)
	}
	var left []int
	for k := u.First; k < u.Last; k++ {
		if days := pl.Days[k-u.First]; len(days) == len(s.P.Passages[k].Visits) && s.Takes(k, days) {
			s.Place(k, days)
		} else {
			left = append(left, k)
		}
	}
	for _, k := range left {
		in.Passage(k)
	}
}
