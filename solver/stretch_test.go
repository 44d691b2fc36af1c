package solver

import (
	"context"
	"slices"
	"testing"

	"primaprova/model"
	"primaprova/solver/conflict"
	"primaprova/solver/tiny"
)

// TestStretchOfPeriodicTasks: lengths 1, 2, 3 with periods 3, 5, 8 ask for 17
// days' work in the first 16 (computed; the demand test is that of Baruah,
// Rosier, Howell, Real-Time Systems 2, 301-324, 1990). The stretch that check
// names is that one, and each task's share is what falls due in it.
func TestStretchOfPeriodicTasks(t *testing.T) {
	jobs := slices.Concat(tiny.Every(3, 3, 1, 16), tiny.Every(5, 5, 2, 16), tiny.Every(8, 8, 3, 16))
	c := tiny.Shop(16, jobs...)
	short := slices.DeleteFunc(c.Season.Stretches(c.History), func(s model.Stretch) bool { return s.Short() == 0 })
	if len(short) != 1 {
		t.Fatalf("%d stretches are short: %v", len(short), short)
	}
	s := short[0]
	if want := (model.Range{From: c.Season.From, To: c.Season.From + 15}); s.Days != want || s.Need != 17*5 || s.Has != 16*5 {
		t.Errorf("%v needs %d and has %d; published are 17 units in %v", s.Days, s.Need, s.Has, want)
	}
	if s.Short() != 5 || len(s.Shares) != 1 || s.Shares[0].Need != s.Need {
		t.Errorf("short by %d, shares %v", s.Short(), s.Shares)
	}
	// (1,5,5) (4,8,9) (2,4,6), read and recomputed, fit with nothing to spare
	// in the first 10, 17 and 35 days.
	fits := tiny.Shop(90, slices.Concat(tiny.Every(5, 5, 1, 90), tiny.Every(9, 8, 4, 90), tiny.Every(6, 4, 2, 90))...)
	for _, s := range fits.Season.Stretches(fits.History) {
		if s.Short() > 0 {
			t.Errorf("%v is short by %d, though all fits", s.Days, s.Short())
		}
	}
}

// TestShortStretchesProve, by trying every plan: what has no day left is left
// out by every plan, and where a stretch is short more than that is.
func TestShortStretchesProve(t *testing.T) {
	whole, short := 0, 0
	for seed := range 400 {
		c := tiny.Draw(tiny.DieOf(seed), tiny.Size{Days: 10, Passages: 3, Visits: 3})
		h := &c.Season.Habits
		h.VisitValues, h.ListenValue, h.ReadValue, h.RecordValue = []int{1}, 1, 1, 1
		least, proven := int64(0), false
		for _, x := range c.Season.Roomless(c.History) {
			least += int64(x.Value)
		}
		for _, s := range c.Season.Stretches(c.History) {
			proven = proven || s.Short() > 0
		}
		b := tiny.NewBrute(c.Problem())
		b.Try(0)
		left := b.Best[model.Coverage]
		if left < least || proven && left == least {
			t.Errorf("season %d: %d points are left out; without a day are %d, a short stretch: %v", seed, left, least, proven)
		}
		if proven {
			short++
		} else if left == 0 {
			whole++
		}
	}
	t.Logf("of 400 seasons %d take everything, %d have a stretch that is short", whole, short)
	if whole < 40 || short < 40 {
		t.Error("too few seasons of one kind")
	}
}

// TestReasonOfPeriodicTasks: the reason for the unit that is left out of the 17
// names the first 16 days, whose cap is one unit each; by the deletion of facts
// too.
func TestReasonOfPeriodicTasks(t *testing.T) {
	c := tiny.Shop(16, slices.Concat(tiny.Every(3, 3, 1, 16), tiny.Every(5, 5, 2, 16), tiny.Every(8, 8, 3, 16))...)
	plan := solved(c, t).Assemble(c.History, nil)
	_, ids := tiny.LeftOf(plan)
	if len(ids["a/w"]) != 1 {
		t.Fatalf("%d units are left out", len(ids["a/w"]))
	}
	q, err := conflict.Inquire(c.Season, Options{Engine: tiny.HiGHS(t), History: c.History, Standing: plan})
	if err != nil {
		t.Fatal(err)
	}
	r, err := q.Why(context.Background(), ids["a/w"])
	if err != nil {
		t.Fatal(err)
	}
	whole := model.Range{From: c.Season.From, To: c.Season.From + 15}
	if r.Outcome != conflict.Forced || r.Untried > 0 || r.Stretch.Days != whole || r.Stretch.Need != 17*5 || r.Stretch.Has != 16*5 {
		t.Errorf("%s, %d untried, %v needs %d and has %d", r.Outcome, r.Untried, r.Stretch.Days, r.Stretch.Need, r.Stretch.Has)
	}
	caps := model.Range{From: whole.To, To: whole.From}
	for _, f := range r.Facts {
		if f.Kind == conflict.CapFact {
			caps = model.Range{From: min(caps.From, f.Days.From), To: max(caps.To, f.Days.To)}
		}
	}
	if caps != whole {
		t.Errorf("the caps that force it are those of %v, published are the first 16 days", caps)
	}
}
