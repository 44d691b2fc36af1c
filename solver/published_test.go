package solver

import (
	"slices"
	"testing"

	"primaprova/model"
	"primaprova/solver/instance"
	"primaprova/solver/tiny"
)

// Published instances of scheduling one machine, as seasons. A unit of time is
// a day whose cap holds one visit; a job is a passage, each unit of its length
// a visit; visits of a passage lie on different days, so a job may be
// interrupted but not doubled. Its release is the day on which the passage was
// found (which also keeps it out of the first round), its due date the
// passage's own. Services, warm-up and stages are none.

// TestGreatestLateness: due dates moved by the published greatest lateness
// fit, moved by one day less they do not.
func TestGreatestLateness(t *testing.T) {
	for _, c := range []struct {
		name     string
		jobs     []tiny.Job
		lateness int
	}{
		// H1, quoted and recomputed: ends at 8, 6, 7 and 12.
		{"H1", []tiny.Job{{Release: 0, Due: 13, Length: 3}, {Release: 4, Due: 8, Length: 2}, {Release: 2, Due: 11, Length: 3}, {Release: 0, Due: 16, Length: 4}}, -2},
		// Kleinberg and Tardos, Algorithm Design, ch. 4; from memory, recomputed.
		{"Kleinberg and Tardos", []tiny.Job{{Release: 0, Due: 6, Length: 3}, {Release: 0, Due: 8, Length: 2}, {Release: 0, Due: 9, Length: 1}, {Release: 0, Due: 9, Length: 4}, {Release: 0, Due: 14, Length: 3}, {Release: 0, Due: 15, Length: 2}}, 1},
		// Bratley's instance, which fills the time to its last due date.
		{"Bratley", []tiny.Job{{Release: 4, Due: 7, Length: 2}, {Release: 1, Due: 5, Length: 1}, {Release: 1, Due: 6, Length: 2}, {Release: 0, Due: 4, Length: 2}}, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			if left := solved(tiny.Shop(17, tiny.Shifted(c.jobs, c.lateness)...), t).Score()[model.Coverage]; left != 0 {
				t.Errorf("at lateness %d, %d days' work does not fit", c.lateness, left)
			}
			if solved(tiny.Shop(17, tiny.Shifted(c.jobs, c.lateness-1)...), t).Score()[model.Coverage] == 0 {
				t.Errorf("all fits at lateness %d", c.lateness-1)
			}
		})
	}
}

// TestWithoutInterruption: Bratley's instance can be done without interrupting
// a job, in the published order 4, 2, 3, 1, and ends at 7. A preferred gap of one
// day makes each interruption cost spacing.
func TestWithoutInterruption(t *testing.T) {
	c := tiny.Shop(7, tiny.Job{Release: 4, Due: 7, Length: 2}, tiny.Job{Release: 1, Due: 5, Length: 1}, tiny.Job{Release: 1, Due: 6, Length: 2}, tiny.Job{Release: 0, Due: 4, Length: 2})
	c.Season.Habits.PreferredGaps = []int{1}
	best := solved(c, t)
	if best.Score() != (instance.Score{}) {
		t.Errorf("the best is %v", best.Score())
	}
	if ends := best.Sched[0][1] + 1; ends != 7 || best.Sched[3][0] != 0 {
		t.Errorf("job 4 is not the first, or job 1 does not end at 7: %v", best.Sched)
	}
	published := instance.NewSolution(best.P)
	for i, days := range [][]instance.Day{{5, 6}, {2}, {3, 4}, {0, 1}} {
		published.Place(i, days)
	}
	if published.Score() != (instance.Score{}) {
		t.Errorf("the published order is worth %v", published.Score())
	}
	if b := c.Season.Audit(published.Assemble(c.History, nil), c.History); len(b) > 0 {
		t.Errorf("the published order breaks rules: %v", b)
	}
}

// TestLateJobs: the fewest late jobs, as published.
func TestLateJobs(t *testing.T) {
	for _, c := range []struct {
		name string
		jobs []tiny.Job
		late int64
	}{
		// Pinedo, Scheduling: Theory, Algorithms, and Systems, example 3.3.3.
		{"Pinedo", []tiny.Job{{Release: 0, Due: 9, Length: 7}, {Release: 0, Due: 17, Length: 8}, {Release: 0, Due: 18, Length: 4}, {Release: 0, Due: 19, Length: 6}, {Release: 0, Due: 21, Length: 6}}, 2},
		// The example in the documentation of the Rust crate moore-hodgson: three of five on time.
		{"Moore and Hodgson", []tiny.Job{{Release: 0, Due: 6, Length: 5}, {Release: 0, Due: 7, Length: 1}, {Release: 0, Due: 4, Length: 1}, {Release: 0, Due: 6, Length: 4}, {Release: 0, Due: 8, Length: 3}}, 2},
	} {
		t.Run(c.name, func(t *testing.T) {
			if late := solved(tiny.Shop(21, c.jobs...).Late(), t).Score()[model.Coverage]; late != c.late {
				t.Errorf("%d late, published are %d", late, c.late)
			}
		})
	}
}

// TestLateJobsAtRandom: against Moore's rule, which takes the longest job off
// whenever one would be late (Moore, Management Science 15, 1968; from memory).
func TestLateJobsAtRandom(t *testing.T) {
	for seed := range 25 {
		roll := tiny.DieOf(seed)
		var jobs []tiny.Job
		for range roll.Between(3, 6) {
			length := roll.Between(1, 5)
			jobs = append(jobs, tiny.Job{Release: 0, Due: length + roll(12), Length: length})
		}
		late := solved(tiny.Shop(17, jobs...).Late(), t).Score()[model.Coverage]
		if want := moore(jobs); late != int64(want) {
			t.Errorf("season %d: %d late, by Moore's rule %d: %v", seed, late, want, jobs)
		}
	}
}

func moore(jobs []tiny.Job) (late int) {
	jobs = slices.SortedFunc(slices.Values(jobs), func(a, b tiny.Job) int { return a.Due - b.Due })
	var taken []int
	sum := 0
	for _, j := range jobs {
		taken, sum = append(taken, j.Length), sum+j.Length
		if sum > j.Due {
			slices.Sort(taken)
			sum -= taken[len(taken)-1]
			taken = taken[:len(taken)-1]
			late++
		}
	}
	return late
}
