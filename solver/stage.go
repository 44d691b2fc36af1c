package solver

import "primaprova/model"

// stage says how a wish is worked at.
type stage struct {
	goal    model.Wish
	by      charge  // what proposals charge
	heat    float64 // at the beginning, in units of the goal
	cold    float64 // at the end
	reframe int     // share of the moves that take whole parts out, in percent
	nudge   int     // share of the moves that move a frame a little, in percent
}

// stages of the work, by goal. The charges of the wishes after the goal are so
// small that they only choose between equals, or near equals while it is hot;
// those of the wishes before it are what giving up a little of them would be
// worth, so that the goal is looked for where they are not wasted.
var stageOf = [5]stage{
	model.Coverage:  {model.Coverage, charge{weights{coverage: 1e3, ready: 10, closeness: 1, spacing: 0.01}, 0.05}, 3, 0.5, 40, 10},
	model.ReadyBy:   {model.ReadyBy, charge{weights{coverage: 1e4, ready: 100, closeness: 1, spacing: 0.01}, 0.05}, 3, 0.2, 10, 30},
	model.Closeness: {model.Closeness, charge{weights{coverage: 1e6, ready: 1e4, closeness: 10, spacing: 0.05}, 0.1}, 1, 0.1, 10, 20},
	model.Body:      {model.Body, charge{weights{coverage: 1e6, ready: 1e4, closeness: 1e2, spacing: 0.1}, 1}, 6, 0.3, 2, 25},
	model.Spacing:   {model.Spacing, charge{weights{coverage: 1e6, ready: 1e4, closeness: 1e2, spacing: 1}, 3}, 1.5, 0.1, 2, 25},
}

// mending is the stage that brings a state under limits on the wishes before
// spacing. It stays cold: what a dive reached is far better than what moves
// come to rest at when they begin hot.
var mending = stage{model.Spacing, charge{weights{coverage: 1e6, ready: 1e4, closeness: 1e2, spacing: 1}, 3}, 0.3, 0.02, 2, 25}
