package solver

import (
	"context"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"primaprova/model"
	"primaprova/solver/compact"
	"primaprova/solver/highs"
	"primaprova/solver/instance"
	"primaprova/solver/tiny"
)

// TestPeriodic: tasks that return (length, due, period). (1,5,5) (4,8,9) (2,4,6),
// read and recomputed, fit with nothing to spare in the first 10, 17 and 35
// days; lengths 1, 2, 3 with periods 3, 5, 8 ask for 17 days' work in the first
// 16 (computed).
func TestPeriodic(t *testing.T) {
	const turn = 90 // the least common multiple of 5, 9 and 6
	jobs := slices.Concat(tiny.Every(5, 5, 1, turn), tiny.Every(9, 8, 4, turn), tiny.Every(6, 4, 2, turn))
	var tight []int
	for end := 1; end <= turn; end++ {
		if demand(jobs, 0, end) == end {
			tight = append(tight, end)
		}
	}
	if want := []int{10, 17, 35}; !slices.Equal(tight, want) {
		t.Errorf("nothing to spare by %v, published are %v", tight, want)
	}
	if left := solved(tiny.Shop(turn, jobs...), t).Score()[model.Coverage]; left != 0 {
		t.Errorf("%d days' work does not fit", left)
	}
	for _, day := range []model.Date{9, 16, 34} {
		c := tiny.Shop(turn, jobs...)
		c.Season.Limits.RestDates = []model.Range{{From: c.Season.From + day, To: c.Season.From + day}}
		if solved(c, t).Score()[model.Coverage] == 0 {
			t.Errorf("all fits though day %d is a rest day", day)
		}
	}
	jobs = slices.Concat(tiny.Every(3, 3, 1, 16), tiny.Every(5, 5, 2, 16), tiny.Every(8, 8, 3, 16))
	if d := demand(jobs, 0, 16); d != 17 {
		t.Errorf("%d days' work is due in the first 16, published are 17", d)
	}
	if left := solved(tiny.Shop(16, jobs...), t).Score()[model.Coverage]; left != 1 {
		t.Errorf("%d days' work does not fit, it should be one", left)
	}
}

// demand gives the work of the jobs that must be done between two days.
func demand(jobs []tiny.Job, from, to int) (sum int) {
	for _, j := range jobs {
		if j.Release >= from && j.Due <= to {
			sum += j.Length
		}
	}
	return sum
}

// TestDemand: what may be split freely fits exactly when between any two days
// no more work is due than they have room for (Baruah, Rosier, Howell,
// Real-Time Systems 2, 301-324, 1990); and what is left out is what serving the
// earliest due date first leaves out (Glover, Naval Research Logistics 14,
// 1967; from memory). Each unit of work is a passage of one visit here, so that
// several of a job can lie on a day.
func TestDemand(t *testing.T) {
	library, fit, unfit := tiny.HiGHS(t), 0, 0
	rapid.Check(t, func(t *rapid.T) {
		roll := tiny.Drawn(t)
		days := roll.Between(3, 8)
		var jobs, units []tiny.Job
		for range roll.Between(1, 5) {
			release := roll(days)
			j := tiny.Job{Release: release, Due: roll.Between(release+1, days), Length: roll.Between(1, 6)}
			jobs = append(jobs, j)
			units = append(units, slices.Repeat([]tiny.Job{{Release: j.Release, Due: j.Due, Length: 1}}, j.Length)...)
		}
		c := tiny.Shop(days, units...)
		c.Season.Limits.Passages = 100
		room := make([]int, days)
		for d := range room {
			room[d] = roll(5)
			day := c.Season.From + model.Date(d)
			c.Season.Limits.Playing.Dates = append(c.Season.Limits.Playing.Dates,
				model.Dated[model.Minutes]{Range: model.Range{From: day, To: day}, Value: model.Minutes(5 * room[d])})
		}
		fits := true
		for a := range days {
			sum := 0
			for b := a; b < days; b++ {
				sum += room[b]
				fits = fits && demand(jobs, a, b+1) <= sum
			}
		}
		p := c.Problem()
		st, _, err := compact.Solve(context.Background(), p, compact.ByHighs(library, highs.Options{}), instance.NewSolution(p), model.Tolerance{})
		if err != nil {
			t.Fatal(err)
		}
		left := st.Score()[model.Coverage]
		if fits != (left == 0) {
			t.Errorf("by the demand test it fits: %v; yet %d units are left out", fits, left)
		}
		if want := earliestDue(units, room); left != int64(want) {
			t.Errorf("%d units are left out, serving the earliest due date first leaves out %d", left, want)
		}
		if fits {
			fit++
		} else {
			unfit++
		}
	})
	if fit < 10 || unfit < 10 {
		t.Errorf("%d sets fit, %d do not: too few of one kind", fit, unfit)
	}
}

// earliestDue gives the units left out when each day serves those due first.
func earliestDue(units []tiny.Job, room []int) (left int) {
	waiting := slices.Clone(units)
	slices.SortStableFunc(waiting, func(a, b tiny.Job) int { return a.Due - b.Due })
	for d := range room {
		for n, i := room[d], 0; n > 0 && i < len(waiting); {
			if u := waiting[i]; u.Release <= d && d < u.Due {
				waiting = slices.Delete(waiting, i, i+1)
				n--
			} else {
				i++
			}
		}
	}
	return len(waiting)
}
