package model

// Slot is one wanted session with the days it may lie on if nothing of its
// part shall be left out but what has no day at all. Last lies before First
// where there is no such day: the session is left out by every plan.
type Slot struct {
	Wanted
	Programme   string
	First, Last Date
}

// Slots gives every wanted session its days, each part as if it were alone in
// the season. From the front the days follow from arrival, listening,
// read-through and gaps:
//
//	first(visit k) ≥ first(visit k−1) + least(k)     first(visit 1) ≥ first(read-through) + 1
//	first(third visit), first(recordings) ≥ first(first visit of any passage) + 1
//
// and from the back the same rows give the last days, from the day before the
// passage is due. A day that is too short for a session even when it is empty
// is none of its days. The history may be nil.
func (s *Season) Slots(h *History) []Slot {
	b := slotting{s: s, rooms: s.rooms(), today: s.From, pins: map[string]Date{}}
	if h != nil {
		b.today, b.refused = max(b.today, h.Today), h.Refused
	}
	for _, p := range s.Pins {
		if p.Date >= b.today {
			b.pins[p.Session] = p.Date
		}
	}
	var out []Slot
	work := s.Work(h)
	for i := range work {
		out = append(out, b.part(&work[i])...)
	}
	return out
}

type slotting struct {
	s     *Season
	rooms []Room
	today Date
	pins  map[string]Date

	refused map[string]bool // names of what was not done today
}

// fits tells whether a session may lie on a day that holds nothing else.
func (b *slotting) fits(w *Wanted, d Date) bool {
	if d < b.s.From || d > b.s.To {
		return false
	}
	if pin, ok := b.pins[w.ID]; ok && pin != d || d == b.today && b.refused[nameOf(w.ID)] {
		return false
	}
	r := &b.rooms[d-b.s.From]
	switch {
	case w.Stage == PassageStage:
		return r.Passages > 0 && plays(*r, w.Minutes) && (w.Visit > 1 || r.New)
	case w.Stage.Playing():
		return plays(*r, w.Minutes)
	}
	return r.Listening >= w.Minutes && r.Held >= w.Minutes
}

// early gives the first day from `from` on, at most `to`, that fits; to+1
// where none does.
func (b *slotting) early(w *Wanted, from, to Date) Date {
	d := max(from, b.today)
	for d <= to && !b.fits(w, d) {
		d++
	}
	return max(min(d, to+1), b.s.From)
}

// late gives the last day up to `to`, at least `from`, that fits; from−1 where
// none does.
func (b *slotting) late(w *Wanted, from, to Date) Date {
	d := to
	for d >= from && !b.fits(w, d) {
		d--
	}
	return d
}

func (b *slotting) part(w *PartWork) []Slot {
	var stages [3]*Slot // the last listening, read-through, recordings
	var sits []Slot     // listening before the last
	var chains []chain
	byName := map[string]int{}
	for j := range w.Passages {
		byName[w.Passages[j].Name] = j
		chains = append(chains, chain{w: &w.Passages[j], days: w.VisitDays(&w.Passages[j])})
	}
	for _, x := range b.s.wanted([]PartWork{*w}) {
		t := Slot{Wanted: x, Programme: w.Programme.ID}
		switch x.Stage {
		case ListeningStage:
			if stages[0] != nil {
				sits = append(sits, *stages[0])
			}
			stages[0] = &t
		case ReadStage:
			stages[1] = &t
		case RecordingsStage:
			stages[2] = &t
		default:
			c := &chains[byName[x.Passage]]
			c.slots = append(c.slots, t)
		}
	}
	b.forward(w, sits, stages, chains)
	b.backward(w, sits, stages, chains)
	out := sits
	for _, t := range stages[:2] {
		if t != nil {
			out = append(out, *t)
		}
	}
	for i := range chains {
		out = append(out, chains[i].slots...)
	}
	if stages[2] != nil {
		out = append(out, *stages[2])
	}
	return out
}

// forward finds the first days.
func (b *slotting) forward(w *PartWork, sits []Slot, stages [3]*Slot, chains []chain) {
	from := w.Window.From
	for k := range sits {
		sits[k].First = b.early(&sits[k].Wanted, from, w.Window.To)
		from = sits[k].First + 1
	}
	if t := stages[0]; t != nil {
		t.First = b.early(&t.Wanted, from, w.Window.To)
		from = t.First
	}
	read := w.Read
	if t := stages[1]; t != nil {
		t.First = b.early(&t.Wanted, from, w.Window.To)
		read = t.First
	}
	round := Date(0) // the first day by which every first visit can have been
	for i := range chains {
		if c := &chains[i]; c.opens() {
			c.slots[0].First = b.early(&c.slots[0].Wanted, max(c.days.From, read+1), c.days.To)
			if c.held() > 0 {
				round = max(round, c.slots[0].First)
			}
		}
	}
	if t := stages[2]; t != nil {
		days := w.RecordingDays(&b.s.Habits)
		t.First = b.early(&t.Wanted, max(days.From, read+1, round+1), days.To)
	}
	for i := range chains {
		c := &chains[i]
		third, bound := c.third()
		at := max(c.days.From, read+1)
		for k := range c.slots {
			t := &c.slots[k]
			switch {
			case k > 0:
				at = c.slots[k-1].First + c.least(k)
			case len(c.w.Done) > 0:
				at = max(c.days.From, c.w.Done[len(c.w.Done)-1]+c.least(0))
			}
			if bound && k == third {
				at = max(at, round+1)
			}
			t.First = b.early(&t.Wanted, at, max(c.days.To, at-1))
		}
		for k := c.held(); k < len(c.slots); k++ {
			c.slots[k].Last = c.slots[k].First - 1
		}
	}
}

// backward finds the last days.
func (b *slotting) backward(w *PartWork, sits []Slot, stages [3]*Slot, chains []chain) {
	thirds := b.s.To + 1 // the first day after which some third visit, or the return to the recordings, cannot lie
	if t := stages[2]; t != nil {
		if t.Last = b.late(&t.Wanted, t.First, w.RecordingDays(&b.s.Habits).To); t.Last >= t.First {
			thirds = min(thirds, t.Last)
		}
	}
	for i := range chains {
		c := &chains[i]
		b.lateFrom(c, c.held()-1, c.days.To)
		if third, bound := c.third(); bound && third < c.held() {
			thirds = min(thirds, c.slots[third].Last)
		}
	}
	read := w.Window.To
	for i := range chains {
		c := &chains[i]
		if c.held() == 0 || len(c.w.Done) > 0 {
			continue
		}
		if c.opens() && c.slots[0].Last >= thirds {
			b.lateFrom(c, 0, thirds-1)
		}
		read = min(read, c.slots[0].Last-1)
	}
	if t := stages[2]; t != nil && t.Last >= t.First {
		read = min(read, t.Last-1)
	}
	if t := stages[1]; t != nil {
		t.Last = b.late(&t.Wanted, t.First, read)
		read = t.Last
	}
	if w.Read != 0 {
		read = w.Window.To // too late to listen first
	}
	if t := stages[0]; t != nil {
		t.Last = b.late(&t.Wanted, t.First, min(read, w.Window.To))
		for k, to := len(sits)-1, t.Last-1; k >= 0; k-- {
			sits[k].Last = b.late(&sits[k].Wanted, sits[k].First, to)
			to = sits[k].Last - 1
		}
	}
}

// lateFrom gives visit k its last day up to `to`, and those before it theirs.
func (b *slotting) lateFrom(c *chain, k int, to Date) {
	for ; k >= 0; k-- {
		t := &c.slots[k]
		t.Last = b.late(&t.Wanted, c.days.From, to)
		to = t.Last - c.least(k)
	}
}
