package solver

import "primaprova/model"

// tariff is the prices of a linear program: what a day charges for a minute of
// playing, a minute of listening and a visit, and what each wish weighs. Every
// price is 0 or more.
type tariff struct {
	minute, listen, visit []float64 // by day
	weight                [5]float64
	constant              float64 // what the rows and their own variables add to the bound
}

// forbidding is the weight of a wish of which nothing is allowed: no schedule
// that pays it can be part of a plan, so any weight gives a valid bound, and
// one far above the others keeps such schedules away.
const forbidding = 1e6

// weights gives the weights of the wishes that a part decides alone.
func (t *tariff) weights() weights {
	return weights{t.weight[model.Coverage], t.weight[model.ReadyBy], t.weight[model.Closeness], t.weight[model.Spacing]}
}

// cost weighs a score; body is charged by the day.
func (t *tariff) cost(s score) float64 {
	sum := 0.0
	for j, v := range s {
		if model.Wish(j) != model.Body {
			sum += t.weight[j] * float64(v)
		}
	}
	return sum
}

// schedule prices a passage's schedule.
func (t *tariff) schedule(q *passage, days []int16, s score) float64 {
	sum := t.cost(s)
	for k, d := range days {
		sum += t.minute[d]*float64(q.visits[k].minutes) + t.visit[d]
	}
	return sum
}

// frame prices a part's stages.
func (t *tariff) frame(q *part, f frame, s score) float64 {
	sum := t.cost(s)
	if q.read > 0 && f.read >= 0 {
		sum += t.minute[f.read] * float64(q.read)
	}
	if q.listen > 0 && f.listen >= 0 {
		sum += t.listen[f.listen] * float64(q.listen)
	}
	if q.rec > 0 && f.rec >= 0 {
		sum += t.listen[f.rec] * float64(q.rec)
	}
	return sum
}

func sized(s []float64, n int) []float64 {
	if cap(s) < n {
		return make([]float64, n)
	}
	return s[:n]
}
