package pricing

import (
	"primaprova/model"
	"primaprova/solver/instance"
)

// Duals is the prices of a linear program: what a day charges for a minute of
// playing, a minute of listening and a visit, and what each wish weighs. Every
// price is 0 or more.
type Duals struct {
	Minute, Listen, Visit []float64 // by day
	Weight                [5]float64
	Constant              float64 // what the rows and their own variables add to the bound
}

// Forbidding is the weight of a wish of which nothing is allowed: no schedule
// that pays it can be part of a plan, so any weight gives a valid bound, and
// one far above the others keeps such schedules away.
const Forbidding = 1e6

// Weights gives the weights of the wishes that a part decides alone.
func (t *Duals) Weights() instance.Weights {
	return instance.Weights{Coverage: t.Weight[model.Coverage], Ready: t.Weight[model.ReadyBy], Closeness: t.Weight[model.Closeness], Spacing: t.Weight[model.Spacing]}
}

// cost weighs a score; body is charged by the day.
func (t *Duals) cost(s instance.Score) float64 {
	sum := 0.0
	for j, v := range s {
		if model.Wish(j) != model.Body {
			sum += t.Weight[j] * float64(v)
		}
	}
	return sum
}

// Schedule prices a passage's schedule.
func (t *Duals) Schedule(q *instance.Passage, days []instance.Day, s instance.Score) float64 {
	sum := t.cost(s)
	for k, d := range days {
		sum += t.Minute[d]*float64(q.Visits[k].Minutes) + t.Visit[d]
	}
	return sum
}

// hearing prices a part's listening that ends on a day.
func (t *Duals) hearing(q *instance.Part, d int) (sum float64) {
	q.Heard(d, func(d, minutes int) { sum += t.Listen[d] * float64(minutes) })
	return sum
}

// frame prices a part's stages.
func (t *Duals) frame(q *instance.Part, f instance.Frame, s instance.Score) float64 {
	sum := t.cost(s)
	if q.Read > 0 && f.Read >= 0 {
		sum += t.Minute[f.Read] * float64(q.Read)
	}
	if q.Listen > 0 && f.Listen >= 0 {
		sum += t.hearing(q, int(f.Listen))
	}
	if q.Rec > 0 && f.Rec >= 0 {
		sum += t.Listen[f.Rec] * float64(q.Rec)
	}
	return sum
}

func Sized(s []float64, n int) []float64 {
	if cap(s) < n {
		return make([]float64, n)
	}
	return s[:n]
}
