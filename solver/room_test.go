package solver

import (
	"math/rand/v2"
	"testing"

	"primaprova/model/invent"
	"primaprova/solver/construct"
	"primaprova/solver/instance"
)

// A frame whose days are taken finds others near it, in the right order.
func TestRoomForAFrame(t *testing.T) {
	p := instance.New(invent.Season(invent.Grown(6, 2, true, 1)), nil, nil)
	s := construct.Greedy(p)
	r := rand.New(rand.NewPCG(7, 7))
	moved := 0
	for n := range 400 {
		i := n % len(p.Parts)
		q := &p.Parts[i]
		was, days := s.Frames[i], append([][]instance.Day{}, s.Sched[q.First:q.Last]...)
		if was.Read < 0 {
			continue
		}
		s.LiftPart(i)
		f := was
		f.Read = instance.Day(q.WinLo + r.IntN(q.WinHi-q.WinLo+1))
		f.Listen, f.Phi = min(f.Listen, f.Read), max(f.Phi, f.Read)
		most := n % 8
		if g := s.NearestFrame(i, f, most); g.Read != instance.None {
			if by := int(g.Read) - int(f.Read); max(by, -by) > most {
				t.Fatalf("wanted %v within %d days, got %v", f, most, g)
			}
			if !s.TakesFrame(q, g) || q.Listen > 0 && g.Listen > g.Read || g.Rec != instance.None && g.Rec <= g.Read || g.Phi < g.Read {
				t.Fatalf("wanted %v, got %v", f, g)
			}
			if g != f {
				moved++
			}
		}
		s.SetFrame(i, was)
		for k, d := range days {
			if len(d) > 0 {
				s.Place(q.First+k, d)
			}
		}
	}
	if moved == 0 {
		t.Error("no day was ever taken: the season is too easy")
	}
}
