package model

// Return is how the cap comes back after time off: a first day, then more each
// day, held for the rest of the week.
type Return struct {
	After int     // days off running after which the cap comes back slowly; 0: it never does
	First int     // the first day's share of the cap, in percent
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
func DefaultReturn() Return { return Return{After: 14, First: 50, Rise: 10} }

// returnWeeks is how long after time off a cap may still be on its way back.
const returnWeeks = 8

// returning gives the most that the cap of a date may be after time off, and
// whether there was any in the weeks before. With F the first day's share of
// its cap, day n after it has
//
//	F + Rise·(3·⌊(n−1)/7⌋ + min(3, 1 + (n−1) mod 7))
//
// Days off with services are no time off, unless the record calls them lost; nor
// is a day or two inside those weeks. What was before the season is not known, and taken for ordinary.
func (s *Season) returning(d Date) (Minutes, bool) {
	t := s.Limits.Return
	if t.After <= 0 || s.restsOn(d) {
		return 0, false
	}
	for day, run := d-1, 0; day > d-7*returnWeeks-Date(t.After); day-- {
		if run++; !s.restsOn(day) {
			run = 0
		}
		if run < t.After {
			continue
		}
		most := s.Limits.Playing.On(d) * Minutes(t.First) / 100
		if n := int(d-day) - t.After; n > 0 {
			most += t.Rise * Minutes(returnDays*((n-1)/7)+min(returnDays, 1+(n-1)%7))
		}
		return most, true
	}
	return 0, false
}

// restsOn tells whether a date is a day off on which no service was played: a
// day that is lost, by illness for example, has services that were missed.
func (s *Season) restsOn(d Date) bool {
	return s.Holds(d) && s.Limits.OffOn(d) && (len(s.ServicesOn(d)) == 0 || inAny(s.Limits.Away, d))
}
