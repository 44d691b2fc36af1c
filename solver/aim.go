package solver

import (
	"math"

	"primaprova/model"
)

// aim is what a linear program minimises: the wishes weighed, under limits on
// some of them.
type aim struct {
	want   [5]float64 // weight of each wish
	limits [5]float64 // most of each wish; +Inf: no limit
}

// unlimited is no limit on any wish.
var unlimited = [5]float64{inf, inf, inf, inf, inf}

// wishAim minimises one wish and holds those before it at their limits.
func wishAim(goal model.Wish, limits [5]float64) aim {
	a := aim{limits: limits}
	a.want[goal] = 1
	for j := goal; int(j) < len(a.limits); j++ {
		a.limits[j] = inf
	}
	return a
}

// wishUnder is wishAim with what a score has as the limits.
func wishUnder(goal model.Wish, limit score) aim {
	return wishAim(goal, [5]float64(limit.measures()))
}

// cost weighs a score; body is charged by the rows of the strain.
func (a *aim) cost(s score) float64 {
	sum := 0.0
	for j, v := range s {
		if model.Wish(j) != model.Body {
			sum += a.want[j] * float64(v)
		}
	}
	return sum
}

// forbids tells whether a wish may cost nothing at all, so that a column that
// costs something in it is out.
func (a *aim) forbids(j int) bool { return a.limits[j] == 0 && model.Wish(j) != model.Body }

// most is a column's upper bound: none, or 0 where it is out.
func (a *aim) most(s score) float64 {
	for j, v := range s {
		if v > 0 && a.forbids(j) {
			return 0
		}
	}
	return inf
}

var inf = math.Inf(1)

// weighed minimises body and spacing together, a minute of body weighing so
// many days; the wishes before them weigh as good as everything.
func weighed(body float64) aim {
	a := aim{limits: unlimited}
	a.want = [5]float64{model.Coverage: 10000, model.ReadyBy: 1000, model.Closeness: 10, model.Body: body, model.Spacing: 1}
	return a
}

// trade is how many days of spacing a minute of body weighs where frames are
// chosen: about what the two cost each other at the best plans.
const trade = 1

// traded gives body and spacing in one figure, in hundredths of a day.
func (s score) traded() int64 { return trade*s[model.Body] + 100*s[model.Spacing] }
