package model

import "slices"

// Return is how the cap comes back after time off: a first day, then more each
// day, held for the rest of the week.
type Return struct {
	After int     // days off running after which the cap comes back slowly; 0: it never does
	Ill   int     // recorded lost days running after which it does, too; 0: as many as After
	First int     // the first day's share of what was usual, or of the cap, in percent
	Rise  Minutes // rise of the cap from day to day
}

// returnDays is the number of days of a week on which the cap rises; on the
// others it is held.
const returnDays = 3

// DefaultReturn gives the return of a player who set none.
//
// Sources: Rise and the days on which it rises - British Association for
// Performing Arts Medicine, health tips (at most ten minutes more a day for
// three days, then hold for the rest of the week); it is guidance for building
// up, not a safe dose. How long a pause asks for it, and how low to begin, is
// common practice, no source.
func DefaultReturn() Return { return Return{After: 14, Ill: 3, First: 50, Rise: 10} }

// returnWeeks is how long after time off a cap may still be on its way back.
const returnWeeks = 8

// returning gives the most playing of a date after time off, illness or pain,
// and whether there was any in the weeks before. Where the record tells what was
// usual before, that is what the way back goes by (Back); else the first day's
// share is of the date's own cap.
//
// Days off with services that are played are no time off: who plays is not away, and
// a service on a day off may as well be one that was forgotten. Nobody is made to say
// so twice: what is excused, or missed by the record, is not played, and what is
// neither is asked about (validator.played). Nor is a day or two inside those weeks
// time off. What was before the season is not known, and taken for ordinary.
func (s *Season) returning(d Date) (most Minutes, back bool) {
	t, l := s.Limits.Return, &s.Limits
	if s.restsOn(d) {
		return 0, false
	}
	told := map[Date]bool{}
	for _, b := range l.Backs {
		told[b.Last] = true
		if m, on := b.most(d, t.Rise); on && (!back || m < most) {
			most, back = m, true
		}
	}
	if t.After <= 0 {
		return most, back
	}
	for day, run := d-1, 0; day > d-7*returnWeeks-Date(t.After); day-- {
		if run++; !s.restsOn(day) {
			run = 0
		}
		if run < t.After {
			continue
		}
		last := day + Date(t.After) - 1
		if told[last] {
			break
		}
		m := l.Playing.On(d)*Minutes(t.First)/100 + t.Rise*Minutes(risen(int(d-last)-1))
		if !back || m < most {
			most, back = m, true
		}
		break
	}
	return most, back
}

// restsOn tells whether a date is a day off on which no service was played: a
// day that is lost, by illness for example, has services that were missed, and one
// from which the player is excused is none.
func (s *Season) restsOn(d Date) bool {
	played := slices.ContainsFunc(s.ServicesOn(d), func(v Service) bool { return !v.Missed })
	return s.Holds(d) && s.Limits.OffOn(d) && (!played || inAny(s.Limits.Away, d))
}

// A list of excerpts comes back. What is learnt weeks or months before it is asked for
// is taken up again after ever longer gaps, each twice the one before, until the days
// are through: short visits, the last of them near the date. Tests of gaps that grow
// against even ones found next to no difference at the end (Latimier, Peyre and Ramus
// 2021), but that growing ones keep more alive meanwhile (Kang, Lindsey, Mozer and
// Pashler, Psychonomic Bulletin & Review, 2014), with fewer visits than even gaps as
// short as the first. That they double is common practice, no source.

// span gives the days over which the visits of a passage that comes back lie at the most,
// from the day after its part's first to the ready-by date of the part's last; 0 where
// it does not come back.
func (s *Season) span(p *Programme, part *Part, q *Passage) int {
	if !part.ComesBack {
		return 0
	}
	last := q.Due
	for i := range p.Services {
		if v := &p.Services[i]; q.Due == 0 && v.plays(part.ID) {
			last = max(last, v.Date)
		}
	}
	return max(0, int(min(last, s.To+1)-max(part.Arrives, s.From, q.Found)-1)-s.ReadyDays(part))
}

// comeBack goes on with a recipe over so many days. Its lengths are those of an upkeep,
// or of the last visit where there is none.
func (s *Season) comeBack(q *Passage, recipe []Visit, span int) []Visit {
	h := &s.Habits
	n := len(recipe)
	if span == 0 || n == 0 {
		return recipe
	}
	minutes := recipe[n-1].Minutes
	if h.Upkeep > 0 {
		minutes = deal([]int{100 * int(h.Upkeep)}, h.Step)[0]
	}
	weight := q.Hard
	if q.Exposed {
		weight += h.ExposedWeight
	}
	from, gap := 0, at(h.PreferredGaps, 0)
	for k := 1; k < n; k++ {
		gap = recipe[k].Preferred
		from += gap
	}
	for len(recipe) < mostVisits && span-from >= max(1, gap) {
		next := min(2*max(1, gap), span-from)
		least := max(1, next/2)
		if q.Daily {
			least = 1
		}
		recipe = append(recipe, Visit{Minutes: minutes, Least: least, Preferred: next, Value: worth(weight*at(h.VisitValues, len(recipe)), minutes)})
		from, gap = from+next, next
	}
	return recipe
}
