package pricing

import (
	"testing"

	"pgregory.net/rapid"

	"primaprova/solver/instance"
	"primaprova/solver/tiny"
)

// strange is a passage with charges that no season would give it, whole numbers
// so that sums compare exactly. What the dynamic program is asked is answered here
// by listing every schedule.
type strange struct {
	q instance.Passage
	w instance.Weights
	c [][]float64
}

func strangePassage(roll tiny.Die, lo, days int) *strange {
	s := &strange{w: instance.Weights{Coverage: float64(roll(4)), Ready: float64(roll(4)), Closeness: 1, Spacing: float64(roll(4))}}
	q := &s.q
	q.Lo = lo + roll(3)
	q.Hi = lo + days - 1 - roll(2)
	if roll.Once(12) {
		q.Hi = q.Lo - 1 // no day at all
	}
	q.Done = max(0, roll(5)-2)
	q.Since = instance.Before
	if q.Done > 0 {
		q.Since = q.Lo - roll.Between(1, 6)
	}
	q.Ready, q.Fresh = q.Hi-roll(4), q.Hi-roll(6)
	known := !roll.Once(4)
	n := roll.Between(1, 4)
	q.InRound = known && q.Done == 0
	q.Third = instance.None
	if t := 2 - q.Done; known && t >= 0 && t < n {
		q.Third = t
	}
	for k := range n {
		v := instance.Visit{Value: roll(8)}
		if k > 0 || q.Done > 0 {
			v.Least = roll.Between(1, 3)
			v.Preferred = v.Least + roll(4)
		}
		q.Visits = append(q.Visits, v)
		row := make([]float64, max(0, q.Hi-q.Lo+1))
		for d := range row {
			row[d] = float64(roll(20) - 4)
			if roll.Once(4) {
				row[d] = instance.Inf // a rest day, a full day, another day than the pinned one
			}
		}
		s.c = append(s.c, row)
	}
	return s
}

// cost gives a schedule's cost in a frame, +Inf where the frame forbids it.
func (s *strange) cost(days []int, rho, phi int) float64 {
	q := &s.q
	sum := s.w.Coverage * float64(q.Worth(len(days)))
	last := q.Since
	for k, d := range days {
		v := &q.Visits[k]
		if d < q.Lo || d > q.Hi {
			return instance.Inf
		}
		if k > 0 || q.Done > 0 {
			if d-last < v.Least {
				return instance.Inf
			}
			sum += s.w.Spacing * float64(max(0, d-last-v.Preferred))
		}
		if k == 0 && q.Done == 0 && rho != instance.Before && d <= rho ||
			k == 0 && q.InRound && d > phi || k == q.Third && d <= phi {
			return instance.Inf
		}
		sum += s.c[k][d-q.Lo]
		last = d
	}
	if len(days) > 0 {
		sum += s.w.Ready*float64(max(0, last-q.Ready)) + s.w.Spacing*float64(max(0, q.Fresh-last))
	}
	return sum
}

// cheapest tries every schedule.
func (s *strange) cheapest(rho, phi int) float64 {
	best := instance.Inf
	var days []int
	var try func()
	try = func() {
		best = min(best, s.cost(days, rho, phi))
		if len(days) == len(s.q.Visits) {
			return
		}
		from := s.q.Lo
		if n := len(days); n > 0 {
			from = days[n-1] + 1
		}
		for d := from; d <= s.q.Hi; d++ {
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
	if s.q.Done == 0 {
		return s.cost(nil, instance.Before, instance.Before)
	}
	return s.cheapest(instance.Before, instance.Before)
}

func (s *strange) load(r *DP) {
	for k, row := range r.Load(&s.q, s.w) {
		copy(row, s.c[k])
	}
}

// TestRecursionIsExhaustive: the dynamic program's best schedule, in any frame, is
// the best of all schedules, and is the schedule it gives.
func TestRecursionIsExhaustive(t *testing.T) {
	var r DP
	rapid.Check(t, func(t *rapid.T) {
		roll := tiny.Drawn(t)
		for range 50 {
			lo, days := roll(5), roll.Between(2, 11)
			s := strangePassage(roll, lo, days)
			s.load(&r)
			rho, phi := lo-1+roll(days+1), lo-1+roll(days+1)
			if rho < lo {
				rho = instance.Before
			}
			want := s.cheapest(rho, phi)
			got, schedule := r.Best(rho, phi)
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
	var r DP
	rapid.Check(t, func(t *rapid.T) {
		roll := tiny.Drawn(t)
		for range 20 {
			lo, days := roll(5), roll.Between(1, 9)
			s := strangePassage(roll, lo, days)
			s.load(&r)
			sum := Square(nil, days)
			r.Begin()
			r.Frames(lo, sum, (&instance.Part{Lo: lo, Hi: lo + days - 1}).AllFrames())
			for f := range sum {
				for g := range sum[f] {
					rho, phi := lo+g-1, lo+f-1
					if g == 0 {
						rho = instance.Before
					}
					if want := s.cheapest(rho, phi); sum[f][g] != want {
						t.Fatalf("read-through %d, first round to %d: %v, the best is %v\n%+v", rho, phi, sum[f][g], want, s)
					}
				}
			}
		}
	})
}
