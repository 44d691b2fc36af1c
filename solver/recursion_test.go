package solver

import (
	"testing"

	"pgregory.net/rapid"
)

// strange is a passage with charges that no season would give it, whole numbers
// so that sums compare exactly. What the recursion is asked is answered here
// by listing every schedule.
type strange struct {
	q passage
	w weights
	c [][]float64
}

func strangePassage(roll die, lo, days int) *strange {
	s := &strange{w: weights{float64(roll(4)), float64(roll(4)), 1, float64(roll(4))}}
	q := &s.q
	q.lo = lo + roll(3)
	q.hi = lo + days - 1 - roll(2)
	if roll.once(12) {
		q.hi = q.lo - 1 // no day at all
	}
	q.done = max(0, roll(5)-2)
	q.since = before
	if q.done > 0 {
		q.since = q.lo - roll.between(1, 6)
	}
	q.ready, q.fresh = q.hi-roll(4), q.hi-roll(6)
	known := !roll.once(4)
	n := roll.between(1, 4)
	q.inRound = known && q.done == 0
	q.third = none
	if t := 2 - q.done; known && t >= 0 && t < n {
		q.third = t
	}
	for k := range n {
		v := visit{value: roll(8)}
		if k > 0 || q.done > 0 {
			v.least = roll.between(1, 3)
			v.preferred = v.least + roll(4)
		}
		q.visits = append(q.visits, v)
		row := make([]float64, max(0, q.hi-q.lo+1))
		for d := range row {
			row[d] = float64(roll(20) - 4)
			if roll.once(4) {
				row[d] = inf // a rest day, a full day, another day than the pinned one
			}
		}
		s.c = append(s.c, row)
	}
	return s
}

// cost gives a schedule's cost in a frame, +Inf where the frame forbids it.
func (s *strange) cost(days []int, rho, phi int) float64 {
	q := &s.q
	sum := s.w.coverage * float64(q.worth(len(days)))
	last := q.since
	for k, d := range days {
		v := &q.visits[k]
		if d < q.lo || d > q.hi {
			return inf
		}
		if k > 0 || q.done > 0 {
			if d-last < v.least {
				return inf
			}
			sum += s.w.spacing * float64(max(0, d-last-v.preferred))
		}
		if k == 0 && q.done == 0 && rho != before && d <= rho ||
			k == 0 && q.inRound && d > phi || k == q.third && d <= phi {
			return inf
		}
		sum += s.c[k][d-q.lo]
		last = d
	}
	if len(days) > 0 {
		sum += s.w.ready*float64(max(0, last-q.ready)) + s.w.spacing*float64(max(0, q.fresh-last))
	}
	return sum
}

// cheapest tries every schedule.
func (s *strange) cheapest(rho, phi int) float64 {
	best := inf
	var days []int
	var try func()
	try = func() {
		best = min(best, s.cost(days, rho, phi))
		if len(days) == len(s.q.visits) {
			return
		}
		from := s.q.lo
		if n := len(days); n > 0 {
			from = days[n-1] + 1
		}
		for d := from; d <= s.q.hi; d++ {
			days = append(days, d)
			try()
			days = days[:len(days)-1]
		}
	}
	try()
	return best
}

// unread gives the cost where no read-through is placed.
func (s *strange) unread() float64 {
	if s.q.done == 0 {
		return s.cost(nil, before, before)
	}
	return s.cheapest(before, before)
}

func (s *strange) load(r *recursion) {
	for k, row := range r.load(&s.q, s.w) {
		copy(row, s.c[k])
	}
}

// TestRecursionIsExhaustive: the recursion's best schedule, in any frame, is
// the best of all schedules, and is the schedule it gives.
func TestRecursionIsExhaustive(t *testing.T) {
	var r recursion
	rapid.Check(t, func(t *rapid.T) {
		roll := drawn(t)
		for range 50 {
			lo, days := roll(5), roll.between(2, 11)
			s := strangePassage(roll, lo, days)
			s.load(&r)
			rho, phi := lo-1+roll(days+1), lo-1+roll(days+1)
			if rho < lo {
				rho = before
			}
			want := s.cheapest(rho, phi)
			got, schedule := r.best(rho, phi)
			if got != want {
				t.Fatalf("read-through %d, first round to %d: %v, the best is %v\n%+v", rho, phi, got, want, s)
			}
			var on []int
			for _, d := range schedule {
				on = append(on, int(d))
			}
			if c := s.cost(on, rho, phi); c != got {
				t.Fatalf("the schedule %v costs %v, not %v\n%+v", on, c, got, s)
			}
		}
	})
}

// TestFramesAreExhaustive: the cost of a passage in every frame of its part is
// what trying every schedule in every frame gives.
func TestFramesAreExhaustive(t *testing.T) {
	var r recursion
	rapid.Check(t, func(t *rapid.T) {
		roll := drawn(t)
		for range 20 {
			lo, days := roll(5), roll.between(1, 9)
			s := strangePassage(roll, lo, days)
			s.load(&r)
			sum := square(nil, days)
			r.begin()
			r.frames(lo, sum, (&part{lo: lo, hi: lo + days - 1}).allFrames())
			for f := range sum {
				for g := range sum[f] {
					rho, phi := lo+g-1, lo+f-1
					if g == 0 {
						rho = before
					}
					if want := s.cheapest(rho, phi); sum[f][g] != want {
						t.Fatalf("read-through %d, first round to %d: %v, the best is %v\n%+v", rho, phi, sum[f][g], want, s)
					}
				}
			}
		}
	})
}
