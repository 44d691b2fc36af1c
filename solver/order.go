package solver

import (
	"slices"

	"primaprova/model"
)

// byDeadline gives the parts by the last day of their window, then in the
// order of the season file.
func (p *problem) byDeadline() []int {
	out := make([]int, len(p.parts))
	for i := range out {
		out[i] = i
	}
	slices.SortStableFunc(out, func(a, b int) int { return p.parts[a].winHi - p.parts[b].winHi })
	return out
}

// byRehearsal lists the passages by their part's first rehearsal.
func (p *problem) byRehearsal() []int { return p.passagesOf(p.byDeadline()) }

// passagesOf lists the passages of some parts.
func (p *problem) passagesOf(parts []int) []int {
	var out []int
	for _, i := range parts {
		for k := p.parts[i].first; k < p.parts[i].last; k++ {
			out = append(out, k)
		}
	}
	return out
}

// passagesAround lists the passages of all parts that are close to some.
func (p *problem) passagesAround(parts ...int) []int {
	var near []int
	for w := range p.parts {
		if slices.ContainsFunc(parts, func(i int) bool { return slices.Contains(p.parts[i].close, w) }) {
			near = append(near, w)
		}
	}
	return p.passagesOf(near)
}

// andAfter gives the parts listed, and those after them that meet them.
func (p *problem) andAfter(list []int) []int {
	out := slices.Clone(list)
	last := 0
	for _, i := range list {
		last = max(last, p.parts[i].hi)
	}
	for i := range p.parts {
		if q := &p.parts[i]; q.lo <= last && q.hi > last && !slices.Contains(list, i) {
			out = append(out, i)
		}
	}
	return out
}

// order gives a part's passages, the ones with most at stake first.
func (p *problem) order(q *part) []int {
	out := make([]int, 0, q.last-q.first)
	for k := q.first; k < q.last; k++ {
		out = append(out, k)
	}
	stake := func(k int) int {
		if len(p.passages[k].visits) == 0 {
			return 0
		}
		return p.passages[k].worth(0)
	}
	for i := 1; i < len(out); i++ {
		for j := i; j > 0 && stake(out[j]) > stake(out[j-1]); j-- {
			out[j], out[j-1] = out[j-1], out[j]
		}
	}
	return out
}

// programmes gives the parts of each programme, in the order of their first rehearsals.
func (p *problem) programmes() [][]int {
	of, n := p.byProgramme()
	at := slices.Repeat([]int{none}, n)
	var out [][]int
	for _, i := range p.byDeadline() {
		g := of[i]
		if at[g] == none {
			at[g] = len(out)
			out = append(out, nil)
		}
		out[at[g]] = append(out[at[g]], i)
	}
	return out
}

// byProgramme gives the number of each part's programme, and how many there are.
func (p *problem) byProgramme() ([]int, int) {
	of, number := make([]int, len(p.parts)), map[*model.Programme]int{}
	for i := range p.parts {
		g := p.parts[i].work.Programme
		if _, ok := number[g]; !ok {
			number[g] = len(number)
		}
		of[i] = number[g]
	}
	return of, len(number)
}

// visitDays counts the days on which each visit may lie: the size of the
// written-out program.
func (p *problem) visitDays() int {
	sum := 0
	for i := range p.passages {
		q := &p.passages[i]
		sum += len(q.visits) * max(0, q.hi-q.lo+1)
	}
	return sum
}

// size counts the sessions of a problem.
func (p *problem) size() int64 {
	n := 3 * len(p.parts)
	for i := range p.passages {
		n += len(p.passages[i].visits)
	}
	return int64(n)
}

// plays tells whether an empty day takes so many minutes of playing.
func (p *problem) plays(d, minutes int) bool {
	r := &p.room[d]
	return minutes <= r.playing && minutes <= r.held
}

// hears tells whether an empty day takes so many minutes of listening.
func (p *problem) hears(d, minutes int) bool {
	r := &p.room[d]
	return minutes <= r.listening && minutes <= r.held
}
