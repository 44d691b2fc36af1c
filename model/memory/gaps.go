package memory

import (
	"slices"

	"primaprova/model"
)

// Enough is how many checks are recorded before a player is told what they say.
// Common practice, no source; the chances themselves are shrunk from the first on.
const Enough = 30

// Target is the chance with which a passage should still hold at the end of a gap.
// Common practice, no source.
const Target = 0.8

// Most gives the longest gap that research on spacing speaks for where the last
// visit lies so many days before the test: 40 % of them where those are a week (20
// to 40 % there, 5 to 10 % at a year: Cepeda et al., Psychological Science 19,
// 1095-1102, 2008, abstract), but a night at least.
func Most(interval int) int { return max(1, 2*interval/5) }

// Gaps gives the preferred gaps after the first visit, the second and so on, one
// fewer than visits: the longest at which a passage of any difficulty still holds
// with the target chance, a night at least, never beyond Most, and never shorter
// than the gap before.
func (c *Curve) Gaps(visits, interval int, target float64) []int {
	var out []int
	gap := 1
	for n := 1; n < visits; n++ {
		for gap < Most(interval) && c.least(n, gap+1) >= target {
			gap++
		}
		out = append(out, gap)
	}
	return out
}

// Interval gives the days from the last visit to the first rehearsal that habits leave:
// halfway between the least and the most that cost nothing. It is no plan's own, so
// that gaps which are taken over speak for themselves the next day too.
func Interval(h *model.Habits) int { return (h.ReadyDays + h.FreshDays) / 2 }

// Preferred gives the gaps with the target chance as a season's habits can take them,
// none shorter than its least gap, beside those that the habits have now, as many as
// there are visits between or least gaps.
func (c *Curve) Preferred(h *model.Habits) (gaps, now []int) {
	gaps = c.Gaps(1+max(slices.Max(h.Visits[:])-1, len(h.LeastGaps)), Interval(h), Target)
	for k := range gaps {
		least, preferred := h.Gap(&model.Passage{}, k)
		gaps[k], now = max(gaps[k], least), append(now, preferred)
	}
	return gaps, now
}

// least gives the chance of the difficulty that holds least.
func (c *Curve) least(visits, gap int) float64 {
	p := 1.0
	for h := 1; h <= 3; h++ {
		p = min(p, c.Holds(Case{Hard: h, Visits: visits, Gap: gap}))
	}
	return p
}
