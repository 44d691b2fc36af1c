package lns

import (
	"slices"

	"primaprova/solver/instance"
	"primaprova/solver/run"
)

// neighbourhood is what a window frees: the passages listed, with all their visits, or only
// with those that lie in a strip of days, which then stay in it. The days are those
// on which it may change anything.
type neighbourhood struct {
	list        []int
	first, last int
	strip       bool
}

// An Operator chooses what is freed (destroy): neighbourhoods of a plan, each of which is then
// solved as a sub-MIP (repair). One loop drives them all (improve): it runs several side by side that
// are apart, takes what costs less, and tells what came of each. Each pass is cut elsewhere.
type Operator interface {
	Name() string // one of run.Operators, or a new one
	Neighbourhoods(s *instance.Solution, pass int) []neighbourhood
}

// Passages frees whole passages, so many at a time of a list in its order.
type Passages struct {
	List []int
	Size int
}

func (Passages) Name() string { return run.Passages }
func (o Passages) Neighbourhoods(s *instance.Solution, pass int) []neighbourhood {
	return passageNeighbourhoods(s.P, o.List, o.Size, pass)
}

// Strips frees all visits within so many days, which stay within them.
type Strips struct{ Days int }

func (Strips) Name() string { return run.Strips }
func (o Strips) Neighbourhoods(s *instance.Solution, pass int) []neighbourhood {
	return dayNeighbourhoods(s, o.Days, pass, nil)
}

// passageNeighbourhoods cuts a list of passages into pieces that overlap by a third, each pass
// elsewhere.
func passageNeighbourhoods(p *instance.Instance, order []int, size, pass int) []neighbourhood {
	var out []neighbourhood
	by := max(1, size*2/3)
	for from := -(pass * by / 3) % by; from < len(order); from += by {
		if list := order[max(0, from):min(len(order), from+size)]; len(list) > 0 {
			out = append(out, neighbourhoodOf(p, list))
		}
	}
	return out
}

// neighbourhoodOf frees the passages listed.
func neighbourhoodOf(p *instance.Instance, list []int) neighbourhood {
	c := neighbourhood{list: list, first: p.Days}
	for _, k := range list {
		c.first, c.last = min(c.first, p.Passages[k].Lo), max(c.last, p.Passages[k].Hi)
	}
	return c
}

// dayNeighbourhoods cuts what is ahead into strips of so many days that overlap by half, each
// pass elsewhere. Beside the passages with visits there, each holds those of the
// lacking that have days there. Where a window over whole passages meets other
// parts on a day, they stand in its way; in a strip all that is played on its days
// moves together. Each passage has few schedules there, so it is soon solved.
func dayNeighbourhoods(s *instance.Solution, days, pass int, lacking []int) []neighbourhood {
	var out []neighbourhood
	by := max(1, days/2)
	for from := s.P.Today - pass*by/2%by; from < s.P.Days; from += by {
		c := neighbourhood{first: max(from, s.P.Today), last: min(from+days, s.P.Days) - 1, strip: true}
		for k, at := range s.Sched {
			q := &s.P.Passages[k]
			if slices.ContainsFunc(at, c.holds) || slices.Contains(lacking, k) && q.Lo <= c.last && q.Hi >= c.first {
				c.list = append(c.list, k)
			}
		}
		if len(c.list) > 0 {
			out = append(out, c)
		}
	}
	return out
}

// holds tells whether a day is one of the piece's.
func (c *neighbourhood) holds(d instance.Day) bool { return c.first <= int(d) && int(d) <= c.last }

// frees tells whether in a strip visit k of a passage may come to lie on day d, where
// its visits lie on the days given; those it has none for are left out.
func (c *neighbourhood) frees(days []instance.Day, k, d int) bool {
	if k < len(days) && int(days[k]) == d {
		return true
	}
	return c.holds(instance.Day(d)) && (k >= len(days) || c.holds(days[k]))
}

// apart tells whether the days of two pieces are at least two weeks apart, so that
// neither changes what the other costs, and no passage is in both.
func (c *neighbourhood) apart(o *neighbourhood) bool {
	return (c.last+14 < o.first || o.last+14 < c.first) &&
		!slices.ContainsFunc(c.list, func(k int) bool { return slices.Contains(o.list, k) })
}
