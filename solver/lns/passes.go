package lns

import (
	"context"
	"math"

	"primaprova/model"
	"primaprova/solver/instance"
)

// windowSize is how many passages a window frees, as a rule.
const windowSize = 60

// WindowPasses are the times that the season is gone through: over strips of how
// many days, 0 being whole passages, how many iterations each window's integer
// program gets, and how much chance there is in it. With a larger budget the last is
// gone through again and again.
var WindowPasses = [...]struct {
	days   int
	work   int64
	chance float64
}{{0, 2500, 0}, {21, 2500, 0}, {28, 5000, 0}, {21, 5000, 0}, {21, 2500, 0.02}}

// Sweep goes through the season once. What is done of it is told, and each solution that
// comes of it given to be taken, or not; limits may fall then.
func (nb *Search) Sweep(ctx context.Context, st *instance.Solution, a *instance.Objective, limit *instance.Score, pass int, told func(done float64), take func(*instance.Solution, *instance.Score) bool) error {
	by := WindowPasses[min(pass, len(WindowPasses)-1)]
	pieces := passageNeighbourhoods(nb.P, nb.P.ByRehearsal(), windowSize, pass)
	if by.days > 0 {
		pieces = dayNeighbourhoods(st, by.days, pass, nil)
	}
	begun, done := 0, 0
	step := math.Pow(tradeRange, 1/float64(len(pieces)))
	return nb.pipeline(ctx, st, pieces, func() subMIP {
		for j := range model.Body {
			a.Limit[j] = float64(limit[j])
		}
		told(float64(done) / float64(len(pieces)))
		begun++
		return subMIP{engine: nb.O.Engine, aim: *a, rounds: 30, gap: worthIt, work: by.work, chance: by.chance, salt: uint64(pass)<<32 + uint64(begun)}
	}, func() {
		done++
		take(st, limit)
		if st.Score()[model.Body] > limit[model.Body] {
			a.Weight[model.Body] *= step
		} else {
			a.Weight[model.Body] = max(leastTrade, a.Weight[model.Body]/step)
		}
	})
}

// tradeRange is by how much body's weight may rise, or fall, while the season is gone
// through once, little by little from one window to the next: as much in a long season
// as in a short one.
const tradeRange = 1.25

// leastTrade is what body weighs at least, where there is room to spend.
const leastTrade = 0.25 * instance.Trade
