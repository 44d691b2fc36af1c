package memory

import (
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"primaprova/model"
)

func TestGaps(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 1))
	for range 60 {
		c, interval, target := Fit(someChecks(r, r.IntN(300))), r.IntN(40), 0.5+0.5*r.Float64()
		gaps := c.Gaps(5, interval, target)
		if len(gaps) != 4 || !slices.IsSorted(gaps) || gaps[0] < 1 || gaps[3] > Most(interval) {
			t.Fatalf("%d days before: gaps %v", interval, gaps)
		}
		for k, gap := range gaps {
			longest := gap == Most(interval) || c.least(k+1, gap+1) < target
			if held := gap == 1 || c.least(k+1, gap) >= target || k > 0 && gap == gaps[k-1]; !held || !longest {
				t.Errorf("gap %d after visit %d: held %.3f, a day longer %.3f, for %.3f", gap, k+1, c.least(k+1, gap), c.least(k+1, gap+1), target)
			}
		}
	}
	for interval, most := range map[int]int{0: 1, 1: 1, 4: 1, 5: 2, 7: 2, 8: 3, 14: 5, 35: 14} {
		if Most(interval) != most {
			t.Errorf("%d days before: %d days at most instead of %d", interval, Most(interval), most)
		}
	}
	// What habits take: a gap for each least gap, and none under it.
	h := model.DefaultHabits()
	if gaps, now := Fit(nil).Preferred(&h); !slices.Equal(gaps, []int{1, 3, 4, 5}) || !slices.Equal(now, []int{2, 4, 7, 9}) {
		t.Errorf("gaps %v in place of %v", gaps, now)
	}
	always := slices.Repeat([]model.Check{{Hard: 2, Visits: 3, Gap: 5, Held: true}}, 200)
	if gaps := Fit(always).Gaps(4, 14, Target); !slices.Equal(gaps, []int{5, 5, 5}) {
		t.Errorf("who always holds has gaps %v", gaps)
	}
	for i := range always {
		always[i].Held = i%2 == 0
	}
	if gaps := Fit(always).Gaps(4, 14, Target); !slices.Equal(gaps, []int{1, 1, 1}) {
		t.Errorf("who holds half of it has gaps %v", gaps)
	}
}

// TestAtRehearsal: two visits done, one of which did not hold, and one planned, a
// passage without any, one that is due later.
func TestAtRehearsal(t *testing.T) {
	day := func(n int) model.Date { return model.NewDate(2027, time.March, n) }
	visits := []model.Minutes{10, 10, 10}
	s := &model.Season{From: day(1), To: day(28), Limits: model.DefaultLimits(), Habits: model.DefaultHabits(), Programmes: []model.Programme{{ID: "p",
		Services: []model.Service{{Kind: model.Rehearsal, Date: day(20)}, {Kind: model.Concert, Date: day(24)}},
		Parts: []model.Part{{ID: "w", Arrives: day(1), Passages: []model.Passage{{ID: "a", Hard: 3, Visits: visits},
			{ID: "b", Hard: 1, Visits: visits}, {ID: "c", Hard: 2, Visits: visits, Due: day(24)}}}}}}}
	record := []model.Event{{Entry: 1, Kind: model.Done, Date: day(3), Session: "p/w/a/visit-1"}, {Entry: 2, Kind: model.Done, Date: day(5), Session: "p/w/a/visit-2"},
		{Entry: 3, Kind: model.DidNotHold, Date: day(9), Session: "p/w/a/visit-3"}, {Entry: 4, Kind: model.Done, Date: day(10), Session: "p/w/a/visit-4"}, {Entry: 5, Kind: model.Done, Date: day(12), Session: "p/w/a/visit-5"}}
	h, remarks := s.Replay(record, nil, model.Replaying{Today: day(13)})
	if len(remarks) > 0 {
		t.Fatal(remarks)
	}
	want := []model.Check{{Passage: "p/w/a", Date: day(9), Hard: 3, Visits: 2, Gap: 4}, {Passage: "p/w/a", Date: day(12), Hard: 3, Visits: 4, Failed: 1, Gap: 2, Held: true}}
	if !slices.Equal(h.Checks, want) {
		t.Errorf("checks %+v", h.Checks)
	}
	name, other := "p/w/a", "p/w/c"
	p := &model.Plan{Sessions: []model.Session{{Date: day(10), Passage: &name}, {Date: day(14), Passage: &name}, {Date: day(21), Passage: &name}, {Date: day(15), Passage: &other}}}
	cases, untouched := AtRehearsal(s, h, p)
	if !slices.Equal(cases, []Case{{Hard: 3, Visits: 6, Failed: 1, Gap: 6}}) || untouched != 1 {
		t.Errorf("%+v, %d without a visit", cases, untouched)
	}
}
