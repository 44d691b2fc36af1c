package solver

import (
	"slices"

	"primaprova/model"
)

// happen lets a few days pass: a plan made at random stands, most of what it
// planned was done, and the rest is to be planned again.
func (c *tiny) happen(roll die) {
	s := c.season
	st := randomState(build(s, nil, nil), roll)
	c.standing = st.assemble(nil, nil)
	if roll.once(4) {
		return // a standing plan without a record
	}
	h := &model.History{Today: s.From + model.Date(roll(s.Days()-1)), Stages: map[string]model.Date{}, Visits: map[string][]model.Date{},
		Dropped: map[string]bool{}, Again: map[string]int{}, Played: map[model.Date]model.Minutes{}}
	c.history = h
	last := h.Today
	if roll.once(3) {
		last++ // today's work may be done already
	}
	missed := map[string]bool{}
	for _, v := range c.standing.Sessions {
		if v.Date >= last || v.Stage == model.WarmUpStage {
			continue
		}
		if v.Passage == nil {
			if !roll.once(4) {
				h.Stages[v.ID] = v.Date
			}
		} else if missed[*v.Passage] = missed[*v.Passage] || roll.once(4); !missed[*v.Passage] {
			h.Visits[*v.Passage] = append(h.Visits[*v.Passage], v.Date)
		}
		if v.Playing && v.Date < h.Today {
			h.Played[v.Date] += v.Minutes + model.Minutes(roll(3))
		}
	}
	for i := range s.Programmes {
		for _, q := range s.Programmes[i].Parts[0].Passages {
			name := model.PassageName(model.PartName(s.Programmes[i].ID, "w"), q.ID)
			if n := len(h.Visits[name]); n > 0 && roll.once(4) {
				h.Again[name] = roll.between(1, n)
			}
			if roll.once(10) {
				h.Dropped[name] = true
			}
		}
	}
}

// pin pins a session or two to any days, possible ones or not.
func (c *tiny) pin(roll die) {
	wanted := c.season.Wanted(c.history)
	for range roll(3) {
		if len(wanted) == 0 || !roll.once(2) {
			return
		}
		id := wanted[roll(len(wanted))].ID
		if !slices.ContainsFunc(c.season.Pins, func(p model.Pin) bool { return p.Session == id }) {
			c.season.Pins = append(c.season.Pins, model.Pin{Session: id, Date: c.season.From + model.Date(roll(c.season.Days()))})
		}
	}
}

// randomState places what fits, in random frames on random days: a plan that
// keeps the rules and wishes for nothing.
func randomState(p *problem, roll die) *state {
	s := newState(p)
	for i := range p.parts {
		q := &p.parts[i]
		f := s.frames[i]
		day := func(n, minutes, lo int, fits func(d, m int) bool) int16 {
			var may []int
			for d := lo; d <= q.winHi && minutes > 0; d++ {
				if (q.pin[n] == none || q.pin[n] == d) && fits(d, minutes) {
					may = append(may, d)
				}
			}
			if len(may) == 0 || roll.once(8) {
				return none
			}
			return int16(may[roll(min(3, len(may)))])
		}
		if !q.readDone {
			f.listen = day(0, q.listen, q.winLo, s.listenable)
			s.setFrame(i, f)
			if f.listen != none || q.listen == 0 {
				f.read = day(1, q.read, max(q.winLo, int(f.listen)), s.playable)
				s.setFrame(i, f)
			}
		}
		if f.read != none {
			f.rec = day(2, q.rec, max(q.recLo, int(f.read)+1), s.listenable)
			from := max(q.lo-1, int(f.read))
			f.phi = int16(min(max(from, q.hi), from+roll(6)))
			s.setFrame(i, f)
		}
		for k := q.first; k < q.last; k++ {
			s.placeAtRandom(k, roll)
		}
	}
	return s
}

func (s *state) placeAtRandom(i int, roll die) {
	p, q := s.p, &s.p.passages[i]
	f := s.frames[q.part]
	if f.read == none && q.done == 0 || roll.once(9) {
		return
	}
	var days []int16
	last := q.since
	for k := range q.visits {
		v := &q.visits[k]
		lo := q.lo
		switch {
		case k > 0 || q.done > 0:
			lo = max(lo, last+v.least)
		case f.read >= 0:
			lo = max(lo, int(f.read)+1)
		}
		hi := q.hi
		if k == 0 && q.inRound {
			hi = min(hi, int(f.phi))
		}
		if k == q.third && f.phi != none {
			lo = max(lo, int(f.phi)+1)
		}
		var may []int
		for d := lo; d <= hi; d++ {
			if v.may(d) && s.visits[d] < p.room[d].visits && s.playable(d, v.minutes) {
				may = append(may, d)
			}
		}
		if len(may) == 0 || roll.once(9) {
			break
		}
		last = may[roll(min(4, len(may)))]
		days = append(days, int16(last))
	}
	if len(days) > 0 {
		s.place(i, days)
	}
}
