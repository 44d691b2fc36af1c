package hours

import (
	"context"
	"testing"

	"primaprova/solver/tiny"
)

// Hours that CP-SAT once found nothing better than stay without being looked at
// again: the day is laid out without an engine. Where nobody chose them they are
// looked at, and some get better.
func TestFirstFitThatWasChosenStays(t *testing.T) {
	l := tiny.CPSAT(t)
	kept, better := 0, 0
	for seed := range 60 {
		s, sessions := anyDay(tiny.DieOf(seed), 6, 240)
		if !s.LayOut(theDay, sessions) {
			continue
		}
		stood := clones(sessions)
		d := &day{s: s, date: theDay, sessions: sessions, stood: stood, chosen: true}
		if err := d.layOut(context.Background(), nil); err != nil || d.changed {
			t.Fatalf("seed %d: changed %v, %v", seed, d.changed, err)
		}
		for i, v := range sessions {
			if *v.Start != *stood[i].Start || *v.Ends != *stood[i].Ends {
				t.Errorf("seed %d: %s moved", seed, v.ID)
			}
		}
		kept++
		d.chosen = false
		if err := d.layOut(context.Background(), l); err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		if d.changed {
			better++
		}
	}
	if kept < 20 || better < 5 {
		t.Errorf("%d kept, %d better when looked at", kept, better)
	}
}
