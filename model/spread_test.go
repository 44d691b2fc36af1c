package model

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Spread by hand, and against players whose spread is known.
func TestSpread(t *testing.T) {
	visits := Effort{PassageStage, 2}
	near := func(got, want, by float64) bool { return math.Abs(got-want) <= by }
	l := Learnt{}
	if k := l.Spread(visits); k.Mean != 1 || !near(k.Ratio, math.Sqrt(2.5/60), 1e-12) || k.Minute != 2.5 {
		t.Errorf("nothing recorded: %+v", k)
	}
	for range 6 {
		l.add(visits, 10, 10) // done, and no minutes given
	}
	if k := l.Spread(visits); k.Mean != 1 || !near(k.Ratio, math.Sqrt(2.5/120), 1e-12) || k.Minute != 2.5 {
		t.Errorf("without minutes: %+v", k)
	}
	for _, took := range []Minutes{6, 14} {
		l.add(visits, 10, took)
		l.addTimed(visits, 10, took)
	}
	// (10·2.5 + (36 + 196)/10 − 20²/20) / (10 + 1)
	if k := l.Spread(visits); !near(k.Minute, (25+23.2-20)/11, 1e-12) {
		t.Errorf("two with minutes: %+v", k)
	}
	r := rand.New(rand.NewPCG(1, 2))
	l = Learnt{}
	for range 3000 {
		m := Minutes(10 + 5*r.IntN(3))
		took := Minutes(max(1, 1.3*float64(m)+math.Sqrt(4*float64(m))*r.NormFloat64()+0.5))
		l.add(visits, m, took)
		l.addTimed(visits, m, took)
	}
	if k := l.Spread(visits); !near(k.Mean, 1.3, 0.01) || !near(k.Minute, 4, 0.3) || k.Ratio > 0.01 {
		t.Errorf("a player 1.3 times over, with variance 4 a minute: %+v", k)
	}
}

// Only what the record gives minutes for tells of the spread.
func TestTimed(t *testing.T) {
	s, p := fixture()
	events := happened(
		Event{Kind: Done, Date: march(3), Session: pageA + "/visit-1", Took: 20},
		Event{Kind: Done, Date: march(4), Session: pageA + "/visit-2"})
	h, _ := s.Replay(events, p, Replaying{Today: march(7)})
	got := h.Learnt[Effort{PassageStage, 2}]
	if got.Sessions != 2 || got.Timed != (Timed{1, 10, 20, 40}) {
		t.Errorf("%+v", got)
	}
}
