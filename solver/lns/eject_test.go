package lns

import (
	"math/rand/v2"
	"testing"

	"primaprova/model/invent"
	"primaprova/solver/construct"
	"primaprova/solver/instance"
)

// Whatever frame a part is put in, those of the others that give way keep what they
// have and when they are read through, all have room, and who has room stays.
func TestOthersGiveWay(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	given, refused := 0, 0
	for seed := range uint64(4) {
		p := instance.New(invent.Season(invent.Demo(seed)), nil, nil)
		frames := construct.Greedy(p).Frames
		for n := range 400 {
			i := n % len(p.Parts)
			q := &p.Parts[i]
			f := frames[i]
			if f.Read < 0 {
				continue
			}
			f.Read = instance.Day(q.WinLo + r.IntN(q.WinHi-q.WinLo+1))
			f.Phi = max(f.Phi, f.Read)
			if f.Listen >= 0 {
				f.Listen = instance.Day(q.WinLo + r.IntN(int(f.Read)-q.WinLo+1))
			}
			if f.Rec >= 0 && f.Rec <= f.Read {
				f.Rec = instance.None
			}
			out := eject(p, frames, i, f)
			if out == nil {
				refused++
				continue
			}
			if out[i] != f {
				t.Fatalf("season %d: asked for %v, got %v", seed, f, out[i])
			}
			if p.StagesIn(out) == nil {
				t.Fatalf("season %d: no room for %v", seed, out)
			}
			alone := append([]instance.Frame{}, frames...)
			alone[i] = f
			fits := p.StagesIn(alone) != nil
			for j, g := range out {
				switch was := frames[j]; {
				case j == i || g == was:
				case fits:
					t.Fatalf("season %d: there is room, and yet part %d goes from %v to %v", seed, j, was, g)
				case g.Read != was.Read || g.Phi != was.Phi || (g.Listen == instance.None) != (was.Listen == instance.None) || (g.Rec == instance.None) != (was.Rec == instance.None):
					t.Fatalf("season %d: part %d goes from %v to %v", seed, j, was, g)
				default:
					given++
				}
			}
		}
	}
	if given == 0 || refused == 0 {
		t.Errorf("%d gave way, %d were refused: that tells nothing", given, refused)
	}
}
