package solver

import "slices"

// giveWay gives the frames with part i in another, listening and recordings of others
// moved as little as makes room for it; nil where they can't. What others read through
// stays.
func (p *problem) giveWay(frames []frame, i int, f frame) []frame {
	out := slices.Clone(frames)
	out[i] = f
	s := newState(p)
	if !s.takesFrame(&p.parts[i], f) {
		return nil
	}
	s.setFrame(i, f)
	for j, f := range frames { // what is read through comes before what is heard
		if j != i && f.read >= 0 {
			s.setFrame(j, frame{none, f.read, none, f.phi})
		}
	}
	var left []int
	for j, f := range frames {
		if j == i {
			continue
		}
		s.setFrame(j, p.unplaced(j))
		if s.takesFrame(&p.parts[j], f) {
			s.setFrame(j, f)
		} else {
			left = append(left, j)
		}
	}
	for _, j := range left {
		f := frames[j]
		g := s.room(j, f, 0)
		if g.read != f.read || g.phi != f.phi || (g.listen == none) != (f.listen == none) || (g.rec == none) != (f.rec == none) {
			return nil
		}
		s.setFrame(j, g)
		out[j] = g
	}
	return out
}

// besideOthers gives what the passages listed and a part's stages have room beside, and
// the same with listening and recordings of all others lifted.
func (k *spread) besideOthers(list []int, i int) (rest, bare *state) {
	rest, _ = k.beside(list, k.with(i, frame{none, none, none, none}))
	bare = rest.clone()
	for _, j := range k.p.parts[i].meets {
		f := rest.frames[j]
		if f.listen >= 0 {
			f.listen = none
		}
		if f.rec >= 0 {
			f.rec = none
		}
		bare.setFrame(j, f)
	}
	return rest, bare
}
