package solver

import "primaprova/model"

// neighbourhoods are what a plan is bettered by, a stretch of it at a time.
type neighbourhoods struct {
	p   *problem
	o   *Options
	met func(goal model.Wish, now score) bool // whether a plan that costs so much can't be bettered in a wish
}
