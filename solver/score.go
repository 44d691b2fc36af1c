package solver

import "primaprova/model"

// score measures a plan's wishes in whole units, in their order; body
// in hundredths of a minute.
type score [5]int64

// less compares in the order of the wishes.
func (a score) less(b score) bool { return a.lessFrom(b, 0) }

// lessFrom compares from one wish on.
func (a score) lessFrom(b score, from model.Wish) bool {
	for i := int(from); i < len(a); i++ {
		if a[i] != b[i] {
			return a[i] < b[i]
		}
	}
	return false
}

// allows tells whether b costs no more than a in the wishes before one.
func (a score) allows(b score, before model.Wish) bool {
	for i := range before {
		if b[i] > a[i] {
			return false
		}
	}
	return true
}

func (a score) plus(b score) score {
	for i := range a {
		a[i] += b[i]
	}
	return a
}

func (a score) minus(b score) score {
	for i := range a {
		a[i] -= b[i]
	}
	return a
}

// charge weighs what placing something costs: the wishes that a part decides
// alone, and body by the minute.
type charge struct {
	weights
	body float64
}

// inOrder are weights so far apart that the cheapest place of one passage is
// the best one in the order of the wishes: a passage's spacing stays below
// 500 days, its body below 600 minutes, its closeness below 5,000 and its
// lateness below 100 days. Where a window is longer than that the comparison
// of scores still decides; the weights only propose.
var inOrder = charge{weights{coverage: 1e14, ready: 1e12, closeness: 1e8, spacing: 1}, 1e4}

// stagesScore gives what a part's frame costs in coverage and closeness.
func (p *problem) stagesScore(q *part, f frame) score {
	var s score
	days := [3]int16{f.listen, f.read, f.rec}
	lengths := [3]int{q.listen, q.read, q.rec}
	values := [3]int{q.listenV, q.readV, q.recV}
	for i, d := range days {
		switch {
		case lengths[i] == 0:
		case d == none:
			s[model.Coverage] += int64(values[i])
		default:
			s[model.Closeness] += int64(p.moved(q.stand[i], int(d)))
		}
	}
	return s
}

// scheduleScore gives what a passage's schedule costs in every wish but body.
func (p *problem) scheduleScore(q *passage, days []int16) score {
	var s score
	s[model.Coverage] = int64(q.worth(len(days)))
	if len(days) == 0 {
		return s
	}
	last := q.since
	for k, d := range days {
		if k > 0 || q.done > 0 {
			s[model.Spacing] += int64(max(0, int(d)-last-q.visits[k].preferred))
		}
		s[model.Closeness] += int64(p.moved(q.visits[k].stand, int(d)))
		last = int(d)
	}
	s[model.ReadyBy] = int64(max(0, last-q.ready))
	s[model.Spacing] += int64(max(0, q.fresh-last))
	return s
}

// weights turn the wishes that a single part decides alone into one cost. The
// body wish is not among them: it is charged by the day.
type weights struct {
	coverage, ready, closeness, spacing float64
}
