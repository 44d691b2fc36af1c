package solver

import (
	"context"
	"testing"

	"primaprova/model"
)

// TestColumnsAgainstBruteForce: on tiny seasons the method by columns breaks no
// rule, is never better than the best, and its bounds never lie above what the
// best plan shows to be possible.
func TestColumnsAgainstBruteForce(t *testing.T) {
	library := highsLibrary(t)
	best, proven, wishes := 0, 0, 0
	for seed := range bruteSeasons {
		c := tinySeason(dieOf(seed), tinySize{10, 3, 3})
		p := c.problem()
		b := newBrute(p)
		b.try(0)
		w := &search{p: p, o: &Options{Engine: library, History: c.history, Standing: c.standing}, st: greedy(p), told: func(string, float64) {}}
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
		for j := range model.Wishes {
			// A bound is for plans as good in every wish before; the best plan
			// is one of them as long as the two agree there.
			if w.bound[j] > b.best[j] {
				t.Errorf("season %d: %v cannot be below %d, it is said, yet is %d (%v)", seed, model.Wish(j), w.bound[j], b.best[j], got)
			}
			if got[j] != b.best[j] {
				break
			}
			wishes++
			if w.bound[j] == got[j] {
				proven++
			}
		}
		for _, breach := range c.season.Audit(w.st.assemble(c.history, c.standing), c.history) {
			t.Errorf("season %d: %v", seed, breach)
		}
	}
	t.Logf("%d of %d seasons solved to the best; %d of their %d wishes proven", best, bruteSeasons, proven, wishes)
}
