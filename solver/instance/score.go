package instance

import "primaprova/model"

// Score measures a plan's wishes in whole units, in their order; body
// in hundredths of a minute.
type Score [5]int64

// Less compares in the order of the wishes.
func (a Score) Less(b Score) bool { return a.LessFrom(b, 0) }

// LessFrom compares from one wish on.
func (a Score) LessFrom(b Score, from model.Wish) bool {
	for i := int(from); i < len(a); i++ {
		if a[i] != b[i] {
			return a[i] < b[i]
		}
	}
	return false
}

// Allows tells whether b costs no more than a in the wishes before one.
func (a Score) Allows(b Score, before model.Wish) bool {
	for i := range before {
		if b[i] > a[i] {
			return false
		}
	}
	return true
}

func (a Score) Plus(b Score) Score {
	for i := range a {
		a[i] += b[i]
	}
	return a
}

func (a Score) Minus(b Score) Score {
	for i := range a {
		a[i] -= b[i]
	}
	return a
}

// Charge weighs what placing something costs: the wishes that a part decides
// alone, and body by the minute.
type Charge struct {
	Weights
	Body float64
}

// ChargeOf gives what is charged by wish as a charge.
func ChargeOf(by [5]float64) Charge {
	return Charge{Weights{by[model.Coverage], by[model.ReadyBy], by[model.Closeness], by[model.Spacing]}, by[model.Body]}
}

// InOrder are weights so far apart that the cheapest place of one passage is
// the best one in the order of the wishes: a passage's spacing stays below
// 500 days, its body below 600 minutes, its closeness below 5,000 and its
// lateness below 100 days. Where a window is longer than that the comparison
// of scores still decides; the weights only propose.
var InOrder = Charge{Weights{Coverage: 1e14, Ready: 1e12, Closeness: 1e8, Spacing: 1}, 1e4}

// StagesScore gives what a part's frame costs in coverage and closeness.
func (p *Instance) StagesScore(q *Part, f Frame) Score {
	var s Score
	days := [3]Day{f.Listen, f.Read, f.Rec}
	lengths := [3]int{q.Listen, q.Read, q.Rec}
	values := [3]int{q.ListenWorth, q.ReadWorth, q.RecWorth}
	for i, d := range days {
		switch {
		case lengths[i] == 0:
		case d == None:
			s[model.Coverage] += int64(values[i])
		case i == 0:
			s[model.Closeness] += int64(p.MovedListening(q, int(d)))
		default:
			s[model.Closeness] += int64(p.Moved(q.Stand[i], int(d)))
		}
	}
	return s
}

// ScheduleScore gives what a passage's schedule costs in every wish but body.
func (p *Instance) ScheduleScore(q *Passage, days []Day) Score {
	var s Score
	s[model.Coverage] = int64(q.Worth(len(days)))
	if len(days) == 0 {
		return s
	}
	last := q.Since
	for k, d := range days {
		if k > 0 || q.Done > 0 {
			s[model.Spacing] += int64(max(0, int(d)-last-q.Visits[k].Preferred))
		}
		s[model.Closeness] += int64(p.Moved(q.Visits[k].Stand, int(d)))
		last = int(d)
	}
	s[model.ReadyBy] = int64(max(0, last-q.Ready))
	s[model.Spacing] += int64(max(0, q.Fresh-last))
	return s
}

// Weights turn the wishes that a single part decides alone into one cost. The
// body wish is not among them: it is charged by the day.
type Weights struct {
	Coverage, Ready, Closeness, Spacing float64
}

// Figures gives a score in the units of the wishes.
func (a Score) Figures() []float64 { m := a.Measures(); return m[:] }

// Bound is what was proven of a wish: that every plan which costs no more than under
// in the wishes before it costs at least so much in it.
type Bound struct {
	Wish  model.Wish
	Least int64
	Under Score
}

// Bounds are all that was proven of a season.
type Bounds []Bound

// Least gives what is proven of a wish of plans that cost so much; 0 where nothing is.
func (c Bounds) Least(wish model.Wish, at Score) (least int64) {
	for i := range c {
		if c[i].Wish == wish && c[i].Under.Allows(at, wish) {
			least = max(least, c[i].Least)
		}
	}
	return least
}

// All gives what is proven of each wish of plans that cost so much.
func (c Bounds) All(at Score) (least Score) {
	for _, w := range model.Wishes {
		least[w] = c.Least(w, at)
	}
	return least
}

// Free gives what a plan may cost in each wish before it counts: a little above the
// least that is proven of plans that cost so much.
func (c Bounds) Free(t model.Tolerance, at Score) Score {
	least := c.All(at)
	for w := range least {
		least[w] = Tolerated(t, model.Wish(w), least[w])
	}
	least[model.Spacing] = 0 // of the last wish nothing is spent
	return least
}

// Tolerated is what a wish may cost before it counts where it costs so much at least.
func Tolerated(t model.Tolerance, wish model.Wish, least int64) int64 {
	return least + least*int64(t[wish])/100
}

// Better compares in the order of the wishes, where up to what is free a wish does
// not count; where that tells nothing apart, strictly.
func (a Score) Better(b, free Score) bool {
	x, y := a, b
	for w := range free {
		x[w], y[w] = max(x[w], free[w]), max(y[w], free[w])
	}
	if x != y {
		return x.Less(y)
	}
	return a.Less(b)
}

// AtMost gives the larger of two in each wish.
func (a Score) AtMost(b Score) Score {
	for w := range a {
		a[w] = max(a[w], b[w])
	}
	return a
}
