package solver

// standingFrame gives the frame in which a part stands, if it keeps the rules
// of the season as it is now.
func (p *problem) standingFrame(i int) (frame, bool) {
	q := &p.parts[i]
	f := frame{none, none, none, none}
	if q.listen > 0 {
		f.listen = int16(q.stand[0])
	}
	if q.rec > 0 {
		f.rec = int16(q.stand[2])
	}
	f.read = int16(q.stand[1])
	first := q.lo - 1 // the end of the first round, by the first visits that stand
	if q.readDone {
		f.read = before
		if f.listen != none && (int(f.listen) < q.winLo || int(f.listen) > q.winHi || !q.allowed(0, int(f.listen))) {
			f.listen = none
		}
	} else {
		if f.read == none || q.listen > 0 && (f.listen == none || f.listen > f.read || int(f.listen) < q.winLo) {
			return f, false
		}
		if int(f.read) < q.winLo || int(f.read) > q.winHi || !q.allowed(1, int(f.read)) || q.listen > 0 && !q.allowed(0, int(f.listen)) {
			return f, false
		}
		first = int(f.read)
	}
	if f.rec != none && (f.rec <= f.read || int(f.rec) < q.recLo || int(f.rec) > q.winHi || !q.allowed(2, int(f.rec))) {
		f.rec = none
	}
	for k := q.first; k < q.last; k++ {
		if ps := &p.passages[k]; ps.inRound && len(ps.visits) > 0 {
			first = max(first, ps.visits[0].stand)
		}
	}
	f.phi = int16(min(first, q.hi))
	return f, true
}

// standingDays gives the days on which a passage stands, if all its visits do
// and they keep the rules in the frame.
func (p *problem) standingDays(k int, f frame) ([]int16, bool) {
	q := &p.passages[k]
	days := make([]int16, 0, len(q.visits))
	last := q.since
	for n, v := range q.visits {
		d := v.stand
		if d == none || d < q.lo || d > q.hi || !v.may(d) || (n > 0 || q.done > 0) && d < last+v.least {
			return nil, false
		}
		days = append(days, int16(d))
		last = d
	}
	return days, p.inFrame(q, f, days)
}

// unplanned lists the passages that do not lie as they stand: what is new, or
// was moved. Nothing else may move without costing closeness.
func (p *problem) unplanned(s *state) []int {
	var out []int
	for k := range p.passages {
		q := &p.passages[k]
		same := len(s.sched[k]) == len(q.visits)
		for n, d := range s.sched[k] {
			same = same && q.visits[n].stand == int(d)
		}
		if !same {
			out = append(out, k)
		}
	}
	return out
}
