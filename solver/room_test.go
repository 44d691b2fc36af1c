package solver

import (
	"math/rand/v2"
	"testing"

	"primaprova/model/invent"
)

// A frame whose days are taken finds others near it, in the right order.
func TestRoomForAFrame(t *testing.T) {
	p := build(invent.Season(invent.Grown(6, 2, true, 1)), nil, nil)
	s := greedy(p)
	r := rand.New(rand.NewPCG(7, 7))
	moved := 0
	for n := range 400 {
		i := n % len(p.parts)
		q := &p.parts[i]
		was, days := s.frames[i], append([][]int16{}, s.sched[q.first:q.last]...)
		if was.read < 0 {
			continue
		}
		s.liftPart(i)
		f := was
		f.read = int16(q.winLo + r.IntN(q.winHi-q.winLo+1))
		f.listen, f.phi = min(f.listen, f.read), max(f.phi, f.read)
		most := n % 8
		if g := s.room(i, f, most); g.read != none {
			if by := int(g.read) - int(f.read); max(by, -by) > most {
				t.Fatalf("wanted %v within %d days, got %v", f, most, g)
			}
			if !s.takesFrame(q, g) || q.listen > 0 && g.listen > g.read || g.rec != none && g.rec <= g.read || g.phi < g.read {
				t.Fatalf("wanted %v, got %v", f, g)
			}
			if g != f {
				moved++
			}
		}
		s.setFrame(i, was)
		for k, d := range days {
			if len(d) > 0 {
				s.place(q.first+k, d)
			}
		}
	}
	if moved == 0 {
		t.Error("no day was ever taken: the season is too easy")
	}
}
