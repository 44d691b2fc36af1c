package simulation

import (
	"math"

	"primaprova/model"
)

// Parameters of memory; the package comment has their source.
const (
	decayLeast  = 0.177         // a
	decayGrowth = 0.217         // c
	threshold   = -0.704        // τ
	noise       = 0.255         // s
	perDay      = 86400 * 0.025 // seconds that count of a day
	traces      = 4             // b
)

// retention gives the chance that a passage holds on a day, from the days of
// its visits so far, in order; visits of the day itself do not count.
func retention(visits []model.Date, on model.Date) float64 {
	decays := make([]float64, 0, len(visits))
	activation := func(at model.Date) float64 {
		sum := 0.0
		for i, d := range decays {
			sum += traces * math.Pow(perDay*float64(max(1, at-visits[i])), -d)
		}
		return sum // its logarithm is m
	}
	for _, day := range visits {
		if day >= on {
			break
		}
		decays = append(decays, decayGrowth*activation(day)+decayLeast)
	}
	m := math.Log(activation(on))
	return 1 / (1 + math.Exp((threshold-m)/noise))
}
