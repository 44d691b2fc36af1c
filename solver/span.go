package solver

import "primaprova/model"

// span is one session of a bid with the days it may lie on when everything
// is placed.
type span struct {
	part, lo, hi int
	uses         [3]int // by model.Supply
}

// spans gives every session its days, each part as if it were alone: as
// model.Slots does for a season, here for a problem in which facts were
// dropped. It is not ok where a session has no day. Where order is dropped
// only gaps tie a passage's visits.
func (p *problem) spans(ordered bool) (out []span, ok bool) {
	for i := range p.parts {
		if out, ok = p.spansOf(i, ordered, out); !ok {
			return nil, false
		}
	}
	return out, true
}

func (p *problem) spansOf(i int, ordered bool, out []span) ([]span, bool) {
	q := &p.parts[i]
	var at [3]span
	lengths, los := [3]int{q.listen, q.read, q.rec}, [3]int{q.winLo, q.winLo, q.recLo}
	round, thirds, read := before, p.days, before
	for n, m := range lengths {
		if m == 0 {
			continue
		}
		s := &at[n]
		s.part, s.hi = i, q.winHi
		s.uses[stageSupply[n]] = m
		if ordered && n == 1 && q.listen > 0 {
			los[1] = max(los[1], at[0].lo)
		}
		if ordered && n == 2 && q.read > 0 {
			los[2] = max(los[2], at[1].lo+1)
		}
		s.lo = p.firstDay(los[n], q.winHi, func(d int) bool { return p.stageFits(q, n, m, d) })
		if s.lo > q.winHi {
			return nil, false
		}
		if n == 1 {
			read = s.lo
		}
	}
	chains := make([][]span, q.last-q.first)
	for c := range chains {
		v := &p.passages[q.first+c]
		chains[c] = make([]span, len(v.visits))
		if v.inRound && len(v.visits) > 0 {
			lo := v.lo
			if ordered {
				lo = max(lo, read+1)
			}
			round = max(round, p.firstDay(lo, v.hi, func(d int) bool { return p.visitFits(&v.visits[0], d) }))
		}
	}
	for c, chain := range chains {
		v := &p.passages[q.first+c]
		lo := v.lo
		for k := range chain {
			w := &v.visits[k]
			switch {
			case k > 0:
				lo = chain[k-1].lo + w.least
			case v.done > 0:
				lo = max(lo, v.since+w.least)
			case ordered:
				lo = max(lo, read+1)
			}
			if k == v.third {
				lo = max(lo, round+1)
			}
			chain[k] = span{part: i, lo: p.firstDay(lo, v.hi, func(d int) bool { return p.visitFits(w, d) })}
			chain[k].uses = [3]int{model.PlayingTime: w.minutes, model.VisitCount: 1}
			if chain[k].lo > v.hi {
				return nil, false
			}
		}
		p.lastDays(v, chain, len(chain)-1, v.hi)
		if v.third != none {
			thirds = min(thirds, chain[v.third].hi)
		}
	}
	latest := q.winHi
	for c, chain := range chains {
		v := &p.passages[q.first+c]
		if len(chain) == 0 {
			continue
		}
		if v.inRound && chain[0].hi >= thirds {
			p.lastDays(v, chain, 0, thirds-1)
		}
		if v.done == 0 {
			latest = min(latest, chain[0].hi-1)
		}
		out = append(out, chain...)
	}
	for n := len(at) - 1; n >= 0; n-- {
		if lengths[n] == 0 {
			continue
		}
		hi := q.winHi
		if ordered && n < 2 && !q.readDone { // after the read-through listening may lie anywhere
			hi = min(hi, latest)
		}
		at[n].hi = p.lastDay(at[n].lo, hi, func(d int) bool { return p.stageFits(q, n, lengths[n], d) })
		if at[n].hi < at[n].lo {
			return nil, false
		}
		switch n {
		case 2:
			latest = min(latest, at[n].hi-1)
		case 1:
			latest = at[n].hi
		}
		out = append(out, at[n])
	}
	for _, s := range out {
		if s.hi < s.lo {
			return nil, false
		}
	}
	return out, true
}

// stageSupply is what each stage takes of a day.
var stageSupply = [3]model.Supply{model.ListeningTime, model.PlayingTime, model.ListeningTime}

func (p *problem) stageFits(q *part, n, minutes, d int) bool {
	if !q.allowed(n, d) {
		return false
	}
	if n == 1 {
		return p.plays(d, minutes)
	}
	return p.hears(d, minutes)
}

func (p *problem) visitFits(v *visit, d int) bool {
	return v.may(d) && p.plays(d, v.minutes) && p.room[d].visits > 0
}

// lastDays gives visit k of a passage its last day, up to a day, and those
// before it theirs.
func (p *problem) lastDays(v *passage, chain []span, k, to int) {
	for ; k >= 0; k-- {
		chain[k].hi = p.lastDay(chain[k].lo, to, func(d int) bool { return p.visitFits(&v.visits[k], d) })
		to = chain[k].hi - v.visits[k].least
	}
}

// firstDay gives the first day from lo on that will do; hi+1 or later where
// none up to hi does.
func (p *problem) firstDay(lo, hi int, will func(d int) bool) int {
	d := max(lo, p.today)
	for d <= hi && !will(d) {
		d++
	}
	return d
}

// lastDay gives the last day up to hi that will do; lo−1 where none does.
func (p *problem) lastDay(lo, hi int, will func(d int) bool) int {
	d := hi
	for d >= lo && !will(d) {
		d--
	}
	return max(d, lo-1)
}

// crowded is a run of days in which more has to happen than they have room for.
type crowded struct {
	lo, hi, need, has int
	supply            model.Supply
}

// tooCrowded tells whether something has no day, or some stretch of days is short.
func (p *problem) tooCrowded(ordered bool) bool {
	spans, ok := p.spans(ordered)
	return !ok || p.mostCrowded(spans, nil).need > 0
}

// mostCrowded gives the stretch of days that is short by the greatest share of
// what it has, need 0 where none is short (the demand test; see
// model.Stretches). By minutes it would be the longest: a short one has fewer
// reasons, and it is sooner found out which of them can be spared. Where parts are named
// it is one in which some of their work has to happen.
func (p *problem) mostCrowded(spans []span, named map[int]bool) crowded {
	var worst crowded
	due := make([][]span, p.days)
	for _, s := range spans {
		due[s.hi] = append(due[s.hi], s)
	}
	for _, u := range []model.Supply{model.PlayingTime, model.ListeningTime, model.VisitCount} {
		grain := 0 // what all sessions are multiples of: no more than whole ones of it are used of a day
		for _, s := range spans {
			grain = gcd(grain, s.uses[u])
		}
		work := make([]int, p.days) // by first day, of what is due by the day looked at
		ours := make([]bool, p.days)
		for hi := p.today; hi < p.days; hi++ {
			some := false
			for _, s := range due[hi] {
				work[s.lo] += s.uses[u]
				some = some || s.uses[u] > 0
				ours[s.lo] = ours[s.lo] || s.uses[u] > 0 && named[s.part]
			}
			need, has, our := 0, 0, len(named) == 0
			for lo := hi; lo >= p.today && some; lo-- {
				need, has, our = need+work[lo], has+p.has(u, lo)/grain*grain, our || ours[lo]
				if over := need - has; our && work[lo] > 0 && over > 0 && over*max(1, worst.has) > (worst.need-worst.has)*max(1, has) {
					worst = crowded{lo, hi, need, has, u}
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

// has gives what a day has of a supply.
func (p *problem) has(u model.Supply, d int) int {
	r := &p.room[d]
	switch u {
	case model.ListeningTime:
		return min(r.listening, r.held)
	case model.VisitCount:
		if r.playing == 0 {
			return 0
		}
		return r.visits
	}
	return min(r.playing, r.held)
}
