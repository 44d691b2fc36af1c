package instance

// Takes tells whether the days still have room for a passage's schedule.
func (s *Solution) Takes(i int, days []Day) bool {
	q := &s.P.Passages[i]
	for k, d := range days {
		if s.Visits[d] >= s.P.Room[d].Visits || !s.Playable(int(d), q.Visits[k].Minutes) {
			return false
		}
	}
	return true
}

// TakesFrame tells whether the days have room for a part's stages.
func (s *Solution) TakesFrame(q *Part, f Frame) bool {
	listen := q.Listen == 0 || f.Listen < 0 || s.Hearable(q, int(f.Listen))
	read := q.Read == 0 || f.Read < 0 || s.Playable(int(f.Read), q.Read)
	rec := q.Rec == 0 || f.Rec < 0 || s.Listenable(int(f.Rec), q.Rec)
	return listen && read && rec && s.Fits(q, f)
}

// StagesIn gives the solution in which all parts are in the frames given and nothing else
// is placed; nil where the days have no room for that.
func (p *Instance) StagesIn(frames []Frame) *Solution {
	s := NewSolution(p)
	for i, f := range frames {
		if !s.TakesFrame(&p.Parts[i], f) {
			return nil
		}
		s.SetFrame(i, f)
	}
	return s
}

// NearestFrame gives a frame as near to f as the days take beside the solution, part i
// being lifted, read through at most so many days from f; the part's own frame in the
// solution, nothing placed, where they take none.
func (s *Solution) NearestFrame(i int, f Frame, most int) Frame {
	q := &s.P.Parts[i]
	days := func(at Day, length, lo, hi int) []Day {
		if length == 0 || at < 0 {
			return []Day{at}
		}
		out := []Day{at}
		for by := Day(1); int(by) <= hi-lo; by++ {
			for _, d := range [2]Day{at - by, at + by} {
				if int(d) >= lo && int(d) <= hi {
					out = append(out, d)
				}
			}
		}
		return out
	}
	for _, r := range days(f.Read, q.Read, max(q.WinLo, int(f.Read)-most), min(q.WinHi, int(f.Read)+most)) {
		last := int(r)
		if r < 0 {
			last = q.WinHi
		}
		for _, l := range days(min(f.Listen, Day(last)), q.Listen, q.WinLo, last) {
			phi := max(f.Phi, r)
			for _, c := range append(days(f.Rec, q.Rec, max(q.RecLo, int(phi)+1), q.RecHi), None) {
				g := Frame{l, r, c, phi}
				if c != None && c <= phi || q.Pinned(g) || !s.TakesFrame(q, g) {
					continue
				}
				return g
			}
		}
	}
	return s.Frames[i]
}

// Pinned tells whether a pin forbids a frame.
func (q *Part) Pinned(f Frame) bool {
	for n, d := range [3]Day{f.Listen, f.Read, f.Rec} {
		if d >= 0 && !q.Allowed(n, int(d)) {
			return true
		}
	}
	return false
}

// Fits tells whether a frame's stages fit together: listening and read-through, or
// listening that was missed and the return to the recordings, may share a day
// that takes one of them but not both.
func (s *Solution) Fits(q *Part, f Frame) bool {
	if q.Listen == 0 || f.Listen < 0 {
		return true
	}
	fits := true
	q.Heard(int(f.Listen), func(d, minutes int) {
		switch {
		case q.Rec > 0 && d == int(f.Rec):
			fits = fits && s.Listenable(d, minutes+q.Rec)
		case d == int(f.Read):
			fits = fits && int(s.Planned[d])+s.Listen[d]+minutes+q.Read <= s.P.Room[d].Held
		}
	})
	return fits
}

// InFrame tells whether a schedule keeps to a frame.
func (p *Instance) InFrame(q *Passage, f Frame, days []Day) bool {
	if f.Read == None && q.Done == 0 {
		return len(days) == 0
	}
	if len(days) > 0 && q.Done == 0 && (days[0] <= f.Read || q.InRound && days[0] > f.Phi) {
		return false
	}
	return q.Third == None || q.Third >= len(days) || days[q.Third] > f.Phi
}
