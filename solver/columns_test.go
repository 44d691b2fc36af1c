package solver

import (
	"context"
	"testing"

	"primaprova/model"
	"primaprova/solver/construct"
	"primaprova/solver/tiny"
)

// TestColumnsAgainstBruteForce: on tiny seasons moves and columns alone, without
// the written-out program at the end, break no rule and are never better than
// the best, and their bounds never lie above what the best plan shows to be
// possible.
func TestColumnsAgainstBruteForce(t *testing.T) {
	library := tiny.HiGHS(t)
	best, proven, wishes := 0, 0, 0
	for seed := range tiny.BruteSeasons {
		c := tiny.Draw(tiny.DieOf(seed), tiny.Size{Days: 10, Passages: 3, Visits: 3})
		p := c.Problem()
		b := tiny.NewBrute(p)
		b.Try(0)
		w := newSearch(p, &Options{Engine: library, History: c.History, Standing: c.Standing}, construct.Greedy(p))
		w.apart = true
		if err := w.run(context.Background()); err != nil {
			t.Fatalf("season %d: %v", seed, err)
		}
		w.Close()
		got := w.st.Score()
		if got.Less(b.Best) {
			t.Errorf("season %d: %v is better than the best, %v", seed, got, b.Best)
		}
		if got == b.Best {
			best++
		}
		least := w.Proven.All(got)
		for j := range model.Wishes {
			// A bound is for plans as good in every wish before; the best plan
			// is one of them as long as the two agree there.
			if least[j] > b.Best[j] {
				t.Errorf("season %d: %v cannot be below %d, it is said, yet is %d (%v)", seed, model.Wish(j), least[j], b.Best[j], got)
			}
			if got[j] != b.Best[j] {
				break
			}
			wishes++
			if least[j] == got[j] {
				proven++
			}
		}
		for _, breach := range c.Season.Audit(w.st.Assemble(c.History, c.Standing), c.History) {
			t.Errorf("season %d: %v", seed, breach)
		}
	}
	t.Logf("%d of %d seasons solved to the best; %d of their %d wishes proven", best, tiny.BruteSeasons, proven, wishes)
	if best < tiny.BruteSeasons*8/10 || proven < wishes*8/10 {
		t.Error("that is fewer than it was")
	}
}
