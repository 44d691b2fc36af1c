package model

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
		r.silent[d] = true
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
