package instance

// StandingFrame gives the frame in which a part stands, if it keeps the rules
// of the season as it is now.
func (p *Instance) StandingFrame(i int) (Frame, bool) {
	q := &p.Parts[i]
	f := Frame{None, None, None, None}
	if q.Listen > 0 {
		f.Listen = Day(q.Stand[0])
	}
	if q.Rec > 0 {
		f.Rec = Day(q.Stand[2])
	}
	f.Read = Day(q.Stand[1])
	first := q.Lo - 1 // the end of the first round, by the first visits that stand
	if q.ReadDone {
		f.Read = Before
		if f.Listen != None && (int(f.Listen) < q.WinLo || int(f.Listen) > q.WinHi || !q.Allowed(0, int(f.Listen))) {
			f.Listen = None
		}
	} else {
		if f.Read == None || q.Listen > 0 && (f.Listen == None || f.Listen > f.Read || int(f.Listen) < q.WinLo) {
			return f, false
		}
		if int(f.Read) < q.WinLo || int(f.Read) > q.WinHi || !q.Allowed(1, int(f.Read)) || q.Listen > 0 && !q.Allowed(0, int(f.Listen)) {
			return f, false
		}
		first = int(f.Read)
	}
	for k := q.First; k < q.Last; k++ {
		if ps := &p.Passages[k]; ps.InRound && len(ps.Visits) > 0 {
			first = max(first, ps.Visits[0].Stand)
		}
	}
	f.Phi = Day(min(first, q.Hi))
	if f.Rec != None && (f.Rec <= f.Phi || int(f.Rec) < q.RecLo || int(f.Rec) > q.RecHi || !q.Allowed(2, int(f.Rec))) {
		f.Rec = None
	}
	return f, true
}

// StandingDays gives the days on which a passage stands, if all its visits do
// and they keep the rules in the frame.
func (p *Instance) StandingDays(k int, f Frame) ([]Day, bool) {
	q := &p.Passages[k]
	days := make([]Day, 0, len(q.Visits))
	last := q.Since
	for n, v := range q.Visits {
		d := v.Stand
		if d == None || d < q.Lo || d > q.Hi || !v.May(d) || (n > 0 || q.Done > 0) && d < last+v.Least {
			return nil, false
		}
		days = append(days, Day(d))
		last = d
	}
	return days, p.InFrame(q, f, days)
}

// Unplanned lists the passages that do not lie as they stand: what is new, or
// was moved. Nothing else may move without costing closeness.
func (p *Instance) Unplanned(s *Solution) []int {
	var out []int
	for k := range p.Passages {
		q := &p.Passages[k]
		same := len(s.Sched[k]) == len(q.Visits)
		for n, d := range s.Sched[k] {
			same = same && q.Visits[n].Stand == int(d)
		}
		if !same {
			out = append(out, k)
		}
	}
	return out
}
