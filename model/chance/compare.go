package chance

import (
	"math"
	"slices"

	"primaprova/model"
)

// Lacking plays a plan, each run until a part is due, and gives for each run how many of
// the part's sessions are not done by then: its read-through and visits, and those that
// came back with them. With none it is ready. Nil where nothing of it lies ahead.
func Lacking(s *model.Season, h *model.History, p *model.Plan, part string, o Options) []int {
	t := newTable(s, h, p, &o)
	i := slices.IndexFunc(t.parts, func(q partOf) bool { return q.name == part })
	if i < 0 || len(t.parts[i].played) == 0 {
		return nil
	}
	out := make([]int, o.runs())
	share(len(out), func(from, to int) {
		g := newGame(t)
		for run := from; run < to; run++ {
			g.draw(uint64(run))
			g.play(min(t.parts[i].last, t.days)) // what comes after makes no difference
			for k := range g.tasks {
				if v := &g.tasks[k]; v.part == i && v.counts && g.done[k] == none {
					out[run]++
				}
			}
		}
	})
	return out
}

// ReadyIn gives the share of the runs in which nothing is lacking.
func ReadyIn(lacking []int) float64 {
	n := 0
	for _, x := range lacking {
		if x == 0 {
			n++
		}
	}
	return float64(n) / float64(len(lacking))
}

// Average gives how many sessions are lacking on average.
func Average(lacking []int) float64 {
	sum := 0
	for _, x := range lacking {
		sum += x
	}
	return float64(sum) / float64(len(lacking))
}

// Gain is what a change brings a part, the luck being the same.
type Gain struct {
	Fewer float64 // sessions that are lacking less with it, on average; may be below 0
	Error float64 // its standard error, of pairs
}

// Compare says what with has before now, run by run. The two are of the same number of runs
// of one seed; another number is a mistake of the program.
func Compare(now, with []int) (g Gain) {
	if len(now) != len(with) {
		panic("chance: plays of different numbers of runs are compared")
	}
	n, squares := float64(len(now)), 0.0
	for i := range now {
		fewer := float64(now[i] - with[i])
		g.Fewer += fewer / n
		squares += fewer * fewer / n
	}
	g.Error = math.Sqrt(max(0, squares-g.Fewer*g.Fewer) / n)
	return g
}
