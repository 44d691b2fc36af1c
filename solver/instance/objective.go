package instance

import (
	"math"

	"primaprova/model"
)

// Objective is what a linear program minimises: the wishes weighed, under limits on
// some of them.
type Objective struct {
	Weight [5]float64 // weight of each wish
	Limit  [5]float64 // most of each wish; +Inf: no limit
}

// Unlimited is no limit on any wish.
var Unlimited = [5]float64{Inf, Inf, Inf, Inf, Inf}

// Constrained minimises one wish and holds those before it at their limits.
func Constrained(goal model.Wish, limits [5]float64) Objective {
	a := Objective{Limit: limits}
	a.Weight[goal] = 1
	for j := goal; int(j) < len(a.Limit); j++ {
		a.Limit[j] = Inf
	}
	return a
}

// ConstrainedBy is wishAim with what a score has as the limits.
func ConstrainedBy(goal model.Wish, limit Score) Objective {
	return Constrained(goal, [5]float64(limit.Measures()))
}

// Cost weighs a score; body is charged by the rows of the strain.
func (a *Objective) Cost(s Score) float64 {
	sum := 0.0
	for j, v := range s {
		if model.Wish(j) != model.Body {
			sum += a.Weight[j] * float64(v)
		}
	}
	return sum
}

// Whole weighs a score with its body, in minutes.
func (a *Objective) Whole(s Score) float64 {
	return a.Cost(s) + a.Weight[model.Body]*float64(s[model.Body])/100
}

// Forbids tells whether a wish may cost nothing at all, so that a column that
// costs something in it is out.
func (a *Objective) Forbids(j int) bool { return a.Limit[j] == 0 && model.Wish(j) != model.Body }

// Most is a column's upper bound: none, or 0 where it is out.
func (a *Objective) Most(s Score) float64 {
	for j, v := range s {
		if v > 0 && a.Forbids(j) {
			return 0
		}
	}
	return Inf
}

var Inf = math.Inf(1)

// WeightedSum minimises body and spacing together, a minute of body weighing so
// many days; the wishes before them weigh as good as everything.
func WeightedSum(body float64) Objective {
	a := Objective{Limit: Unlimited}
	a.Weight = [5]float64{model.Coverage: 10000, model.ReadyBy: 1000, model.Closeness: 10, model.Body: body, model.Spacing: 1}
	return a
}

// Trade is how many days of spacing a minute of body weighs where frames are
// chosen: about what the two cost each other at the best plans.
const Trade = 1

// Traded gives body and spacing in one figure, in hundredths of a day.
func Traded(s Score) int64 { return Trade*s[model.Body] + 100*s[model.Spacing] }
