package model

// found adds a passage to its part. Like others it is due at the next of the
// programme's dates that its visits can be done for, unless the player says
// otherwise. Once the season file has it, the file counts.
func (r *replay) found(e *Event) {
	p, _ := r.s.part(e.Part)
	name := PassageName(e.Part, e.Bars)
	if p == nil {
		r.remark(e.Entry, "%s: the season has no part %s", e.Bars, e.Part)
		return
	}
	if _, known := r.passages[name]; known {
		return
	}
	q := Passage{ID: e.Bars, Bars: e.Bars, Hard: e.Hard, Exposed: e.Exposed, Minutes: e.Took, Found: e.Date, Due: e.Due, Tempo: Pace{Goal: e.Tempo}}
	if q.Due == 0 && p.NextService(e.Date) == 0 {
		r.remark(e.Entry, "%s: no service of %s comes after %v: it cannot be planned", name, p.ID, e.Date)
	}
	r.passages[name] = q
	r.h.Found[e.Part] = append(r.h.Found[e.Part], q)
}

// met notes the parts that were read by the day on which a passage was found in
// them, where the record says nothing of their read-through: nobody finds a
// passage but playing, unless it was heard. It adds no session to the day and no minutes.
func (r *replay) met(live []Event, happenings []happening) {
	said := map[string]bool{}
	for i := range happenings {
		if d := &happenings[i]; d.said {
			said[d.Name] = true
		}
	}
	for i := range live {
		e := &live[i]
		id := StageID(e.Part, ReadStage)
		if e.Kind != Found || e.Heard || said[id] || r.h.Stages[id] != 0 {
			continue
		}
		if before := r.h.Met[e.Part]; before == 0 || e.Date < before {
			r.h.Met[e.Part] = e.Date
		}
	}
}

// NextService gives the date of the programme's next rehearsal or concert
// after a date, or the zero Date.
func (p *Programme) NextService(after Date) Date {
	var next Date
	for _, v := range p.Services {
		if v.Date > after && (next == 0 || v.Date < next) {
			next = v.Date
		}
	}
	return next
}

// openDays is how many days from today on a spell without an end is taken to
// last: that much is kept free, from day to day anew. Common practice, no source.
const openDays = 7

// spell notes the days of pain or of nothing at all.
func (r *replay) spell(e *Event) {
	h, last := r.h, max(e.Date, e.Last)
	if e.Open {
		today := r.o.Today
		if r.o.keep {
			today--
		}
		last = max(e.Date, today+openDays-1)
		for _, over := range r.better {
			if over > e.Date {
				last = min(last, over-1)
			}
		}
	}
	note := Stopped
	if e.Kind == DayLost {
		note = Lost
	}
	for d := e.Date; d <= last && d <= r.s.To; d++ {
		h.Days[d] = max(h.Days[d], note)
		r.silent[d], h.Said[d] = true, true
		if e.Note != "" {
			h.Notes[d] = e.Note
		}
		// Of a lost day nothing else is known than that nothing was played.
		if missed := e.Services == ServicesMissed || e.Services == "" && note == Lost; missed {
			h.Missed[d] = true
		} else if e.Services == ServicesPlayed {
			delete(h.Missed, d)
		}
	}
	for _, x := range e.Stood {
		if had, ok := h.Stood[x.Date]; !ok || x.Minutes < had {
			h.Stood[x.Date] = x.Minutes
		}
	}
}
