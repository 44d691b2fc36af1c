package model

import (
	"cmp"
	"slices"
)

// Dates gives what a part is prepared for, by date, one service each: the first
// rehearsal or lesson in which it is played, and every service after it. Where
// none is rehearsed it is all its services: a concert alone, a recital, an
// audition. Services that are missed are none of them, unless all are. An empty
// part stands for all of the programme.
func (p *Programme) Dates(part string) []Service {
	var own []Service
	for i := range p.Services {
		if part == "" || p.Services[i].plays(part) {
			own = append(own, p.Services[i])
		}
	}
	if missed := func(v Service) bool { return v.Missed }; slices.ContainsFunc(own, func(v Service) bool { return !v.Missed }) {
		own = slices.DeleteFunc(own, missed)
	}
	slices.SortStableFunc(own, func(a, b Service) int {
		return (int(a.Date)-int(b.Date))*24*60 + int(a.Start) - int(b.Start)
	})
	if first := slices.IndexFunc(own, func(v Service) bool { return v.Kind.Rehearses() }); first > 0 {
		own = own[first:]
	}
	return slices.CompactFunc(own, func(a, b Service) bool { return a.Date == b.Date })
}

// plays tells whether a part is played in a service.
func (s *Service) plays(part string) bool { return len(s.Works) == 0 || slices.Contains(s.Works, part) }

// due is what decides for which of its dates a part and its passages are
// prepared. It goes by days, and but for the read-through never by the room on them,
// least of all by what else is planned there: what finds no room is left out, and
// wanted for a later date once its own has come.
//
//	part       the first date after its arrival before which a day is left to play on,
//	           one that leaves room for its read-through if any does before any date
//	passage    the first date, from the part's on, before which all its visits have
//	           their days, a night between; where no date is late enough for all, the
//	           first of those before which most have
//
// A passage is ready by, and fresh at, the first date before which one of its
// visits has a day: so that what goes on beyond a date is done before it as far as
// it can be. Every day after that costs as ever (the wish ready-by), so a later
// date is worth less than an earlier one. A date of its own that the player gives
// a passage holds until it has come.
//
// Nothing in it depends on how far the days have gone, but for the dates that have
// come: a plan that is kept to is not unsettled by its being kept to.
type due struct {
	s     *Season
	today Date
	dates []Service
}

// part gives the date for which the part is read, the last where none is left.
func (u *due) part(part *Part) Date {
	from, after, plays := max(part.Arrives, u.s.From), Date(0), Date(0)
	for i := range u.dates {
		d := u.dates[i].Date
		if d <= from {
			continue
		}
		for day := u.played(from, d-1); day != 0; day = u.played(day+1, d-1) {
			if u.s.leaves(day) >= part.ReadThrough {
				return d
			}
			plays = cmp.Or(plays, d)
		}
		after = cmp.Or(after, d)
	}
	if after == 0 && len(u.dates) > 0 {
		after = u.dates[len(u.dates)-1].Date
	}
	return cmp.Or(plays, after)
}

// played gives the first day of a range on which there may be playing, 0 where
// there is none.
func (u *due) played(from, to Date) Date {
	for d := from; d <= min(to, u.s.To); d++ {
		if !u.s.Limits.RestOn(d) {
			return d
		}
	}
	return 0
}

// passage decides the passage's deadline, its ready-by and fresh days, and the
// gaps of its visits.
func (u *due) passage(w *PartWork, p *PassageWork) {
	from, next := u.first(w, p), 0 // the day from which the visits from next on are reckoned
	dates := u.ahead(w, p, 0)
	for {
		ready, whole := Date(0), Date(0)
		most := 0
		for _, d := range dates {
			n := u.visits(p, next, from, d)
			if n > 0 && ready == 0 {
				ready = d
			}
			if n > most {
				most, whole = n, d
			}
		}
		switch {
		case whole == 0:
			if len(dates) == 0 {
				dates = []Date{w.Due}
			}
			p.set(u.s, w.Part, dates[0], dates[0])
			p.Over = w.Due <= u.today
			return
		case whole > u.today:
			p.set(u.s, w.Part, whole, ready)
			u.shorten(w.Part, p, next, from)
			return
		}
		// It has come: what was not done by then is for a later one.
		next, from = 0, max(whole, w.Read+1)
		for next < len(p.Done) && p.Done[next] < whole {
			next++
		}
		if next > 0 {
			from = max(whole, p.Done[next-1]+Date(u.night(p, next)))
		}
		dates = u.ahead(w, p, whole)
	}
}

// ahead gives the dates after one for which a passage may be prepared: its own
// until that has come, then those of its part.
func (u *due) ahead(w *PartWork, p *PassageWork, after Date) (out []Date) {
	if p.Passage.Due > after && after == 0 {
		return []Date{p.Passage.Due}
	}
	if n := len(u.dates); w.Part.ComesBack && n > 0 { // kept until the last
		if last := u.dates[n-1].Date; last > after {
			out = []Date{last}
		}
		return out
	}
	for i := range u.dates {
		if d := u.dates[i].Date; d >= w.Due && d > after {
			out = append(out, d)
		}
	}
	return out
}

func (p *PassageWork) set(s *Season, part *Part, deadline, ready Date) {
	p.Deadline = min(deadline, s.To+1)
	p.Ready = min(ready, s.To+1) - Date(s.ReadyDays(part))
	p.Fresh = min(ready, s.To+1) - Date(s.Habits.FreshDays)
}

// first gives the first day on which the passage's first visit may lie: after the
// read-through at its earliest, after it was found.
func (u *due) first(w *PartWork, p *PassageWork) Date {
	read := u.played(w.Window.From, w.Window.To)
	if read == 0 {
		read = w.Window.To // there is no day for it
	}
	if p.Passage.Found != 0 {
		return max(read, p.Passage.Found) + 1
	}
	return read + 1
}

// night gives the least gap before visit k, counted from 0, as short as it may be.
func (u *due) night(p *PassageWork, k int) int {
	switch {
	case k >= len(p.Recipe):
		return 0
	case u.s.Habits.ShortGaps:
		return min(p.Recipe[k].Least, 1)
	}
	return p.Recipe[k].Least
}

// visits counts the visits from one on that have a day from a day on and before a
// date, each as early as it goes.
func (u *due) visits(p *PassageWork, next int, at, before Date) (n int) {
	for k := next; k < len(p.Recipe); k++ {
		at = u.played(at, before-1)
		for k == 0 && at != 0 && !u.s.newOn(at) {
			at = u.played(at+1, before-1)
		}
		if at == 0 {
			return n
		}
		n++
		at += Date(u.night(p, k+1))
	}
	return n
}

// newOn tells whether a day may hold a first visit.
func (s *Season) newOn(d Date) bool {
	return s.Limits.NewOnConcerts || !anyConcert(s.ServicesOn(d))
}

// shorten lowers the least gaps of the visits from one on where the time is short:
// while their sum is more than the days from the visit before, or from the day of
// the first, to the deadline's ready-by date, the longest is a day shorter, of
// equals the latest; a night always lies between. With gaps of 1 to 4 days a passage that
// is checked 5 to 14 days before it is played lies where gaps were tested best,
// some 20 % of the days from the last visit to the test (Cepeda et al. 2008).
// Whether gaps grow or are even makes next to no difference (Latimier, Peyre and
// Ramus 2021).
func (u *due) shorten(part *Part, p *PassageWork, next int, from Date) {
	if !u.s.Habits.ShortGaps {
		return
	}
	first := max(1, next)
	if next > 0 {
		from = p.Done[next-1]
	}
	left := int(p.Deadline-from) - u.s.ReadyDays(part)
	sum := 0
	for k := first; k < len(p.Recipe); k++ {
		sum += p.Recipe[k].Least
	}
	for ; sum > left; sum-- {
		longest := -1
		for k := first; k < len(p.Recipe); k++ {
			if least := p.Recipe[k].Least; least > 1 && (longest < 0 || least >= p.Recipe[longest].Least) {
				longest = k
			}
		}
		if longest < 0 {
			return
		}
		p.Recipe[longest].Least--
	}
}
