package solver

import (
	"context"
	"slices"
)

// stirs is how often a walk's frames are stirred at most; stirLeast is what that has to
// have brought a part on average by then, else it ends; stirred is the share of the
// parts that are thrown about then, stirReach by how many days at most, and stirWalks is
// how often the walk goes through the parts after that. Fewer parts thrown further
// brought less. Ending as soon as it brings nothing costs the demo 30 days of spacing:
// the second time brings nothing there, and the third does again.
const (
	stirs     = 3
	stirLeast = 0.08
	stirred   = 0.6
	stirReach = 3
	stirWalks = 3
)

// stirUp stirs the parts listed, a stretch of the season, while that brings something
// and they have work left; walking took so much of it.
func (s *search) stirUp(ctx context.Context, k *spread, list []int, walked int64) error {
	most := int64(s.scaled(walkWork * len(list)))
	begun, saved := k.work, 0.0
	for n := 0; n < s.scaled(stirs) && (n == 0 || saved >= stirLeast*float64(len(list))); n++ {
		done := walked + k.work - begun
		if done+walked > most {
			break // stirring takes at least as much as the walk did
		}
		k.most = k.work + most - done
		less, err := s.stir(ctx, k, list, s.o.Seed+n)
		if err != nil {
			return err
		}
		saved += less
	}
	return nil
}

// stir leads out of where a walk ends. In a copy of the plan most frames of the parts
// listed are thrown a few days about and walk anew; as a whole that comes out better in
// one place and worse in another. Stretch by stretch the better one is taken; it
// gives what that saves.
func (s *search) stir(ctx context.Context, k *spread, list []int, seed int) (saved float64, err error) {
	w := newWalk(k.clone(), weighed(trade), seed)
	w.parts = slices.Sorted(slices.Values(list))
	w.throw(list)
	if err := w.runs(ctx, s.scaled(stirWalks)); err != nil {
		return 0, err
	}
	k.work = w.work
	return k.graft(ctx, w.spread, w.aim)
}

// throw throws the frames of most of the parts listed about, each to where its stages
// find room beside all others'.
func (k *walk) throw(parts []int) {
	st := k.p.stagesIn(k.frames)
	if st == nil {
		return
	}
	about := func(d int16) int16 { return d + int16(k.rng.IntN(2*stirReach+1)) - stirReach }
	for _, i := range parts {
		f := k.frames[i]
		if f.read < 0 || k.rng.Float64() >= stirred {
			continue
		}
		q := &k.p.parts[i]
		f.read = within(about(f.read), q.winLo, q.winHi)
		f.phi = within(about(f.phi), int(f.read), q.hi)
		st.setFrame(i, k.p.unplaced(i))
		if g := st.room(i, f, reach); g.read >= 0 {
			k.frames[i] = g
		}
		st.setFrame(i, k.frames[i])
	}
}

// within gives the day nearest to d from lo to hi.
func within(d int16, lo, hi int) int16 { return max(int16(lo), min(d, int16(hi))) }
