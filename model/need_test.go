package model

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// task is a task of the literature: length, release and due time in units; it
// may use the units released..due-1.
type task struct{ length, released, due int }

// seasonOf states tasks as a season with one minute of room a day: each task
// is a passage of one visit in a part of its own, released when the part
// arrives and due on the first rehearsal.
func seasonOf(tasks []task) *Season {
	s := &Season{From: march(1), Limits: DefaultLimits(), Habits: DefaultHabits()}
	s.Habits.Step, s.Limits.WarmUp, s.Limits.Playing.Every = 1, 0, 1
	for i, x := range tasks {
		s.To = max(s.To, march(1+x.due))
		s.Programmes = append(s.Programmes, Programme{ID: fmt.Sprint(i),
			Services: []Service{{Kind: Rehearsal, Date: march(1 + x.due)}},
			Parts: []Part{{ID: "p", Arrives: march(1 + x.released), Passages: []Passage{
				{ID: "A", Hard: 1, Visits: []Minutes{Minutes(x.length)}}}}}})
	}
	return s
}

// fits tells whether no stretch is short, by way of the season's needs.
func fits(tasks []task) bool {
	for _, n := range seasonOf(tasks).Needs(nil) {
		if n.Short() > 0 || n.Past > 0 {
			return false
		}
	}
	return true
}

func later(tasks []task, by int) []task {
	out := slices.Clone(tasks)
	for i := range out {
		out[i].due += by
	}
	return out
}

// TestDemandTestOnPublishedInstances: the tasks fit exactly when the source
// says so. All of these may be split (or gain nothing by not being split).
func TestDemandTestOnPublishedInstances(t *testing.T) {
	for _, c := range []struct {
		source   string
		tasks    []task
		lateness int // the least possible greatest lateness
	}{
		{"Horn's rule, instance H1, quoted: ends 8, 6, 7, 12", []task{{3, 0, 13}, {2, 4, 8}, {3, 2, 11}, {4, 0, 16}}, -2},
		{"Kleinberg and Tardos, Algorithm Design, chapter 4 (from memory)",
			[]task{{3, 0, 6}, {2, 0, 8}, {1, 0, 9}, {4, 0, 9}, {3, 0, 14}, {2, 0, 15}}, 1},
	} {
		if !fits(later(c.tasks, c.lateness)) || fits(later(c.tasks, c.lateness-1)) {
			t.Errorf("%s: lateness %d is not the least", c.source, c.lateness)
		}
	}
	// Bratley's instance: order 4, 2, 3, 1 ends at 7, in time; it can't end sooner.
	bratley := []task{{2, 4, 7}, {1, 1, 5}, {2, 1, 6}, {2, 0, 4}}
	if !fits(bratley) {
		t.Error("Bratley's instance fits")
	}
	sooner := slices.Clone(bratley)
	for i := range sooner {
		sooner[i].due = min(sooner[i].due, 6)
	}
	if fits(sooner) {
		t.Error("Bratley's instance can't end before 7")
	}
}

// TestFewestLate: the least number of tasks to leave out so that the rest fits
// is the number of late tasks.
func TestFewestLate(t *testing.T) {
	for _, c := range []struct {
		source string
		tasks  []task
		late   int
	}{
		{"Pinedo, Scheduling, example 3.3.3, quoted", []task{{7, 0, 9}, {8, 0, 17}, {4, 0, 18}, {6, 0, 19}, {6, 0, 21}}, 2},
		{"documentation of the crate moore-hodgson: 3 of 5 on time", []task{{5, 0, 6}, {1, 0, 7}, {1, 0, 4}, {4, 0, 6}, {3, 0, 8}}, 2},
	} {
		fewest := len(c.tasks)
		for out := range 1 << len(c.tasks) {
			var kept []task
			for i, x := range c.tasks {
				if out>>i&1 == 0 {
					kept = append(kept, x)
				}
			}
			if fits(kept) {
				fewest = min(fewest, len(c.tasks)-len(kept))
			}
		}
		if fewest != c.late {
			t.Errorf("%s: %d late instead of %d", c.source, fewest, c.late)
		}
	}
}

// periodic gives the tasks of (length, due, period) up to a time.
func periodic(until int, kinds ...[3]int) []job {
	var out []job
	for _, k := range kinds {
		for at := 0; at+k[1] <= until; at += k[2] {
			out = append(out, job{minutes: Minutes(k[0]), first: at, last: at + k[1] - 1})
		}
	}
	return out
}

// TestPeriodicTasks: instances of the paper on the demand test, Baruah, Rosier,
// Howell, Real-Time Systems 2, 301-324 (1990), as quoted; the second from
// recomputation.
func TestPeriodicTasks(t *testing.T) {
	demand := func(jobs []job, from, to int) (sum Minutes) {
		for _, j := range jobs {
			if from <= j.first && j.last < to {
				sum += j.minutes
			}
		}
		return sum
	}
	ones := slices.Repeat([]Minutes{1}, 200)
	tight := periodic(180, [3]int{1, 5, 5}, [3]int{4, 8, 9}, [3]int{2, 4, 6}) // twice the common period of 90
	for _, end := range []int{10, 17, 35} {
		if got := demand(tight, 0, end); got != Minutes(end) {
			t.Errorf("%v due in the first %d", got, end)
		}
	}
	if got := demandTest(tight, ones, 1, leastSlack)[0]; got.slack() != 0 {
		t.Errorf("the tightest stretch is %+v, with %v to spare", got, got.slack())
	}
	over := periodic(16, [3]int{1, 3, 3}, [3]int{2, 5, 5}, [3]int{3, 8, 8})
	if got := demand(over, 0, 16); got != 17 {
		t.Errorf("%v due in the first 16", got)
	}
	if got := demandTest(over, ones, 1, leastSlack)[0]; got.slack() != -1 {
		t.Errorf("the tightest stretch is %+v, with %v to spare", got, got.slack())
	}
}

// TestDemandTestAgreesWithEarliestDueFirst: split freely, work fits exactly
// when earliest due first builds it (Horn 1974, from memory).
func TestDemandTestAgreesWithEarliestDueFirst(t *testing.T) {
	did := map[bool]int{}
	rapid.Check(t, func(t *rapid.T) {
		room := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Minutes { return Minutes(rapid.IntRange(0, 9).Draw(t, "room")) }), 1, 10).Draw(t, "rooms")
		jobs := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) job {
			first := rapid.IntRange(0, len(room)-1).Draw(t, "first")
			return job{Minutes(rapid.IntRange(1, 9).Draw(t, "minutes")), first, rapid.IntRange(first, len(room)-1).Draw(t, "last"), rapid.IntRange(0, 2).Draw(t, "group")}
		}), 1, 8).Draw(t, "jobs")
		proven := true
		for _, x := range demandTest(jobs, room, 3, leastSlack) {
			proven = proven && x.slack() >= 0
		}
		left := slices.Clone(jobs)
		slices.SortFunc(left, func(a, b job) int { return a.last - b.last })
		for d, r := range room {
			for i := range left {
				if left[i].first <= d && d <= left[i].last {
					use := min(r, left[i].minutes)
					left[i].minutes -= use
					r -= use
				}
			}
		}
		built := !slices.ContainsFunc(left, func(j job) bool { return j.minutes > 0 })
		if proven != built {
			t.Fatalf("demand test %v, earliest due first %v", proven, built)
		}
		did[built]++
	})
	if did[true] == 0 || did[false] == 0 {
		t.Errorf("one side was never tried: %v", did)
	}
}

func TestNeedsByHand(t *testing.T) {
	s, _ := fixture()
	// 20 read through, 30 of A, 35 of B; ten days of 50 min, less one Monday,
	// and the Monday of arrival is one as well.
	want := Need{Programme: "tide", FirstRehearsal: march(12), Need: 85, Room: 9 * 50, Tightest: Range{march(1), march(11)}, TightestNeed: 85, TightestRoom: 9 * 50}
	if got := s.Needs(nil); len(got) != 1 || got[0] != want {
		t.Errorf("%+v instead of %+v", got, want)
	}
	// B is due on the 5th, so its 35 min belong into the days before.
	s.Programmes[0].Parts[0].Passages[1].Due = march(5)
	want.Tightest, want.TightestNeed, want.TightestRoom = Range{march(1), march(4)}, 35, 150
	if got := s.Needs(nil)[0]; got != want {
		t.Errorf("%+v instead of %+v", got, want)
	}
	// On the 8th all that is left of A are its last two visits; B was due and is due with A now.
	h := &History{Today: march(8), Stages: map[string]Date{slate + "/read-through": march(2)}, Visits: map[string][]Date{pageA: {march(3), march(4)}}}
	want = Need{Programme: "tide", FirstRehearsal: march(12), Need: 45, Room: 150, Tightest: Range{march(8), march(11)}, TightestNeed: 45, TightestRoom: 150}
	if got := s.Needs(h)[0]; got != want {
		t.Errorf("%+v instead of %+v", got, want)
	}
}

// TestNeedsKnowsOtherProgrammes: two programmes that fit alone and not together.
func TestNeedsKnowsOtherProgrammes(t *testing.T) {
	got := seasonOf([]task{{6, 0, 10}, {5, 0, 10}}).Needs(nil)
	for _, n := range got {
		if n.Need > n.Room || n.Short() != 1 {
			t.Errorf("%+v", n)
		}
	}
}

// TestShortMeansSomethingIsLeftOut: whatever a short stretch says must be true
// of the plan that a placer without cleverness makes.
func TestShortMeansSomethingIsLeftOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySeason(t)
		short := false
		for _, n := range s.Needs(nil) {
			short = short || n.Short() > 0
		}
		if short && len(firstFit(s, nil).Unplaced) == 0 {
			t.Error("a stretch is short, yet everything is placed")
		}
	})
}

func BenchmarkNeeds(b *testing.B) {
	s := &Season{From: march(1), To: march(1) + MostDays - 1, Limits: DefaultLimits(), Habits: DefaultHabits()}
	s.Limits.RestDays = []time.Weekday{time.Monday}
	for i := range 200 {
		first := march(40 + 5*i)
		s.Programmes = append(s.Programmes, Programme{ID: fmt.Sprint(i), Services: []Service{{Date: first}},
			Parts: []Part{{ID: "p", Arrives: first - 30, ReadThrough: 30, Estimate: 400}}})
	}
	for b.Loop() {
		s.Needs(nil)
	}
}

// What is used up to a greater share is tighter, between equals what holds more; what is
// short comes before all, by how much.
func TestTighter(t *testing.T) {
	order := []stretch{{need: 9, room: 5}, {need: 4, room: 3}, {need: 6, room: 6}, {need: 4, room: 8}, {need: 2, room: 4}, {need: 10, room: 100}}
	for i := range order {
		for j := range order {
			if got := tighter(order[i], order[j]); got != (i < j) {
				t.Errorf("%v before %v: %v", order[i], order[j], got)
			}
		}
	}
}

// A day takes only so many passages, whatever they last: of visits that is a supply, too.
func TestVisitsAreCounted(t *testing.T) {
	s, _ := fixture()
	s.Limits.Passages = 1
	s.Programmes[0].Parts[0].Arrives = march(5)
	for _, x := range s.Stretches(nil) {
		if x.Supply == VisitCount {
			if x.Need != 6 || x.Has != x.Days.Days()-1 || !x.Days.Holds(march(8)) { // a Monday
				t.Errorf("%+v", x)
			}
			return
		}
	}
	t.Error("visits have no stretch")
}
