package chance

import (
	"math"
	"slices"

	"primaprova/model"
)

// Life is what became of one part in one run.
type Life struct {
	Ready  bool // all of it is done before it is due
	Worked bool // it is read, and each passage was worked at as often as its recipe has it, the last check apart
	Short  int  // sessions of it that are not done: its read-through and visits, those that came back with them
}

// Lives plays a plan, each run until a part is due, and tells run by run what became of
// the part. Nil where nothing of it lies ahead.
func Lives(s *model.Season, h *model.History, p *model.Plan, part string, o Options) []Life {
	t := newTable(s, h, p, &o)
	i := slices.IndexFunc(t.parts, func(q partOf) bool { return q.name == part })
	if i < 0 || len(t.parts[i].played) == 0 {
		return nil
	}
	out := make([]Life, o.runs())
	share(len(out), func(from, to int) {
		g, c := newGame(t), newCount(t)
		for run := from; run < to; run++ {
			g.draw(uint64(run))
			g.play(min(t.parts[i].last, t.days)) // what comes after makes no difference
			c.add(g)
			out[run] = Life{Ready: !c.open[i], Worked: c.parts[i].worked && !c.unread[i]}
			for k := range g.tasks {
				if v := &g.tasks[k]; v.part == i && v.counts && g.done[k] == none {
					out[run].Short++
				}
			}
		}
	})
	return out
}

// Gain is what a change brings a part, the luck being the same.
type Gain struct {
	Ready, Worked float64 // shares of the runs with it
	Short         float64 // sessions not done with it, on average
	Fewer         float64 // by how many these are fewer; may be below 0
	Error         float64 // standard error of Fewer
}

// Compare says what with has before now, run by run. The two are of the same number of runs
// of one seed; another number is a mistake of the program.
func Compare(now, with []Life) Gain {
	if len(now) != len(with) {
		panic("chance: lives of different numbers of runs are compared")
	}
	var g Gain
	n, squares := float64(len(now)), 0.0
	for i := range now {
		if with[i].Ready {
			g.Ready += 1 / n
		}
		if with[i].Worked {
			g.Worked += 1 / n
		}
		fewer := float64(now[i].Short - with[i].Short)
		g.Short += float64(with[i].Short) / n
		g.Fewer += fewer / n
		squares += fewer * fewer / n
	}
	g.Error = math.Sqrt(max(0, squares-g.Fewer*g.Fewer) / max(1, n)) // of pairs
	return g
}
