package chance

import (
	"math"

	"primaprova/model"
	"primaprova/model/memory"
)

// Guess is what may go wrong, in numbers. The zero value of a field says that it
// does not, but for Kinds.
type Guess struct {
	Lost     float64 // chance that a day is lost
	Stays    float64 // chance that the day after a lost one is lost too; where less than Lost, that
	Kinds    map[model.Effort]model.Spread
	Memory   *memory.Curve // how surely checks hold; nil: they do
	Found    float64       // passages that a read-through finds, on average
	Late     float64       // chance that a part that is not there yet comes late
	LateDays float64       // days it is then late, on average; 1 or more
}

// What is supposed before the record says anything, and for how much it counts.
const (
	// A day in thirty is lost, and that counts for as much as sixty days.
	// In Britain 2.6 % of working hours were lost to sickness in 2022 (Office for
	// National Statistics, Sickness absence in the UK labour market, 2022; of all
	// work, by heart); travel comes on top. Common practice, no source.
	priorLost, priorDays = 2, 60
	// After a lost day the next is lost as often as not: two days a spell on
	// average. Counts for four lost days. Common practice, no source.
	priorStays, priorSpells = 0.5, 4
	// One read-through in three finds something: 0.4 passages on average. Counts
	// for five read-throughs. Common practice, no source.
	priorFound, priorReads = 0.4, 5
	// One part in twenty comes late, by four days on average. Common practice,
	// no source. No record tells it: the season file has the new date, not the old.
	priorLate, priorLateDays = 0.05, 4
)

// longer is what work takes of its estimate before the record says anything: own
// tasks take longer than people predict of them (Buehler, Griffin, Ross, J.
// Personality and Social Psychology 67, 366-381, 1994, abstract). By how much in
// practising nobody measured; a tenth is common practice, no source.
const longer = 1.1

// GuessOf takes the guess from what the record says, as far as that goes. Each
// figure is shrunk to what is supposed beforehand:
//
//	lost  = (2 + days lost) / (60 + days of which the record says something)
//	stays = (2 + lost days after a lost one) / (4 + lost days but the last)
//	found = (2 + passages found) / (5 + read-throughs)
//
// (beta priors and binomial records, a gamma prior and a Poisson one),
// model.Learnt.Spread for the work, its mean shrunk to 1.1 and not to 1, and
// memory.Fit for checks. A day on
// which the record is silent is no day without a loss: it counts for nothing, and
// so do sessions, checks and read-throughs that were only taken as done. Days
// known beforehand to be lost are days off in the season and count for nothing
// here. The history may be nil.
func GuessOf(s *model.Season, h *model.History) Guess {
	g := Guess{Lost: float64(priorLost) / priorDays, Stays: priorStays, Kinds: map[model.Effort]model.Spread{},
		Found: priorFound, Late: priorLate, LateDays: priorLateDays}
	var learnt model.Learnt
	var checks []model.Check
	if h != nil {
		learnt = h.Learnt
		g.days(s, h)
		checks = h.Checks
		g.finds(s, h)
	}
	g.Memory = memory.Fit(checks)
	for _, e := range model.Efforts() {
		k := learnt.Spread(e)
		// What the prior counts for is what is left of its doubt.
		k.Mean += (longer - 1) * min(1, k.Ratio*k.Ratio/doubt)
		g.Kinds[e] = k
	}
	return g
}

// doubt is the variance of a kind's share before the record says anything.
var doubt = math.Pow(model.Learnt(nil).Spread(model.Effort{Stage: model.ReadStage}).Ratio, 2)

// days learns how often days are lost, and how many in a row.
func (g *Guess) days(s *model.Season, h *model.History) {
	said, lost, followed, stayed := 0, 0, 0, 0
	gone := func(d model.Date) bool { return h.Days[d] == model.Lost && s.Holds(d) && d < h.Today }
	for d := range h.Said {
		if s.Holds(d) && d < h.Today {
			said++
		}
	}
	for d := range h.Days {
		if !gone(d) {
			continue
		}
		lost++
		if !h.Said[d] {
			said++
		}
		if d+1 < h.Today && s.Holds(d+1) {
			followed++
			if gone(d + 1) {
				stayed++
			}
		}
	}
	g.Lost = float64(priorLost+lost) / float64(priorDays+said)
	g.Stays = (priorStays*priorSpells + float64(stayed)) / float64(priorSpells+followed)
}

// finds learns how many passages a read-through finds, of the parts whose
// read-through is recorded. Parts with an estimate tell nothing: there what is
// found takes the place of what was estimated.
func (g *Guess) finds(s *model.Season, h *model.History) {
	reads, found := 0, 0
	for i := range s.Programmes {
		p := &s.Programmes[i]
		for j := range p.Parts {
			name := model.PartName(p.ID, p.Parts[j].ID)
			read := h.Stages[model.StageID(name, model.ReadStage)]
			if p.Parts[j].Estimate != 0 || read == 0 || !h.Said[read] {
				continue
			}
			reads++
			found += len(h.Found[name])
		}
	}
	g.Found = (priorFound*priorReads + float64(found)) / float64(priorReads+reads)
}
