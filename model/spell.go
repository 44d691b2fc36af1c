package model

// What playing hurt, or illness, asks of the days after it. None of it is
// treatment, and no figure promises safety: whether and when to play again is
// for a physician or physiotherapist to say. The rules only see to it that a
// plan never makes up at once for what was not played.
//
// A spell is a run of days of pain, lost days or days off. With the record of
// the four weeks before it
//
//	usual  mean playing of the days on which anything was played, services and
//	       warm-ups included
//	fullest  the most of any of them
//
// (where fewer than five such days are known, with what stood planned on the four
// weeks after it when it was recorded; where that is too little, too, both the cap). On each of the
// Limits.LightDays days after a spell of pain there is planned playing of at most
//
//	light · min(what stood planned on it when the pain was recorded, usual − services − warm-up)
//
// and then, as after an illness of Return.Ill days or time off of Return.After,
// the way back begins: on its day n, from 0, no more is played in all than
//
//	first·usual + rise·(3·⌊(n−1)/7⌋ + min(3, 1 + (n−1) mod 7))
//
// (after pain: warm-up + light·(usual − warm-up) in place of first·usual) until that
// is as much as the fullest day; nor in a week of it than the week before allows
// (week.go).
// Sources: rise and the days on which it rises, see DefaultReturn; the rest is
// common practice, no source.

// PainBefore gives the last day of pain before a date, or the zero Date.
func (s *Season) PainBefore(d Date) (last Date) {
	for _, r := range s.Limits.Stopped {
		if r.To < d {
			last = max(last, r.To)
		}
	}
	return last
}

// Back is the way back after a spell.
type Back struct {
	Last  Date    // of the spell
	From  Date    // first day of the way back
	Level Minutes // most playing of that day
	Full  Minutes // playing at which it ends
	Pain  bool    // the spell was one of pain

	// Most playing of a day in each of its weeks, so that the week keeps to what the
	// one before allows; NoLimit where the days' own limits see to that.
	Weeks []Minutes `json:",omitempty"`
}

// most gives the most playing of a date on the way back, and whether it is on it.
func (b Back) most(d Date, rise Minutes) (Minutes, bool) {
	most, on := b.Step(d, rise)
	if k := int(d-b.From) / 7; on && k < len(b.Weeks) {
		most = min(most, b.Weeks[k])
	}
	return most, on && most < NoLimit
}

// Step gives the most playing of a date by the days of the way back alone, NoLimit
// once that is as much as on the fullest day, and whether it may be on it.
func (b Back) Step(d Date, rise Minutes) (Minutes, bool) {
	n := int(d - b.From)
	if n < 0 || n >= 7*returnWeeks {
		return 0, false
	}
	if most := b.Level + rise*Minutes(risen(n)); most < b.Full {
		return most, true
	}
	return NoLimit, true
}

// risen gives how often the cap has risen on day n of a way back, counted from 0.
func risen(n int) int {
	if n == 0 {
		return 0
	}
	return returnDays*((n-1)/7) + min(returnDays, 1+(n-1)%7)
}

// spell is a run of days without playing.
type spell struct {
	Range
	pain, lost bool // some day of it is one of pain, or recorded as lost
}

// spells lists the season's spells, with the days that the record tells of.
func (s *Season) spells(h *History) (out []spell) {
	for d := s.From; d <= s.To; d++ {
		if !s.Idle(d, h) {
			continue
		}
		note := h.Days[d]
		if n := len(out); n == 0 || out[n-1].To+1 < d {
			out = append(out, spell{Range: Range{d, d}})
		}
		p := &out[len(out)-1]
		p.To, p.pain, p.lost = d, p.pain || note == Stopped, p.lost || note == Lost
	}
	return out
}

// Idle tells whether a date belongs to a spell: it is off, or lost or of pain by the record, which may be nil.
func (s *Season) Idle(d Date, h *History) bool {
	return h != nil && (h.Days[d] == Stopped || h.Days[d] == Lost) || s.restsOn(d)
}

const (
	WeeksBefore = 4 // a spell, by which what is usual is measured
	KnownDays   = 5 // least days of playing among them
)

// before gives what was usual and the fullest day of the weeks before a spell, by
// what is known of them; where that is little, by what stood planned after it, too.
func (s *Season) before(p Range, h *History) (usual, fullest Minutes, known bool) {
	d := p.From
	var sum Minutes
	days := 0
	count := func(all Minutes) {
		if all > 0 {
			sum, days, fullest = sum+all, days+1, max(fullest, all)
		}
	}
	for day := max(s.From, d-7*WeeksBefore); day < min(d, h.Today); day++ {
		count(s.playedOn(day, h.Played[day]))
	}
	if days < KnownDays {
		for day := p.To + 1; day <= p.To+7*WeeksBefore; day++ {
			if stood, ok := h.Stood[day]; ok && s.Holds(day) {
				count(s.playedOn(day, stood))
			}
		}
	}
	if days < KnownDays {
		return s.Limits.Playing.On(d), s.Limits.Playing.On(d), false
	}
	return sum / Minutes(days), fullest, true
}

// easeIn writes into the limits what spells ask of the days after them.
func (s *Season) easeIn(h *History) {
	l := &s.Limits
	var lights []Dated[Minutes]
	l.Lights, l.Backs = nil, nil
	for _, p := range s.spells(h) {
		if p.From > h.Today && !p.pain && !p.lost {
			continue // what will have been usual before it is not known yet
		}
		usual, fullest, known := s.before(p.Range, h)
		n := p.Days()
		switch back := (Back{Last: p.To, From: p.To + 1, Full: fullest}); {
		case p.pain:
			back.Pain = true
			back.From += Date(l.LightDays)
			back.Level = l.WarmUp + max(0, usual-l.WarmUp)*Minutes(l.Light)/100
			back.Weeks = s.weeksOf(back, h)
			l.Backs = append(l.Backs, back)
			for d := p.To + 1; d < back.From; d++ {
				lights = append(lights, Dated[Minutes]{Range{d, d}, s.lightOn(d, usual, h)})
			}
		case l.Return.After > 0 && (p.lost && l.Return.Ill > 0 && n >= l.Return.Ill || known && n >= l.Return.After):
			back.Level = usual * Minutes(l.Return.First) / 100
			back.Weeks = s.weeksOf(back, h)
			l.Backs = append(l.Backs, back)
		}
	}
	l.Lights = lights
}

// lightOn gives the most planned playing of a light day, beside the ways back of
// earlier spells.
func (s *Season) lightOn(d Date, usual Minutes, h *History) Minutes {
	r := s.RoomOn(d)
	most := min(r.Beside, max(0, usual-r.Services-r.WarmUp))
	if stood, ok := h.Stood[d]; ok {
		most = min(most, stood)
	}
	return most * Minutes(s.Limits.Light) / 100
}

// lightenedOn gives the most planned playing of a date that is light, the least
// where several spells have it so.
func (l *Limits) lightenedOn(d Date) (most Minutes, ok bool) {
	for _, x := range l.Lights {
		if x.Range.Holds(d) && (!ok || x.Value < most) {
			most, ok = x.Value, true
		}
	}
	return most, ok
}
