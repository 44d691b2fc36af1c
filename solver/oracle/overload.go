package oracle

import (
	"primaprova/model"
	"primaprova/solver/instance"
)

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
