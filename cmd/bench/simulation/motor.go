package simulation

import (
	"math"

	"primaprova/model"
)

// Parameters of the second memory; the package comment has their source.
const (
	unlearnt     = 0.2   // share of a gain that the visits before the check leave open, no night lost
	enough       = 0.675 // part of the whole gain that a passage needs to hold at tempo, on average
	needs        = 0.06  // standard deviation of that between passages
	ofTheDay     = 0.03  // scale of the logistic by which one day is better than another
	halfAccuracy = 195.  // days in which half of a gain is lost: 6.5 months of accuracy,
	halfSpeed    = 395.  // 13 of speed
)

// motor gives the chance that a passage holds on a day by its skill: the second
// memory of the package comment. Its recipe has so many visits; visits of the day
// itself do not count.
func (w World) motor(passage string, recipe int, visits []model.Date, on model.Date) float64 {
	r := w.luck("motor " + passage)
	half := halfAccuracy * math.Pow(halfSpeed/halfAccuracy, r.Float64())
	need := enough + needs*r.NormFloat64()
	left := func(days model.Date) float64 { return math.Exp2(-float64(days) / half) }
	each := 1 - math.Pow(unlearnt, 1/float64(max(1, recipe-1)))
	gain, last := 0.0, on
	for _, day := range visits {
		if day >= on {
			break
		}
		gain *= left(max(0, day-last))
		gain += (1 - gain) * each
		last = day
	}
	if gain == 0 {
		return 0
	}
	return 1 / (1 + math.Exp((need-gain*left(on-last))/ofTheDay))
}
