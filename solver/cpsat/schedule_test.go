package cpsat

import (
	"fmt"
	"testing"
)

// job is one job of a published instance: it takes length, may begin at
// release and should end by due. One unit is whatever the source counts.
type job struct{ length, release, due int64 }

func total(jobs []job) (t int64) {
	for _, j := range jobs {
		t = max(t, j.release) + j.length
	}
	return t
}

// oneAtATime puts jobs on one machine and returns their starts.
func oneAtATime(m *Model, jobs []job) (starts []Int) {
	var tasks []Interval
	for i, j := range jobs {
		s := m.NewInt(fmt.Sprint("start ", i+1), Range(j.release, 2*total(jobs)))
		starts = append(starts, s)
		tasks = append(tasks, m.Task(fmt.Sprint("job ", i+1), s, j.length))
	}
	m.NoOverlap(tasks...)
	return starts
}

// Instance H1: lengths 3 2 3 4, releases 0 4 2 0, due dates 13 8 11 16; greatest
// lateness -2, with or without interruptions (quoted; recomputed: job 2 cannot
// end before 6).
//
// Kleinberg and Tardos, Algorithm Design, ch. 4: lengths 3 2 1 4 3 2, due dates
// 6 8 9 9 14 15, greatest lateness 1 (from memory; recomputed: earliest due first ends
// at 3, 5, 6, 10, 13, 15).
func TestGreatestLateness(t *testing.T) {
	for _, c := range []struct {
		name string
		jobs []job
		want int64
	}{
		{"H1", []job{{3, 0, 13}, {2, 4, 8}, {3, 2, 11}, {4, 0, 16}}, -2},
		{"Kleinberg and Tardos", []job{{3, 0, 6}, {2, 0, 8}, {1, 0, 9}, {4, 0, 9}, {3, 0, 14}, {2, 0, 15}}, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := NewModel(c.name)
			starts := oneAtATime(m, c.jobs)
			late := m.NewInt("greatest lateness", Range(-100, 100))
			for i, j := range c.jobs {
				m.AtLeast(late, Sum(starts[i], Const(j.length-j.due)))
			}
			m.Minimize(late)
			r := solved(t, m, Params{})
			if v, ok := r.Objective(); r.Status != Optimal || !ok || v != float64(c.want) {
				t.Errorf("%v, greatest lateness %v, want %d", r.Status, v, c.want)
			}
		})
	}
}

// With interruptions the source of H1 has its jobs end at 8, 6, 7 and 12
// (quoted; recomputed). These ends can be had, and none of them a unit earlier
// while the others stay.
func TestH1Interrupted(t *testing.T) {
	jobs := []job{{3, 0, 13}, {2, 4, 8}, {3, 2, 11}, {4, 0, 16}}
	for earlier := -1; earlier < len(jobs); earlier++ {
		m := NewModel("H1 in pieces")
		var units []Interval
		for i, end := range []int64{8, 6, 7, 12} {
			if i == earlier {
				end--
			}
			for range jobs[i].length {
				units = append(units, m.Task("", m.NewInt("", Range(jobs[i].release, end-1)), 1))
			}
		}
		m.NoOverlap(units...)
		if r := solved(t, m, Params{}); (r.Status == Optimal) != (earlier < 0) {
			t.Errorf("job %d earlier: %v", earlier+1, r.Status)
		}
	}
}

// Bratley's instance: lengths 2 1 2 2, releases 4 1 1 0, deadlines 7 5 6 4. The
// order 4 2 3 1 keeps them and ends at 7 (read and recomputed), and nothing
// ends earlier.
func TestBratley(t *testing.T) {
	jobs := []job{{2, 4, 7}, {1, 1, 5}, {2, 1, 6}, {2, 0, 4}}
	m := NewModel("Bratley")
	starts := oneAtATime(m, jobs)
	for i, j := range jobs {
		m.AtMost(Sum(starts[i], Const(j.length)), Const(j.due))
	}
	end := m.NewInt("end", Range(0, 100))
	for i, j := range jobs {
		m.AtLeast(end, Sum(starts[i], Const(j.length)))
	}
	m.Minimize(end)
	r := solved(t, m, Params{})
	s, ok := r.Solution()
	if v, _ := r.Objective(); r.Status != Optimal || !ok || v != 7 {
		t.Fatalf("%v, ends at %v, want 7", r.Status, v)
	}
	for i, j := range jobs {
		if end := s.Int(starts[i]) + j.length; end > j.due {
			t.Errorf("job %d ends at %d, after %d", i+1, end, j.due)
		}
	}
	for i, start := range []int64{5, 2, 3, 0} { // the published order
		m.Hint(starts[i], start)
	}
	if r := solved(t, m, Params{FixHint: true}); r.Status != Optimal {
		t.Errorf("the published order: %v", r.Status)
	}
	clear(m.hints)
	// One unit less and it can't be done.
	m.AtMost(end, Const(6))
	if r := solved(t, m, Params{}); r.Status != Infeasible {
		t.Errorf("%v in six units", r.Status)
	}
}

// Fewest late jobs. Pinedo, Scheduling, exercise 3.3.3: lengths 7 8 4 6 6, due
// 9 17 18 19 21: two are late (quoted; recomputed). The documentation of the
// crate moore-hodgson: (due, length) (6,5) (7,1) (4,1) (6,4) (8,3): three are
// on time (read and recomputed).
func TestFewestLate(t *testing.T) {
	for _, c := range []struct {
		name string
		jobs []job
		want float64
	}{
		{"Pinedo 3.3.3", []job{{7, 0, 9}, {8, 0, 17}, {4, 0, 18}, {6, 0, 19}, {6, 0, 21}}, 2},
		{"moore-hodgson", []job{{5, 0, 6}, {1, 0, 7}, {1, 0, 4}, {4, 0, 6}, {3, 0, 8}}, 2},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := NewModel(c.name)
			var tasks []Interval
			late := Sum()
			for i, j := range c.jobs {
				on := m.NewBool(fmt.Sprint("on time ", i+1))
				start := m.NewInt("", Range(j.release, j.due-j.length))
				tasks = append(tasks, m.OptionalInterval(fmt.Sprint("job ", i+1), start, Const(j.length), Sum(start, Const(j.length)), on))
				late.Add(on.Not())
			}
			m.NoOverlap(tasks...)
			m.Minimize(late)
			r := solved(t, m, Params{})
			if v, _ := r.Objective(); r.Status != Optimal || v != c.want {
				t.Errorf("%v, %v late, want %v", r.Status, v, c.want)
			}
		})
	}
}

// Periods and lengths (3,1) (5,2) (8,3), every instance due with the next one's
// release: the first 16 units cannot hold the 17 that fall due in them
// (recomputed). With one unit less in the last job they can.
func TestPeriodic(t *testing.T) {
	for last, want := range map[int64]Status{3: Infeasible, 2: Optimal} {
		m := NewModel("periodic")
		var tasks []Interval
		for _, p := range [][2]int64{{3, 1}, {5, 2}, {8, last}} {
			for release := int64(0); release+p[0] <= 16; release += p[0] {
				// Preemption is allowed, so each unit is a job of its own.
				for range p[1] {
					tasks = append(tasks, m.Task("", m.NewInt("", Range(release, release+p[0]-1)), 1))
				}
			}
		}
		m.NoOverlap(tasks...)
		if r := solved(t, m, Params{}); r.Status != want {
			t.Errorf("last of length %d: %v, want %v", last, r.Status, want)
		}
	}
}
