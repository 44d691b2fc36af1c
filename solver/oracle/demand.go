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

// overload is a run of days in which more has to happen than they have room for.
type overload struct {
	Lo, Hi, Need, Has int
	Supply            model.Supply
}

// Overloaded tells whether something has no day, or some stretch of days is short.
func Overloaded(p *instance.Instance, ordered bool) bool {
	spans, ok := TimeWindows(p, ordered)
	return !ok || MostOverloaded(p, spans, nil).Need > 0
}

// MostOverloaded gives the stretch of days that is short by the greatest share of
// what it has, need 0 where none is short (the demand test; see
// model.Stretches). By minutes it would be the longest: a short one has fewer
// reasons, and it is sooner found out which of them can be spared. Where parts are named
// it is one in which some of their work has to happen.
func MostOverloaded(p *instance.Instance, spans []timeWindow, named map[int]bool) overload {
	var worst overload
	due := make([][]timeWindow, p.Days)
	for _, s := range spans {
		due[s.Hi] = append(due[s.Hi], s)
	}
	for _, u := range []model.Supply{model.PlayingTime, model.ListeningTime, model.VisitCount} {
		grain := 0 // what all sessions are multiples of: no more than whole ones of it are used of a day
		for _, s := range spans {
			grain = gcd(grain, s.Uses[u])
		}
		work := make([]int, p.Days) // by first day, of what is due by the day looked at
		ours := make([]bool, p.Days)
		for hi := p.Today; hi < p.Days; hi++ {
			some := false
			for _, s := range due[hi] {
				work[s.Lo] += s.Uses[u]
				some = some || s.Uses[u] > 0
				ours[s.Lo] = ours[s.Lo] || s.Uses[u] > 0 && named[s.Part]
			}
			need, has, our := 0, 0, len(named) == 0
			for lo := hi; lo >= p.Today && some; lo-- {
				need, has, our = need+work[lo], has+supplyOn(p, u, lo)/grain*grain, our || ours[lo]
				if over := need - has; our && work[lo] > 0 && over > 0 && over*max(1, worst.Has) > (worst.Need-worst.Has)*max(1, has) {
					worst = overload{lo, hi, need, has, u}
				}
			}
		}
	}
	return worst
}

func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// supplyOn gives what a day has of a supply.
func supplyOn(p *instance.Instance, u model.Supply, d int) int {
	r := &p.Room[d]
	switch u {
	case model.ListeningTime:
		return min(r.Listening, r.Held)
	case model.VisitCount:
		if r.Playing == 0 {
			return 0
		}
		return r.Visits
	}
	return min(r.Playing, r.Held)
}
