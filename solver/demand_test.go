package solver

import (
	"context"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"primaprova/model"
	"primaprova/solver/highs"
)

// TestPeriodic: tasks that return (length, due, period). (1,5,5) (4,8,9) (2,4,6),
// read and recomputed, fit with nothing to spare in the first 10, 17 and 35
// days; lengths 1, 2, 3 with periods 3, 5, 8 ask for 17 days' work in the first
// 16 (computed).
func TestPeriodic(t *testing.T) {
	const turn = 90 // the least common multiple of 5, 9 and 6
	jobs := slices.Concat(every(5, 5, 1, turn), every(9, 8, 4, turn), every(6, 4, 2, turn))
	var tight []int
	for end := 1; end <= turn; end++ {
		if demand(jobs, 0, end) == end {
			tight = append(tight, end)
		}
	}
	if want := []int{10, 17, 35}; !slices.Equal(tight, want) {
		t.Errorf("nothing to spare by %v, published are %v", tight, want)
	}
	if left := shop(turn, jobs...).solved(t).score()[model.Coverage]; left != 0 {
		t.Errorf("%d days' work does not fit", left)
	}
	for _, day := range []model.Date{9, 16, 34} {
		c := shop(turn, jobs...)
		c.season.Limits.RestDates = []model.Range{{From: c.season.From + day, To: c.season.From + day}}
		if c.solved(t).score()[model.Coverage] == 0 {
			t.Errorf("all fits though day %d is a rest day", day)
		}
	}
	jobs = slices.Concat(every(3, 3, 1, 16), every(5, 5, 2, 16), every(8, 8, 3, 16))
	if d := demand(jobs, 0, 16); d != 17 {
		t.Errorf("%d days' work is due in the first 16, published are 17", d)
	}
	if left := shop(16, jobs...).solved(t).score()[model.Coverage]; left != 1 {
		t.Errorf("%d days' work does not fit, it should be one", left)
	}
}

// demand gives the work of the jobs that must be done between two days.
func demand(jobs []job, from, to int) (sum int) {
	for _, j := range jobs {
		if j.release >= from && j.due <= to {
			sum += j.length
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
	library, fit, unfit := highsLibrary(t), 0, 0
	rapid.Check(t, func(t *rapid.T) {
		roll := drawn(t)
		days := roll.between(3, 8)
		var jobs, units []job
		for range roll.between(1, 5) {
			release := roll(days)
			j := job{release, roll.between(release+1, days), roll.between(1, 6)}
			jobs = append(jobs, j)
			units = append(units, slices.Repeat([]job{{j.release, j.due, 1}}, j.length)...)
		}
		c := shop(days, units...)
		c.season.Limits.Passages = 100
		room := make([]int, days)
		for d := range room {
			room[d] = roll(5)
			day := c.season.From + model.Date(d)
			c.season.Limits.Playing.Dates = append(c.season.Limits.Playing.Dates,
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
		p := c.problem()
		st, _, err := p.solveWritten(context.Background(), ByHighs(library, highs.Options{}), newState(p), model.Tolerance{})
		if err != nil {
			t.Fatal(err)
		}
		left := st.score()[model.Coverage]
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
func earliestDue(units []job, room []int) (left int) {
	waiting := slices.Clone(units)
	slices.SortStableFunc(waiting, func(a, b job) int { return a.due - b.due })
	for d := range room {
		for n, i := room[d], 0; n > 0 && i < len(waiting); {
			if u := waiting[i]; u.release <= d && d < u.due {
				waiting = slices.Delete(waiting, i, i+1)
				n--
			} else {
				i++
			}
		}
	}
	return len(waiting)
}
