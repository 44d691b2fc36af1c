// Package lns betters plans a stretch at a time: frames are searched, perturbed and recombined while
// passages are fractional; a dive makes them whole; then sub-MIPs fix all but a neighbourhood and
// optimise that. It proves nothing.
package lns

import (
	"context"
	"fmt"
	"math"

	"primaprova/model"
	"primaprova/solver/instance"
	"primaprova/solver/run"
)

// operators are those that a pass may name.
var operators = map[string]func(p *instance.Instance, size int) Operator{
	run.Passages: func(p *instance.Instance, size int) Operator { return Passages{p.ByRehearsal(), size} },
	run.Strips:   func(_ *instance.Instance, size int) Operator { return Strips{size} },
}

// Sweep goes through the season once. What is done of it is told, and each solution that
// comes of it given to be taken, or not; limits may fall then.
func (nb *Search) Sweep(ctx context.Context, st *instance.Solution, a *instance.Objective, limit *instance.Score, pass int, told func(done float64), take func(*instance.Solution, *instance.Score) bool) error {
	t := nb.O.Tuning()
	by := t.Passes[min(pass, len(t.Passes)-1)]
	make, known := operators[by.Operator]
	if !known {
		return fmt.Errorf("solver: pass %d: no operator is called %q", pass, by.Operator)
	}
	op := make(nb.P, by.Size)
	begun, done, of := 0, 0, len(op.Neighbourhoods(st, pass))
	step := math.Pow(t.TradeRange, 1/float64(of)) // as much in a long season as in a short one
	return nb.improve(ctx, st, op, pass, func() subMIP {
		for j := range model.Body {
			a.Limit[j] = float64(limit[j])
		}
		if a.Limit[model.Body] = instance.Inf; t.Short && st.Score()[model.Body] <= limit[model.Body] {
			a.Limit[model.Body] = float64(limit[model.Body]) // there are too few windows for one to win back what another spent
			a.Weight[model.Body] = t.TradeLeast * instance.Trade
		}
		told(float64(done) / float64(of))
		begun++
		return subMIP{phase: "sweep", engine: nb.O.Engine, aim: *a, rounds: t.SubRounds, gap: t.WorthIt, least: t.WorthIt, work: by.Iterations, chance: by.Noise, salt: uint64(pass)<<32 + uint64(begun)}
	}, func() {
		done++
		take(st, limit)
		if st.Score()[model.Body] > limit[model.Body] {
			a.Weight[model.Body] *= step
		} else {
			a.Weight[model.Body] = max(t.TradeLeast*instance.Trade, a.Weight[model.Body]/step)
		}
	})
}

// Search are what a plan is bettered by, a stretch of it at a time.
type Search struct {
	P   *instance.Instance
	O   *run.Options
	Met func(goal model.Wish, now instance.Score) bool // whether a plan that costs so much can't be bettered in a wish
}
