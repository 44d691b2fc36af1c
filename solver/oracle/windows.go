package oracle

import (
	"primaprova/model"
	"primaprova/solver/instance"
)

// timeWindow is one session of a demand with the days it may lie on when everything
// is placed.
type timeWindow struct {
	Part, Lo, Hi int
	Uses         [3]int // by model.Supply
}

// TimeWindows gives every session its days, each part as if it were alone: as
// model.Slots does for a season, here for an instance in which facts were
// dropped. It is not ok where a session has no day. Where order is dropped
// only gaps tie a passage's visits.
func TimeWindows(p *instance.Instance, ordered bool) (out []timeWindow, ok bool) {
	for i := range p.Parts {
		if out, ok = windowsOf(p, i, ordered, out); !ok {
			return nil, false
		}
	}
	return out, true
}

func windowsOf(p *instance.Instance, i int, ordered bool, out []timeWindow) ([]timeWindow, bool) {
	q := &p.Parts[i]
	var at [3]timeWindow
	lengths, los, his := [3]int{q.Listen, q.Read, q.Rec}, [3]int{q.WinLo, q.WinLo, q.RecLo}, [3]int{q.WinHi, q.WinHi, q.RecHi}
	round, thirds, read := instance.Before, p.Days, instance.Before
	for n, m := range lengths {
		if m == 0 {
			continue
		}
		s := &at[n]
		s.Part, s.Hi = i, his[n]
		s.Uses[stageSupply[n]] = m
		if n == 0 && q.Sits != nil {
			s.Uses[stageSupply[n]] = q.Sits[len(q.Sits)-1].Minutes // those before lie on other days
		}
		if ordered && n == 1 && q.Listen > 0 {
			los[1] = max(los[1], at[0].Lo)
		}
		if ordered && n == 2 && q.Read > 0 {
			los[2] = max(los[2], at[1].Lo+1)
		}
		s.Lo = firstDay(p, los[n], his[n], func(d int) bool { return stageFits(p, q, n, m, d) })
		if s.Lo > his[n] {
			return nil, false
		}
		if n == 1 {
			read = s.Lo
		}
	}
	chains := make([][]timeWindow, q.Last-q.First)
	for c := range chains {
		v := &p.Passages[q.First+c]
		chains[c] = make([]timeWindow, len(v.Visits))
		if v.InRound && len(v.Visits) > 0 {
			lo := v.Lo
			if ordered {
				lo = max(lo, read+1)
			}
			round = max(round, firstDay(p, lo, v.Hi, func(d int) bool { return visitFits(p, &v.Visits[0], d) }))
		}
	}
	for c, chain := range chains {
		v := &p.Passages[q.First+c]
		lo := v.Lo
		for k := range chain {
			w := &v.Visits[k]
			switch {
			case k > 0:
				lo = chain[k-1].Lo + w.Least
			case v.Done > 0:
				lo = max(lo, v.Since+w.Least)
			case ordered:
				lo = max(lo, read+1)
			}
			if k == v.Third {
				lo = max(lo, round+1)
			}
			chain[k] = timeWindow{Part: i, Lo: firstDay(p, lo, v.Hi, func(d int) bool { return visitFits(p, w, d) })}
			chain[k].Uses = [3]int{model.PlayingTime: w.Minutes, model.VisitCount: 1}
			if chain[k].Lo > v.Hi {
				return nil, false
			}
		}
		lastDays(p, v, chain, len(chain)-1, v.Hi)
		if v.Third != instance.None {
			thirds = min(thirds, chain[v.Third].Hi)
		}
	}
	latest := q.WinHi
	for c, chain := range chains {
		v := &p.Passages[q.First+c]
		if len(chain) == 0 {
			continue
		}
		if v.InRound && chain[0].Hi >= thirds {
			lastDays(p, v, chain, 0, thirds-1)
		}
		if v.Done == 0 {
			latest = min(latest, chain[0].Hi-1)
		}
		out = append(out, chain...)
	}
	for n := len(at) - 1; n >= 0; n-- {
		if lengths[n] == 0 {
			continue
		}
		hi := his[n]
		if ordered && n < 2 && !q.ReadDone { // after the read-through listening may lie anywhere
			hi = min(hi, latest)
		}
		at[n].Hi = lastDay(at[n].Lo, hi, func(d int) bool { return stageFits(p, q, n, lengths[n], d) })
		if at[n].Hi < at[n].Lo {
			return nil, false
		}
		switch n {
		case 2:
			latest = min(latest, at[n].Hi-1)
		case 1:
			latest = at[n].Hi
		}
		out = append(out, at[n])
	}
	for _, s := range out {
		if s.Hi < s.Lo {
			return nil, false
		}
	}
	return out, true
}

// lastDays gives visit k of a passage its last day, up to a day, and those
// before it theirs.
func lastDays(p *instance.Instance, v *instance.Passage, chain []timeWindow, k, to int) {
	for ; k >= 0; k-- {
		chain[k].Hi = lastDay(chain[k].Lo, to, func(d int) bool { return visitFits(p, &v.Visits[k], d) })
		to = chain[k].Hi - v.Visits[k].Least
	}
}

// firstDay gives the first day from lo on that will do; hi+1 or later where
// none up to hi does.
func firstDay(p *instance.Instance, lo, hi int, will func(d int) bool) int {
	d := max(lo, p.Today)
	for d <= hi && !will(d) {
		d++
	}
	return d
}

// lastDay gives the last day up to hi that will do; lo−1 where none does.
func lastDay(lo, hi int, will func(d int) bool) int {
	d := hi
	for d >= lo && !will(d) {
		d--
	}
	return max(d, lo-1)
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
