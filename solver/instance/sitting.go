package instance

import "primaprova/model"

// Sit is one of several sittings in which a part is heard, on days running. A
// frame's day of listening is that of the last; those before lie on the days
// before it that are no days off.
type Sit struct {
	ID                  string
	Minutes             int
	Stand, Pin, Refused int // as of a stage
}

// listenings gives a part the sittings that lie ahead: what is heard in one is a stage
// like any.
func (p *Instance) listenings(q *Part, w *model.PartWork, at, pins map[string]int, refused map[string]bool) {
	h := &p.Season.Habits
	q.ListenWorth = 0
	for _, x := range w.ToHear() {
		s := Sit{x.ID, int(x.Minutes), dayOf(at, x.ID), dayOf(pins, x.ID), None}
		if refused[x.ID] {
			s.Refused = p.Today
		}
		q.Listen += s.Minutes
		q.ListenWorth += h.StageWorth(model.ListeningStage, x.Minutes)
		q.ListenID, q.Stand[0], q.Pin[0], q.Refused[0] = s.ID, s.Stand, s.Pin, s.Refused
		q.Sits = append(q.Sits, s)
	}
	if len(q.Sits) < 2 {
		q.Sits = nil
	} else if p.before == nil {
		p.hearable()
	}
	q.before = p.before
}

// hearable notes for each day the one before it that is no day off.
func (p *Instance) hearable() {
	p.before = make([]Day, p.Days)
	last := Day(None)
	for d := range p.before {
		p.before[d] = last
		if d >= p.Today && !p.Season.Limits.OffOn(p.Season.From+model.Date(d)) {
			last = Day(d)
		}
	}
}

// Sat calls f with each sitting of a part whose listening ends on a day, the last
// first, and with its day, None where there is none; until f says no, which is given.
func (q *Part) Sat(d int, f func(s *Sit, day int) bool) bool {
	for k := len(q.Sits) - 1; k >= 0; k-- {
		if !f(&q.Sits[k], d) {
			return false
		}
		if d != None {
			d = int(q.before[d])
		}
	}
	return true
}

// sits tells whether the sittings of a part may end on a day as far as pins go, what
// was refused, and the part's window.
func (q *Part) sits(d int) bool {
	return q.Sat(d, func(s *Sit, d int) bool {
		return d != None && d >= q.WinLo && (s.Pin == None || s.Pin == d) && s.Refused != d
	})
}

// Hearable tells whether the days still take a part's listening that ends on one.
func (s *Solution) Hearable(q *Part, d int) bool {
	if q.Sits == nil {
		return s.Listenable(d, q.Listen)
	}
	return q.Sat(d, func(x *Sit, d int) bool { return d != None && s.Listenable(d, x.Minutes) })
}

// HearsAll tells whether days with so much room take it with nothing else on them.
func (q *Part) HearsAll(room []DayRoom, d int) bool {
	if q.Sits == nil {
		return q.Listen <= min(room[d].Listening, room[d].Held)
	}
	return q.Sat(d, func(x *Sit, d int) bool { return d != None && x.Minutes <= min(room[d].Listening, room[d].Held) })
}

// Heard calls f with the minutes of listening on each day where it ends on one.
func (q *Part) Heard(d int, f func(day, minutes int)) {
	if q.Sits == nil {
		f(d, q.Listen)
		return
	}
	q.Sat(d, func(x *Sit, d int) bool {
		if d != None {
			f(d, x.Minutes)
		}
		return true
	})
}

// MovedListening gives the closeness cost of a part's listening that ends on a day.
func (p *Instance) MovedListening(q *Part, d int) int {
	if q.Sits == nil {
		return p.Moved(q.Stand[0], d)
	}
	sum := 0
	q.Sat(d, func(x *Sit, d int) bool {
		if d != None {
			sum += p.Moved(x.Stand, d)
		}
		return true
	})
	return sum
}

// IDs gives the ids of a stage's sessions that lie ahead, of a stage by its place in
// Stages.
func (q *Part) IDs(n int) (out []string) {
	switch {
	case n > 0:
		return []string{model.StageID(q.Work.Name, Stages[n])}
	case q.Sits == nil:
		return []string{q.ListenID}
	}
	for k := range q.Sits {
		out = append(out, q.Sits[k].ID)
	}
	return out
}

// SitDay gives the day of one of a stage's sessions where the stage's is d: of a
// listening, of the k-th of IDs.
func (q *Part) SitDay(n, k, d int) int {
	if n > 0 || q.Sits == nil {
		return d
	}
	for range len(q.Sits) - 1 - k {
		d = int(q.before[d])
	}
	return d
}
