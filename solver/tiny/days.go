package tiny

import (
	"slices"

	"primaprova/model"
	"primaprova/solver/instance"
)

// happen lets a few days pass: a plan made at random stands, most of what it
// planned was done, and the rest is to be planned again.
func (c *Case) happen(roll Die) {
	s := c.Season
	st := RandomState(instance.New(s, nil, nil), roll)
	c.Standing = st.Assemble(nil, nil)
	if roll.Once(4) {
		return // a standing plan without a record
	}
	h := &model.History{Today: s.From + model.Date(roll(s.Days()-1)), Stages: map[string]model.Date{}, Visits: map[string][]model.Date{},
		Dropped: map[string]bool{}, Again: map[string]int{}, Played: map[model.Date]model.Minutes{}}
	c.History = h
	last := h.Today
	if roll.Once(3) {
		last++ // today's work may be done already
	}
	missed := map[string]bool{}
	for _, v := range c.Standing.Sessions {
		if v.Date >= last || v.Stage == model.WarmUpStage {
			continue
		}
		if v.Passage == nil {
			if !roll.Once(4) {
				h.Stages[v.ID] = v.Date
			}
		} else if missed[*v.Passage] = missed[*v.Passage] || roll.Once(4); !missed[*v.Passage] {
			h.Visits[*v.Passage] = append(h.Visits[*v.Passage], v.Date)
		}
		if v.Playing && v.Date < h.Today {
			h.Played[v.Date] += v.Minutes + model.Minutes(roll(3))
		}
	}
	for i := range s.Programmes {
		for _, q := range s.Programmes[i].Parts[0].Passages {
			name := model.PassageName(model.PartName(s.Programmes[i].ID, "w"), q.ID)
			if n := len(h.Visits[name]); n > 0 && roll.Once(4) {
				h.Again[name] = roll.Between(1, n)
			}
			if roll.Once(10) {
				h.Dropped[name] = true
			}
		}
	}
}

// pin pins a session or two to any days, possible ones or not.
func (c *Case) pin(roll Die) {
	wanted := c.Season.Wanted(c.History)
	for range roll(3) {
		if len(wanted) == 0 || !roll.Once(2) {
			return
		}
		id := wanted[roll(len(wanted))].ID
		if !slices.ContainsFunc(c.Season.Pins, func(p model.Pin) bool { return p.Session == id }) {
			c.Season.Pins = append(c.Season.Pins, model.Pin{Session: id, Date: c.Season.From + model.Date(roll(c.Season.Days()))})
		}
	}
}

// RandomState places what fits, in random frames on random days: a plan that
// keeps the rules and wishes for nothing.
func RandomState(p *instance.Instance, roll Die) *instance.Solution {
	s := instance.NewSolution(p)
	for i := range p.Parts {
		q := &p.Parts[i]
		f := s.Frames[i]
		day := func(n, minutes, lo, hi int, fits func(d, m int) bool) instance.Day {
			var may []int
			for d := lo; d <= hi && minutes > 0; d++ {
				if q.Allowed(n, d) && fits(d, minutes) {
					may = append(may, d)
				}
			}
			if len(may) == 0 || roll.Once(8) {
				return instance.None
			}
			return instance.Day(may[roll(min(3, len(may)))])
		}
		if !q.ReadDone {
			f.Listen = day(0, q.Listen, q.WinLo, q.WinHi, func(d, _ int) bool { return s.Hearable(q, d) })
			s.SetFrame(i, f)
			if f.Listen != instance.None || q.Listen == 0 {
				f.Read = day(1, q.Read, max(q.WinLo, int(f.Listen)), q.WinHi, s.Playable)
				s.SetFrame(i, f)
			}
		}
		if f.Read != instance.None {
			f.Rec = day(2, q.Rec, max(q.RecLo, int(f.Read)+1), q.RecHi, s.Listenable)
			from := max(q.Lo-1, int(f.Read))
			f.Phi = instance.Day(min(max(from, q.Hi), from+roll(6)))
			if f.Rec != instance.None {
				f.Phi = min(f.Phi, f.Rec-1)
			}
			s.SetFrame(i, f)
		}
		for k := q.First; k < q.Last; k++ {
			PlaceAtRandom(s, k, roll)
		}
	}
	return s
}

func PlaceAtRandom(s *instance.Solution, i int, roll Die) {
	p, q := s.P, &s.P.Passages[i]
	f := s.Frames[q.Part]
	if f.Read == instance.None && q.Done == 0 || roll.Once(9) {
		return
	}
	var days []instance.Day
	last := q.Since
	for k := range q.Visits {
		v := &q.Visits[k]
		lo := q.Lo
		switch {
		case k > 0 || q.Done > 0:
			lo = max(lo, last+v.Least)
		case f.Read >= 0:
			lo = max(lo, int(f.Read)+1)
		}
		hi := q.Hi
		if k == 0 && q.InRound {
			hi = min(hi, int(f.Phi))
		}
		if k == q.Third && f.Phi != instance.None {
			lo = max(lo, int(f.Phi)+1)
		}
		var may []int
		for d := lo; d <= hi; d++ {
			if v.May(d) && s.Visits[d] < p.Room[d].Visits && s.Playable(d, v.Minutes) {
				may = append(may, d)
			}
		}
		if len(may) == 0 || roll.Once(9) {
			break
		}
		last = may[roll(min(4, len(may)))]
		days = append(days, instance.Day(last))
	}
	if len(days) > 0 {
		s.Place(i, days)
	}
}
