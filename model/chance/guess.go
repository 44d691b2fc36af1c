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
// (a beta prior and a binomial record) and model.History.Spread for the work.
// Days known beforehand to be lost are days off in the season and count for
// nothing here. The history may be nil.
func GuessOf(s *model.Season, h *model.History) Guess {
	g := Guess{Lost: float64(priorLost) / priorDays, Kinds: map[model.Effort]model.Spread{}}
	if h != nil {
		lost, days := 0, max(0, int(min(h.Today, s.To+1)-s.From))
		for d, note := range h.Days {
			if note == model.Lost && s.Holds(d) && d < h.Today {
				lost++
			}
		}
		g.Lost = float64(priorLost+lost) / float64(priorDays+days)
	}
	for _, e := range model.Efforts() {
		g.Kinds[e] = h.Spread(e)
	}
	return g
}
