package oracle

import (
	"slices"

	"primaprova/model"
	"primaprova/solver/instance"
)

// calendar is days being filled.
type calendar struct {
	p      *instance.Instance
	stages [][3]int         // by part: day; none
	visits [][]instance.Day // by passage: days so far
	firsts []int            // by part: first visits of the first round that are still out
	round  []int            // by part: day of the last of them
}

// fillDays places jobs by their priorities, day by day. Nil where one of them comes
// too late.
func fillDays(p *instance.Instance, list []job, turns []priority, ordered bool) *calendar {
	if slices.ContainsFunc(p.Parts, func(q instance.Part) bool { return q.Listen > 0 && q.Sits != nil }) {
		return nil // it places one day after the other, and so no run of days
	}
	c := &calendar{p, make([][3]int, len(p.Parts)), make([][]instance.Day, len(p.Passages)), make([]int, len(p.Parts)), make([]int, len(p.Parts))}
	for i := range p.Parts {
		c.stages[i], c.round[i] = [3]int{instance.None, instance.None, instance.None}, instance.Before
	}
	for i := range p.Passages {
		v := &p.Passages[i]
		if v.InRound && len(v.Visits) > 0 {
			c.firsts[v.Part]++
		}
		c.visits[i] = make([]instance.Day, 0, len(v.Visits))
	}
	comes := make([][]int32, p.Days) // by first day: places in the priorities
	for n, t := range turns {
		lo := list[t.at()].Lo
		comes[lo] = append(comes[lo], int32(n))
	}
	var waiting []int32 // places in the priorities, in their order
	for d := p.Today; d < p.Days; d++ {
		if len(comes[d]) > 0 {
			waiting = append(waiting, comes[d]...)
			slices.Sort(waiting)
		}
		room := p.Room[d]
		// Listening first: a read-through may follow it on the same day.
		for _, listening := range [2]bool{true, false} {
			left := waiting[:0]
			for _, n := range waiting {
				e := &list[turns[n].at()]
				if (e.stage == 0) == listening && c.may(e, d, ordered) && takeRoom(&room, e) {
					c.put(e, d)
				} else {
					left = append(left, n)
				}
			}
			waiting = left
		}
		for _, n := range waiting {
			if list[turns[n].at()].Hi <= d {
				return nil
			}
		}
	}
	return c
}

// takeRoom takes a job off a day's room, if there is enough.
func takeRoom(r *instance.DayRoom, e *job) bool {
	if e.minutes > r.Held {
		return false
	}
	switch {
	case e.stage == 0 || e.stage == 2:
		if e.minutes > r.Listening {
			return false
		}
		r.Listening -= e.minutes
	case e.minutes > r.Playing || e.stage == instance.None && r.Visits < 1:
		return false
	default:
		r.Playing -= e.minutes
		if e.stage == instance.None {
			r.Visits--
		}
	}
	r.Held -= e.minutes
	return true
}

// may tells whether the rules let a job lie on a day, after all that lies
// there or before.
func (c *calendar) may(e *job, d int, ordered bool) bool {
	q := &c.p.Parts[e.Part]
	read := c.stages[e.Part][1]
	if e.stage != instance.None {
		switch {
		case !stageFits(c.p, q, e.stage, e.minutes, d):
			return false
		case !ordered || e.stage == 0:
			return true
		case e.stage == 1:
			return q.Listen == 0 || c.stages[e.Part][0] != instance.None
		}
		return (q.ReadDone || q.Read == 0 || read != instance.None && read < d) && c.firsts[e.Part] == 0 && c.round[e.Part] < d
	}
	v := &c.p.Passages[e.passage]
	if len(c.visits[e.passage]) != e.visit || !visitFits(c.p, &v.Visits[e.visit], d) {
		return false
	}
	switch {
	case e.visit > 0:
		if d < int(c.visits[e.passage][e.visit-1])+v.Visits[e.visit].Least {
			return false
		}
	case ordered && v.Done == 0 && !q.ReadDone && q.Read > 0:
		if read == instance.None || read >= d {
			return false
		}
	}
	return e.visit != v.Third || c.firsts[e.Part] == 0 && c.round[e.Part] < d
}

// put notes a job on a day.
func (c *calendar) put(e *job, d int) {
	if e.stage != instance.None {
		c.stages[e.Part][e.stage] = d
		return
	}
	c.visits[e.passage] = append(c.visits[e.passage], instance.Day(d))
	if v := &c.p.Passages[e.passage]; v.InRound && e.visit == 0 {
		c.firsts[e.Part]--
		c.round[e.Part] = d
	}
}

// solution gives what the calendar holds as a solution.
func (c *calendar) solution() *instance.Solution {
	st := instance.NewSolution(c.p)
	for i := range c.p.Parts {
		q := &c.p.Parts[i]
		f := instance.Frame{Listen: instance.Day(c.stages[i][0]), Read: instance.Day(c.stages[i][1]), Rec: instance.Day(c.stages[i][2]), Phi: instance.Day(max(c.round[i], q.Lo-1))}
		if q.ReadDone {
			f.Read = instance.Before
		} else if f.Phi < f.Read {
			f.Phi = f.Read
		}
		st.SetFrame(i, f)
		for k := q.First; k < q.Last; k++ {
			if len(c.visits[k]) > 0 {
				st.Place(k, c.visits[k])
			}
		}
	}
	if st.Sum[model.Coverage] != 0 {
		panic("solver: a bid filled in whole leaves something out")
	}
	return st
}
