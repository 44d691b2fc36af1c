package oracle

import (
	"slices"

	"primaprova/model"
	"primaprova/solver/instance"
)

// Demand is what has to be placed: of an instance's parts some stages, of its
// passages the first few of the visits that lie ahead. Whatever is in it has
// all that comes before it in it too.
type Demand struct {
	Stages [][3]bool // by part: listening, read-through, recordings
	Visits []int     // by passage
}

// DemandAll asks for everything.
func DemandAll(p *instance.Instance) Demand {
	c := Demand{make([][3]bool, len(p.Parts)), make([]int, len(p.Passages))}
	for i := range p.Parts {
		q := &p.Parts[i]
		c.Stages[i] = [3]bool{q.Listen > 0, q.Read > 0, q.Rec > 0}
	}
	for i := range p.Passages {
		c.Visits[i] = len(p.Passages[i].Visits)
	}
	return c
}

// DemandOf asks for what is placed and for the sessions named, with all that
// comes before them.
func DemandOf(p *instance.Instance, placed, asked map[string]bool) Demand {
	c := Demand{make([][3]bool, len(p.Parts)), make([]int, len(p.Passages))}
	in := func(id string) bool { return placed[id] || asked[id] }
	for i := range p.Parts {
		q := &p.Parts[i]
		lengths := [3]int{q.Listen, q.Read, q.Rec}
		for n := range instance.Stages {
			c.Stages[i][n] = lengths[n] > 0 && slices.ContainsFunc(q.IDs(n), in)
		}
		for k := q.First; k < q.Last; k++ {
			v := &p.Passages[k]
			for j := range v.Visits {
				if in(model.VisitID(v.Work.Name, v.Done+j+1)) {
					c.Visits[k] = j + 1
				}
			}
			c.Stages[i][1] = c.Stages[i][1] || c.Visits[k] > 0 && v.Done == 0 && q.Read > 0
		}
		c.Stages[i][1] = c.Stages[i][1] || c.Stages[i][2] && q.Read > 0
		c.Stages[i][0] = c.Stages[i][0] || c.Stages[i][1] && q.Listen > 0
	}
	return c
}

// Playing gives the minutes that a part has to play.
func (c *Demand) Playing(p *instance.Instance, i int) int {
	q, sum := &p.Parts[i], 0
	if c.Stages[i][1] {
		sum += q.Read
	}
	for k := q.First; k < q.Last; k++ {
		for _, v := range p.Passages[k].Visits[:c.Visits[k]] {
			sum += v.Minutes
		}
	}
	return sum
}

// Restrict gives the instance of placing a demand and nothing else, for some of the
// parts. All of it is worth the same, so that coverage is 0 exactly where all
// is placed. back tells which part and passage of p each of its own is.
func Restrict(p *instance.Instance, c Demand, keep func(part int) bool) (out *instance.Instance, back Origin) {
	o := *p
	o.Parts, o.Passages = nil, nil
	for i := range p.Parts {
		if !keep(i) {
			continue
		}
		q := p.Parts[i]
		if !c.Stages[i][0] {
			q.Listen = 0
		}
		if !c.Stages[i][1] {
			q.Read = 0
		}
		if !c.Stages[i][2] {
			q.Rec = 0
		}
		q.ListenWorth, q.ReadWorth, q.RecWorth, q.Meets = 1, 1, 1, nil
		q.First = len(o.Passages)
		for k := p.Parts[i].First; k < p.Parts[i].Last; k++ {
			if c.Visits[k] == 0 {
				continue
			}
			v := p.Passages[k]
			v.Part, v.Visits = len(o.Parts), slices.Clone(v.Visits[:c.Visits[k]])
			for j := range v.Visits {
				v.Visits[j].Value = 1
			}
			if v.Third >= len(v.Visits) {
				v.Third = instance.None
			}
			o.Passages = append(o.Passages, v)
			back.Passages = append(back.Passages, k)
		}
		q.Last = len(o.Passages)
		if q.First == q.Last && q.Listen+q.Read+q.Rec == 0 {
			continue
		}
		o.Parts = append(o.Parts, q)
		back.Parts = append(back.Parts, i)
	}
	o.Meet()
	return &o, back
}

// Origin gives the parts and passages of the instance that another was cut from.
type Origin struct{ Parts, Passages []int }

// Leave takes a part out of a demand.
func (c *Demand) Leave(p *instance.Instance, i int) {
	c.Stages[i] = [3]bool{}
	for k := p.Parts[i].First; k < p.Parts[i].Last; k++ {
		c.Visits[k] = 0
	}
}
