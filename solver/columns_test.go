package solver

import (
	"context"
	"testing"

	"primaprova/model"
)

// TestColumnsAgainstBruteForce: on tiny seasons moves and columns alone, without
// the written-out program at the end, break no rule and are never better than
// the best, and their bounds never lie above what the best plan shows to be
// possible.
func TestColumnsAgainstBruteForce(t *testing.T) {
	library := highsLibrary(t)
	best, proven, wishes := 0, 0, 0
	for seed := range bruteSeasons {
		c := tinySeason(dieOf(seed), tinySize{10, 3, 3})
		p := c.problem()
		b := newBrute(p)
		b.try(0)
		w := newSearch(p, &Options{Engine: library, History: c.history, Standing: c.standing}, greedy(p))
		w.apart = true
		if err := w.run(context.Background()); err != nil {
			t.Fatalf("season %d: %v", seed, err)
		}
		w.close()
		got := w.st.score()
		if got.less(b.best) {
			t.Errorf("season %d: %v is better than the best, %v", seed, got, b.best)
		}
		if got == b.best {
			best++
		}
		least := w.proven.all(got)
		for j := range model.Wishes {
			// A bound is for plans as good in every wish before; the best plan
			// is one of them as long as the two agree there.
			if least[j] > b.best[j] {
				t.Errorf("season %d: %v cannot be below %d, it is said, yet is %d (%v)", seed, model.Wish(j), least[j], b.best[j], got)
			}
			if got[j] != b.best[j] {
				break
			}
			wishes++
			if least[j] == got[j] {
				proven++
			}
		}
		for _, breach := range c.season.Audit(w.st.assemble(c.history, c.standing), c.history) {
			t.Errorf("season %d: %v", seed, breach)
		}
	}
	t.Logf("%d of %d seasons solved to the best; %d of their %d wishes proven", best, bruteSeasons, proven, wishes)
	if best < bruteSeasons*8/10 || proven < wishes*8/10 {
		t.Error("that is fewer than it was")
	}
}
