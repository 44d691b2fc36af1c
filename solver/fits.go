package solver

// takes tells whether the days still have room for a passage's schedule.
func (s *state) takes(i int, days []int16) bool {
	q := &s.p.passages[i]
	for k, d := range days {
		if s.visits[d] >= s.p.room[d].visits || !s.playable(int(d), q.visits[k].minutes) {
			return false
		}
	}
	return true
}

// takesFrame tells whether the days have room for a part's stages.
func (s *state) takesFrame(q *part, f frame) bool {
	listen := q.listen == 0 || f.listen < 0 || s.listenable(int(f.listen), q.listen)
	read := q.read == 0 || f.read < 0 || s.playable(int(f.read), q.read)
	rec := q.rec == 0 || f.rec < 0 || s.listenable(int(f.rec), q.rec)
	return listen && read && rec && s.fits(q, f)
}

// stagesIn gives the state in which all parts are in the frames given and nothing else
// is placed; nil where the days have no room for that.
func (p *problem) stagesIn(frames []frame) *state {
	s := newState(p)
	for i, f := range frames {
		if !s.takesFrame(&p.parts[i], f) {
			return nil
		}
		s.setFrame(i, f)
	}
	return s
}

// room gives a frame as near to f as the days take beside the state, part i
// being lifted, read through at most so many days from f; the part's own frame in the
// state, nothing placed, where they take none.
func (s *state) room(i int, f frame, most int) frame {
	q := &s.p.parts[i]
	days := func(at int16, length, lo, hi int) []int16 {
		if length == 0 || at < 0 {
			return []int16{at}
		}
		out := []int16{at}
		for by := int16(1); int(by) <= hi-lo; by++ {
			for _, d := range [2]int16{at - by, at + by} {
				if int(d) >= lo && int(d) <= hi {
					out = append(out, d)
				}
			}
		}
		return out
	}
	for _, r := range days(f.read, q.read, max(q.winLo, int(f.read)-most), min(q.winHi, int(f.read)+most)) {
		last := int(r)
		if r < 0 {
			last = q.winHi
		}
		for _, l := range days(min(f.listen, int16(last)), q.listen, q.winLo, last) {
			for _, c := range append(days(f.rec, q.rec, max(q.recLo, int(r)+1), q.winHi), none) {
				g := frame{l, r, c, max(f.phi, r)}
				if c != none && c <= r || q.pinned(g) || !s.takesFrame(q, g) {
					continue
				}
				return g
			}
		}
	}
	return s.frames[i]
}

// pinned tells whether a pin forbids a frame.
func (q *part) pinned(f frame) bool {
	for n, d := range [3]int16{f.listen, f.read, f.rec} {
		if d >= 0 && !q.allowed(n, int(d)) {
			return true
		}
	}
	return false
}

// fits tells whether a frame's stages fit together: listening and read-through, or
// listening that was missed and the return to the recordings, may share a day
// that takes one of them but not both.
func (s *state) fits(q *part, f frame) bool {
	if q.listen > 0 && q.rec > 0 && f.listen >= 0 && f.listen == f.rec {
		return s.listenable(int(f.rec), q.listen+q.rec)
	}
	if q.listen > 0 && f.listen >= 0 && f.listen == f.read {
		r := &s.p.room[f.read]
		return int(s.planned[f.read])+s.listen[f.read]+q.listen+q.read <= r.held
	}
	return true
}

// inFrame tells whether a schedule keeps to a frame.
func (p *problem) inFrame(q *passage, f frame, days []int16) bool {
	if f.read == none && q.done == 0 {
		return len(days) == 0
	}
	if len(days) > 0 && q.done == 0 && (days[0] <= f.read || q.inRound && days[0] > f.phi) {
		return false
	}
	return q.third == none || q.third >= len(days) || days[q.third] > f.phi
}
