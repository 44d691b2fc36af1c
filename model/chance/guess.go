package chance

import "primaprova/model"

// Guess is what may go wrong, in numbers.
type Guess struct {
	Lost  float64 // chance that a day is lost
	Kinds map[model.Effort]model.Spread
}

// A day in thirty is lost before anything is known, and that counts for as much
// as sixty days of the record. Common practice, no source.
const (
	priorLost = 2
	priorDays = 60
)

// GuessOf takes the guess from what the record says, as far as that goes:
//
//	lost = (2 + days lost) / (60 + days gone by)
//
// (a beta prior and a binomial record) and model.Learnt.Spread for the work.
// Days known beforehand to be lost are days off in the season and count for
// nothing here. The history may be nil.
func GuessOf(s *model.Season, h *model.History) Guess {
	g := Guess{Lost: float64(priorLost) / priorDays, Kinds: map[model.Effort]model.Spread{}}
	learnt := model.Learnt(nil)
	if h != nil {
		learnt = h.Learnt
		lost, days := 0, max(0, int(min(h.Today, s.To+1)-s.From))
		for d, note := range h.Days {
			if note == model.Lost && s.Holds(d) && d < h.Today {
				lost++
			}
		}
		g.Lost = float64(priorLost+lost) / float64(priorDays+days)
	}
	for _, e := range model.Efforts() {
		k := learnt.Spread(e)
		if _, counts := learnt.Ratio(e); counts && h.Scaled {
			// What lies ahead is planned with the ratio: the minutes are right in
			// the mean, and only the doubt is left.
			k.Ratio /= k.Mean
			k.Mean = 1
		}
		g.Kinds[e] = k
	}
	return g
}
