package solver

import (
	"math/rand/v2"
	"testing"

	"primaprova/model/invent"
)

// Whatever frame a part is put in, those of the others that give way keep what they
// have and when they are read through, all have room, and who has room stays.
func TestOthersGiveWay(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	given, refused := 0, 0
	for seed := range uint64(4) {
		p := build(invent.Season(invent.Demo(seed)), nil, nil)
		frames := greedy(p).frames
		for n := range 400 {
			i := n % len(p.parts)
			q := &p.parts[i]
			f := frames[i]
			if f.read < 0 {
				continue
			}
			f.read = int16(q.winLo + r.IntN(q.winHi-q.winLo+1))
			f.phi = max(f.phi, f.read)
			if f.listen >= 0 {
				f.listen = int16(q.winLo + r.IntN(int(f.read)-q.winLo+1))
			}
			if f.rec >= 0 && f.rec <= f.read {
				f.rec = none
			}
			out := p.giveWay(frames, i, f)
			if out == nil {
				refused++
				continue
			}
			if out[i] != f {
				t.Fatalf("season %d: asked for %v, got %v", seed, f, out[i])
			}
			if p.stagesIn(out) == nil {
				t.Fatalf("season %d: no room for %v", seed, out)
			}
			alone := append([]frame{}, frames...)
			alone[i] = f
			fits := p.stagesIn(alone) != nil
			for j, g := range out {
				switch was := frames[j]; {
				case j == i || g == was:
				case fits:
					t.Fatalf("season %d: there is room, and yet part %d goes from %v to %v", seed, j, was, g)
				case g.read != was.read || g.phi != was.phi || (g.listen == none) != (was.listen == none) || (g.rec == none) != (was.rec == none):
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
