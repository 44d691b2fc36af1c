package solver

import (
	"slices"
	"testing"

	"primaprova/model"
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
		jobs     []job
		lateness int
	}{
		// H1, quoted and recomputed: ends at 8, 6, 7 and 12.
		{"H1", []job{{0, 13, 3}, {4, 8, 2}, {2, 11, 3}, {0, 16, 4}}, -2},
		// Kleinberg and Tardos, Algorithm Design, ch. 4; from memory, recomputed.
		{"Kleinberg and Tardos", []job{{0, 6, 3}, {0, 8, 2}, {0, 9, 1}, {0, 9, 4}, {0, 14, 3}, {0, 15, 2}}, 1},
		// Bratley's instance, which fills the time to its last due date.
		{"Bratley", []job{{4, 7, 2}, {1, 5, 1}, {1, 6, 2}, {0, 4, 2}}, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			if left := shop(17, shifted(c.jobs, c.lateness)...).solved(t).score()[model.Coverage]; left != 0 {
				t.Errorf("at lateness %d, %d days' work does not fit", c.lateness, left)
			}
			if shop(17, shifted(c.jobs, c.lateness-1)...).solved(t).score()[model.Coverage] == 0 {
				t.Errorf("all fits at lateness %d", c.lateness-1)
			}
		})
	}
}

// TestWithoutInterruption: Bratley's instance can be done without interrupting
// a job, in the published order 4, 2, 3, 1, and ends at 7. A preferred gap of one
// day makes each interruption cost spacing.
func TestWithoutInterruption(t *testing.T) {
	c := shop(7, job{4, 7, 2}, job{1, 5, 1}, job{1, 6, 2}, job{0, 4, 2})
	c.season.Habits.PreferredGaps = []int{1}
	best := c.solved(t)
	if best.score() != (score{}) {
		t.Errorf("the best is %v", best.score())
	}
	if ends := best.sched[0][1] + 1; ends != 7 || best.sched[3][0] != 0 {
		t.Errorf("job 4 is not the first, or job 1 does not end at 7: %v", best.sched)
	}
	published := newState(best.p)
	for i, days := range [][]int16{{5, 6}, {2}, {3, 4}, {0, 1}} {
		published.place(i, days)
	}
	if published.score() != (score{}) {
		t.Errorf("the published order is worth %v", published.score())
	}
	if b := c.season.Audit(published.assemble(c.history, nil), c.history); len(b) > 0 {
		t.Errorf("the published order breaks rules: %v", b)
	}
}

// TestLateJobs: the fewest late jobs, as published.
func TestLateJobs(t *testing.T) {
	for _, c := range []struct {
		name string
		jobs []job
		late int64
	}{
		// Pinedo, Scheduling: Theory, Algorithms, and Systems, example 3.3.3.
		{"Pinedo", []job{{0, 9, 7}, {0, 17, 8}, {0, 18, 4}, {0, 19, 6}, {0, 21, 6}}, 2},
		// The example in the documentation of the Rust crate moore-hodgson: three of five on time.
		{"Moore and Hodgson", []job{{0, 6, 5}, {0, 7, 1}, {0, 4, 1}, {0, 6, 4}, {0, 8, 3}}, 2},
	} {
		t.Run(c.name, func(t *testing.T) {
			if late := shop(21, c.jobs...).late().solved(t).score()[model.Coverage]; late != c.late {
				t.Errorf("%d late, published are %d", late, c.late)
			}
		})
	}
}

// TestLateJobsAtRandom: against Moore's rule, which takes the longest job off
// whenever one would be late (Moore, Management Science 15, 1968; from memory).
func TestLateJobsAtRandom(t *testing.T) {
	for seed := range 25 {
		roll := dieOf(seed)
		var jobs []job
		for range roll.between(3, 6) {
			length := roll.between(1, 5)
			jobs = append(jobs, job{0, length + roll(12), length})
		}
		late := shop(17, jobs...).late().solved(t).score()[model.Coverage]
		if want := moore(jobs); late != int64(want) {
			t.Errorf("season %d: %d late, by Moore's rule %d: %v", seed, late, want, jobs)
		}
	}
}

func moore(jobs []job) (late int) {
	jobs = slices.SortedFunc(slices.Values(jobs), func(a, b job) int { return a.due - b.due })
	var taken []int
	sum := 0
	for _, j := range jobs {
		taken, sum = append(taken, j.length), sum+j.length
		if sum > j.due {
			slices.Sort(taken)
			sum -= taken[len(taken)-1]
			taken = taken[:len(taken)-1]
			late++
		}
	}
	return late
}
