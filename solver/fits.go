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

// fits tells whether a frame's stages fit together: listening and the return
// to the recordings, or listening and read-through, may share a day that takes
// one of them but not both.
func (s *state) fits(q *part, f frame) bool {
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
