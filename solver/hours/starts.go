package hours

import (
	"cmp"
	"slices"

	"primaprova/model"
	"primaprova/solver/cpsat"
)

// starts reads the sessions' starts off a solution: in a block first what came
// over a rest, or the warm-up, then by how much each wants to be early, and
// last what goes on after the rest. Where changes of part count, those of one
// part follow each other.
func (q *dayModel) starts(found cpsat.Solution) []model.Clock {
	out := make([]model.Clock, len(q.items))
	for i := range q.items {
		if q.items[i].timed {
			out[i] = model.Clock(found.Int(q.items[i].start) * dayGrid)
		}
	}
	for b := range q.blocks {
		at := found.Int(q.blocks[b].start)
		var free []int
		tail, head := "", ""
		for i := range q.items {
			it := &q.items[i]
			for j, p := range it.pieces {
				switch {
				case !found.Bool(p.in[b]):
				case len(it.pieces) == 1:
					free = append(free, i)
				case j > 0:
					at += p.steps
					tail = it.v.Part
				default:
					head = it.v.Part
				}
			}
		}
		q.sortBlock(free, tail, head)
		for _, i := range free {
			if !q.items[i].timed {
				out[i] = model.Clock(at * dayGrid)
				at += q.items[i].steps
			}
		}
	}
	return out
}

// sortBlock puts the whole sessions of a block in their order. Tail and head are
// the parts of what lies before and after them, empty where nothing does.
func (q *dayModel) sortBlock(free []int, tail, head string) {
	most := map[string]int64{} // weight of a part's most pressing session
	for _, i := range free {
		it := &q.items[i]
		most[it.v.Part] = max(most[it.v.Part], it.weight)
	}
	together := q.s.Habits.PartChanges != model.MixedParts
	place := func(part string) int {
		switch {
		case tail != "" && part == tail:
			return 0
		case head != "" && part == head:
			return 2
		}
		return 1
	}
	slices.SortStableFunc(free, func(i, j int) int {
		a, b := &q.items[i], &q.items[j]
		if warm := a.v.Stage == model.WarmUpStage; warm != (b.v.Stage == model.WarmUpStage) {
			if warm {
				return -1
			}
			return 1
		}
		if together && a.v.Part != b.v.Part {
			return cmp.Or(cmp.Compare(place(a.v.Part), place(b.v.Part)), cmp.Compare(most[b.v.Part], most[a.v.Part]), cmp.Compare(a.v.Part, b.v.Part))
		}
		return int(b.weight - a.weight)
	})
}
