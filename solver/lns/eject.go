package lns

import (
	"slices"

	"primaprova/solver/instance"
)

// eject gives the frames with part i in another, listening and recordings of others
// moved as little as makes room for it; nil where they can't. What others read through
// stays.
func eject(p *instance.Instance, frames []instance.Frame, i int, f instance.Frame) []instance.Frame {
	out := slices.Clone(frames)
	out[i] = f
	s := instance.NewSolution(p)
	if !s.TakesFrame(&p.Parts[i], f) {
		return nil
	}
	s.SetFrame(i, f)
	for j, f := range frames { // what is read through comes before what is heard
		if j != i && f.Read >= 0 {
			s.SetFrame(j, instance.Frame{Listen: instance.None, Read: f.Read, Rec: instance.None, Phi: f.Phi})
		}
	}
	var left []int
	for j, f := range frames {
		if j == i {
			continue
		}
		s.SetFrame(j, p.Unplaced(j))
		if s.TakesFrame(&p.Parts[j], f) {
			s.SetFrame(j, f)
		} else {
			left = append(left, j)
		}
	}
	for _, j := range left {
		f := frames[j]
		g := s.NearestFrame(j, f, 0)
		if g.Read != f.Read || g.Phi != f.Phi || (g.Listen == instance.None) != (f.Listen == instance.None) || (g.Rec == instance.None) != (f.Rec == instance.None) {
			return nil
		}
		s.SetFrame(j, g)
		out[j] = g
	}
	return out
}

// besideOthers gives what the passages listed and a part's stages have room beside, and
// the same with listening and recordings of all others lifted.
func (k *Fractional) besideOthers(list []int, i int) (rest, bare *instance.Solution) {
	rest, _ = k.beside(list, k.with(i, instance.Frame{Listen: instance.None, Read: instance.None, Rec: instance.None, Phi: instance.None}))
	bare = rest.Clone()
	for _, j := range k.p.Parts[i].Meets {
		f := rest.Frames[j]
		if f.Listen >= 0 {
			f.Listen = instance.None
		}
		if f.Rec >= 0 {
			f.Rec = instance.None
		}
		bare.SetFrame(j, f)
	}
	return rest, bare
}
