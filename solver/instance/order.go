package instance

import (
	"slices"

	"primaprova/model"
)

// ByDeadline gives the parts by the last day of their window, then in the
// order of the season file.
func (p *Instance) ByDeadline() []int {
	out := make([]int, len(p.Parts))
	for i := range out {
		out[i] = i
	}
	slices.SortStableFunc(out, func(a, b int) int { return p.Parts[a].WinHi - p.Parts[b].WinHi })
	return out
}

// ByRehearsal lists the passages by their part's first rehearsal.
func (p *Instance) ByRehearsal() []int { return p.PassagesOf(p.ByDeadline()) }

// PassagesOf lists the passages of some parts.
func (p *Instance) PassagesOf(parts []int) []int {
	var out []int
	for _, i := range parts {
		for k := p.Parts[i].First; k < p.Parts[i].Last; k++ {
			out = append(out, k)
		}
	}
	return out
}

// PassagesAround lists the passages of all parts that are close to some.
func (p *Instance) PassagesAround(parts ...int) []int {
	var near []int
	for w := range p.Parts {
		if slices.ContainsFunc(parts, func(i int) bool { return slices.Contains(p.Parts[i].Nearest, w) }) {
			near = append(near, w)
		}
	}
	return p.PassagesOf(near)
}

// AndAfter gives the parts listed, and those after them that meet them.
func (p *Instance) AndAfter(list []int) []int {
	out := slices.Clone(list)
	last := 0
	for _, i := range list {
		last = max(last, p.Parts[i].Hi)
	}
	for i := range p.Parts {
		if q := &p.Parts[i]; q.Lo <= last && q.Hi > last && !slices.Contains(list, i) {
			out = append(out, i)
		}
	}
	return out
}

// Order gives a part's passages, the ones with most at stake first.
func (p *Instance) Order(q *Part) []int {
	out := make([]int, 0, q.Last-q.First)
	for k := q.First; k < q.Last; k++ {
		out = append(out, k)
	}
	stake := func(k int) int {
		if len(p.Passages[k].Visits) == 0 {
			return 0
		}
		return p.Passages[k].Worth(0)
	}
	for i := 1; i < len(out); i++ {
		for j := i; j > 0 && stake(out[j]) > stake(out[j-1]); j-- {
			out[j], out[j-1] = out[j-1], out[j]
		}
	}
	return out
}

// Programmes gives the parts of each programme, in the order of their first rehearsals.
func (p *Instance) Programmes() [][]int {
	of, n := p.ByProgramme()
	at := slices.Repeat([]int{None}, n)
	var out [][]int
	for _, i := range p.ByDeadline() {
		g := of[i]
		if at[g] == None {
			at[g] = len(out)
			out = append(out, nil)
		}
		out[at[g]] = append(out[at[g]], i)
	}
	return out
}

// ByProgramme gives the number of each part's programme, and how many there are.
func (p *Instance) ByProgramme() ([]int, int) {
	of, number := make([]int, len(p.Parts)), map[*model.Programme]int{}
	for i := range p.Parts {
		g := p.Parts[i].Work.Programme
		if _, ok := number[g]; !ok {
			number[g] = len(number)
		}
		of[i] = number[g]
	}
	return of, len(number)
}

// VisitDays counts the days on which each visit may lie: the size of the
// written-out program.
func (p *Instance) VisitDays() int {
	sum := 0
	for i := range p.Passages {
		q := &p.Passages[i]
		sum += len(q.Visits) * max(0, q.Hi-q.Lo+1)
	}
	return sum
}

// Size counts the sessions of an instance.
func (p *Instance) Size() int64 {
	n := 3 * len(p.Parts)
	for i := range p.Passages {
		n += len(p.Passages[i].Visits)
	}
	return int64(n)
}

// Plays tells whether an empty day takes so many minutes of playing.
func (p *Instance) Plays(d, minutes int) bool {
	r := &p.Room[d]
	return minutes <= r.Playing && minutes <= r.Held
}

// Hears tells whether an empty day takes so many minutes of listening.
func (p *Instance) Hears(d, minutes int) bool {
	r := &p.Room[d]
	return minutes <= r.Listening && minutes <= r.Held
}
