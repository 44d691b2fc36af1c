package construct

import (
	"primaprova/model"
	"primaprova/solver/instance"
)

// schedule says how a wish is worked at.
type schedule struct {
	goal    model.Wish
	by      instance.Charge // what proposals charge
	heat    float64         // at the beginning, in units of the goal
	cold    float64         // at the end
	reframe int             // share of the moves that take whole parts out, in percent
	nudge   int             // share of the moves that move a frame a little, in percent
}

// stages of the work, by goal. The charges of the wishes after the goal are so
// small that they only choose between equals, or near equals while it is hot;
// those of the wishes before it are what giving up a little of them would be
// worth, so that the goal is looked for where they are not wasted.
var schedules = [5]schedule{
	model.Coverage:  {model.Coverage, instance.Charge{Weights: instance.Weights{Coverage: 1e3, Ready: 10, Closeness: 1, Spacing: 0.01}, Body: 0.05}, 3, 0.5, 40, 10},
	model.ReadyBy:   {model.ReadyBy, instance.Charge{Weights: instance.Weights{Coverage: 1e4, Ready: 100, Closeness: 1, Spacing: 0.01}, Body: 0.05}, 3, 0.2, 10, 30},
	model.Closeness: {model.Closeness, instance.Charge{Weights: instance.Weights{Coverage: 1e6, Ready: 1e4, Closeness: 10, Spacing: 0.05}, Body: 0.1}, 1, 0.1, 10, 20},
	model.Body:      {model.Body, instance.Charge{Weights: instance.Weights{Coverage: 1e6, Ready: 1e4, Closeness: 1e2, Spacing: 0.1}, Body: 1}, 6, 0.3, 2, 25},
	model.Spacing:   {model.Spacing, instance.Charge{Weights: instance.Weights{Coverage: 1e6, Ready: 1e4, Closeness: 1e2, Spacing: 1}, Body: 3}, 1.5, 0.1, 2, 25},
}

// mending is the stage that brings a solution under limits on the wishes before
// spacing. It stays cold: what a dive reached is far better than what moves
// come to rest at when they begin hot.
var mending = schedule{model.Spacing, instance.Charge{Weights: instance.Weights{Coverage: 1e6, Ready: 1e4, Closeness: 1e2, Spacing: 1}, Body: 3}, 0.3, 0.02, 2, 25}
