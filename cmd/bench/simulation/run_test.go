package simulation

import (
	"context"
	"testing"

	"primaprova/model"
	"primaprova/solver/tiny"
)

// TestPlanningAgainPays: in an easy season more parts stand ready than by
// following the first plan, no fewer than by doing what is due first, and more
// passages hold than by either. One season shows that the pieces work together;
// make bench shows what they are worth.
func TestPlanningAgainPays(t *testing.T) {
	rows, err := Run(context.Background(), tiny.HiGHS(t), Options{Tightnesses: []float64{0.3}, Seasons: 1})
	if err != nil {
		t.Fatal(err)
	}
	urgent, again, blindly, due := rows[0], rows[1], rows[2], rows[3]
	if again.Ready <= blindly.Ready || again.Ready < due.Ready {
		t.Errorf("ready: %d planned again, %d blindly, %d due first", again.Ready, blindly.Ready, due.Ready)
	}
	if again.Holds() <= blindly.Holds() || again.Holds() <= due.Holds() {
		t.Errorf("holding: %.3f planned again, %.3f blindly, %.3f due first", again.Holds(), blindly.Holds(), due.Holds())
	}
	for _, r := range rows[1:] {
		p := r.Against
		if p == nil || p.Won-p.Lost != urgent.Ready-r.Ready || len(p.Differences) != 1 || p.Differences[0] != urgent.Ready-r.Ready {
			t.Errorf("%s: %+v, ready %d against %d", r.Way, p, urgent.Ready, r.Ready)
		}
	}
	if urgent.Against != nil || again.Alone > again.Parts || again.Alone == 0 || again.Alone != due.Alone {
		t.Errorf("%+v", again)
	}
	if again.Known < again.Ready || again.Known > again.Parts {
		t.Errorf("%d parts would be whole with all luck known, %d are ready", again.Known, again.Ready)
	}
	if again.Missed >= blindly.Missed {
		t.Errorf("worth missed: %d planned again, %d blindly", again.Missed, blindly.Missed)
	}
}

// TestLuckIsTheSame: what happens hangs on the seed and on what it happens to.
func TestLuckIsTheSame(t *testing.T) {
	w, d := Ordinary(1, false), model.NewDate(2027, 3, 1)
	lost, fails, sum := 0, 0, model.Minutes(0)
	const n = 4000
	for i := range model.Date(n) {
		isLost, took := w.lost(d+i), w.takes("a/b/c/visit-1", d+i, 20)
		if isLost != w.lost(d+i) || took != w.takes("a/b/c/visit-1", d+i, 20) {
			t.Fatal("asked twice, two answers")
		}
		sum += w.takes("a/b/c/visit-1", d+i, 20)
		if w.lost(d + i) {
			lost++
		}
		if !w.holds("p", int(i), 0.92) {
			fails++
		}
	}
	if mean := float64(sum) / n; mean < 21.5 || mean > 22.5 { // 1.1 times 20
		t.Errorf("20 minutes take %.2f on average", mean)
	}
	if share := float64(lost) / n; share < 0.025 || share > 0.055 { // two days on average from 0.02
		t.Errorf("a share of %.3f of the days is lost", share)
	}
	if share := float64(fails) / n; share < 0.06 || share > 0.1 {
		t.Errorf("a share of %.3f of the checks fails", share)
	}
}
