package solver

import (
	"slices"

	"primaprova/model"
)

// home puts back where it stood, or nearer to it, whatever can go there without
// cost to a wish before closeness: first whole parts, then passages with those
// in their way, until nothing more goes, or four times over. The moves of the first wishes wander, and only later ones bring them
// back; a search that was cut short between the two would leave sessions moved
// for nothing. It looks at no clock, and takes as long as a few moves.
func (s *state) home() {
	in := &inserter{by: inOrder}
	for range 4 {
		before := s.sum
		for i := range s.p.parts {
			s.homePart(in, i)
		}
		for k := range s.p.passages {
			s.homePassage(in, k)
		}
		if s.sum == before {
			return
		}
	}
}

// homePart tries a part in the frame in which it stands, its passages where
// they stand or else as near and as cheaply as they go.
func (s *state) homePart(in *inserter, i int) {
	q := &s.p.parts[i]
	f, ok := s.p.standingFrame(i)
	if !ok {
		return
	}
	moved := f != s.frames[i]
	for k := q.first; k < q.last && !moved; k++ {
		days, ok := s.p.standingDays(k, f)
		moved = ok && !slices.Equal(days, s.sched[k])
	}
	if !moved {
		return
	}
	trial := s.clone()
	trial.liftPart(i)
	if !trial.takesFrame(q, f) {
		return
	}
	trial.setFrame(i, f)
	var left []int
	for _, k := range s.p.order(q) {
		if days, ok := s.p.standingDays(k, f); ok && trial.takes(k, days) {
			trial.place(k, days)
		} else {
			left = append(left, k)
		}
	}
	in.s = trial
	for _, k := range left {
		in.passage(k)
	}
	if trial.score().less(s.score()) {
		*s = *trial
	}
}

// homePassage tries a passage that was moved where it costs least now, and then
// where it stands, with what has been moved onto those days made way for it.
func (s *state) homePassage(in *inserter, k int) {
	q := &s.p.passages[k]
	if s.p.scheduleScore(q, s.sched[k])[model.Closeness] == 0 {
		return
	}
	in.s = s
	s.again(in, []int{k})
	days, ok := s.p.standingDays(k, s.frames[q.part])
	if !ok || slices.Equal(days, s.sched[k]) {
		return
	}
	list := []int{k}
	for _, i := range s.p.parts[q.part].meets {
		for j := s.p.parts[i].first; j < s.p.parts[i].last; j++ {
			on := slices.ContainsFunc(s.sched[j], func(d int16) bool { return slices.Contains(days, d) })
			if on && j != k && s.p.scheduleScore(&s.p.passages[j], s.sched[j])[model.Closeness] > 0 {
				list = append(list, j)
			}
		}
	}
	s.again(in, list)
}

// again takes passages out and puts them back one after the other where each
// costs least; it undoes what is no better.
func (s *state) again(in *inserter, list []int) {
	before, kept := s.score(), make([][]int16, len(list))
	for n, k := range list {
		kept[n] = s.sched[k]
		s.lift(k)
	}
	for _, k := range list {
		in.passage(k)
	}
	if s.score().less(before) {
		return
	}
	for _, k := range list {
		s.lift(k)
	}
	for n, k := range list {
		s.place(k, kept[n])
	}
}
