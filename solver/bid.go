package solver

import (
	"slices"

	"primaprova/model"
)

// bid is what has to be placed: of a problem's parts some stages, of its
// passages the first few of the visits that lie ahead. Whatever is in it has
// all that comes before it in it too.
type bid struct {
	stages [][3]bool // by part: listening, read-through, recordings
	visits []int     // by passage
}

// bidAll asks for everything.
func (p *problem) bidAll() bid {
	c := bid{make([][3]bool, len(p.parts)), make([]int, len(p.passages))}
	for i := range p.parts {
		q := &p.parts[i]
		c.stages[i] = [3]bool{q.listen > 0, q.read > 0, q.rec > 0}
	}
	for i := range p.passages {
		c.visits[i] = len(p.passages[i].visits)
	}
	return c
}

// bidOf asks for what is placed and for the sessions named, with all that
// comes before them.
func (p *problem) bidOf(placed, asked map[string]bool) bid {
	c := bid{make([][3]bool, len(p.parts)), make([]int, len(p.passages))}
	in := func(id string) bool { return placed[id] || asked[id] }
	for i := range p.parts {
		q := &p.parts[i]
		lengths := [3]int{q.listen, q.read, q.rec}
		for n, st := range stages {
			c.stages[i][n] = lengths[n] > 0 && in(model.StageID(q.work.Name, st))
		}
		for k := q.first; k < q.last; k++ {
			v := &p.passages[k]
			for j := range v.visits {
				if in(model.VisitID(v.work.Name, v.done+j+1)) {
					c.visits[k] = j + 1
				}
			}
			c.stages[i][1] = c.stages[i][1] || c.visits[k] > 0 && v.done == 0 && q.read > 0
		}
		c.stages[i][1] = c.stages[i][1] || c.stages[i][2] && q.read > 0
		c.stages[i][0] = c.stages[i][0] || c.stages[i][1] && q.listen > 0
	}
	return c
}

// playing gives the minutes that a part has to play.
func (c *bid) playing(p *problem, i int) int {
	q, sum := &p.parts[i], 0
	if c.stages[i][1] {
		sum += q.read
	}
	for k := q.first; k < q.last; k++ {
		for _, v := range p.passages[k].visits[:c.visits[k]] {
			sum += v.minutes
		}
	}
	return sum
}

// cut gives the problem of placing a bid and nothing else, for some of the
// parts. All of it is worth the same, so that coverage is 0 exactly where all
// is placed. back tells which part and passage of p each of its own is.
func (p *problem) cut(c bid, keep func(part int) bool) (out *problem, back origin) {
	o := *p
	o.parts, o.passages = nil, nil
	for i := range p.parts {
		if !keep(i) {
			continue
		}
		q := p.parts[i]
		if !c.stages[i][0] {
			q.listen = 0
		}
		if !c.stages[i][1] {
			q.read = 0
		}
		if !c.stages[i][2] {
			q.rec = 0
		}
		q.listenV, q.readV, q.recV, q.meets = 1, 1, 1, nil
		q.first = len(o.passages)
		for k := p.parts[i].first; k < p.parts[i].last; k++ {
			if c.visits[k] == 0 {
				continue
			}
			v := p.passages[k]
			v.part, v.visits = len(o.parts), slices.Clone(v.visits[:c.visits[k]])
			for j := range v.visits {
				v.visits[j].value = 1
			}
			if v.third >= len(v.visits) {
				v.third = none
			}
			o.passages = append(o.passages, v)
			back.passages = append(back.passages, k)
		}
		q.last = len(o.passages)
		if q.first == q.last && q.listen+q.read+q.rec == 0 {
			continue
		}
		o.parts = append(o.parts, q)
		back.parts = append(back.parts, i)
	}
	o.meet()
	return &o, back
}

// origin gives the parts and passages of the problem that another was cut from.
type origin struct{ parts, passages []int }

// leave takes a part out of a bid.
func (c *bid) leave(p *problem, i int) {
	c.stages[i] = [3]bool{}
	for k := p.parts[i].first; k < p.parts[i].last; k++ {
		c.visits[k] = 0
	}
}
