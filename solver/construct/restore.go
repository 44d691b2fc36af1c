package construct

import (
	"slices"

	"primaprova/model"
	"primaprova/solver/instance"
)

// Restore puts back where it stood, or nearer to it, whatever can go there without
// cost to a wish before closeness: first whole parts, then passages with those
// in their way, until nothing more goes, or four times over. The moves of the first wishes wander, and only later ones bring them
// back; a search that was cut short between the two would leave sessions moved
// for nothing. It looks at no clock, and takes as long as a few moves.
func Restore(s *instance.Solution) {
	in := &Inserter{By: instance.InOrder}
	for range 4 {
		before := s.Sum
		for i := range s.P.Parts {
			restorePart(s, in, i)
		}
		for k := range s.P.Passages {
			restorePassage(s, in, k)
		}
		if s.Sum == before {
			return
		}
	}
}

// restorePart tries a part in the frame in which it stands, its passages where
// they stand or else as near and as cheaply as they go.
func restorePart(s *instance.Solution, in *Inserter, i int) {
	q := &s.P.Parts[i]
	f, ok := s.P.StandingFrame(i)
	if !ok {
		return
	}
	moved := f != s.Frames[i]
	for k := q.First; k < q.Last && !moved; k++ {
		days, ok := s.P.StandingDays(k, f)
		moved = ok && !slices.Equal(days, s.Sched[k])
	}
	if !moved {
		return
	}
	trial := s.Clone()
	trial.LiftPart(i)
	if !trial.TakesFrame(q, f) {
		return
	}
	trial.SetFrame(i, f)
	var left []int
	for _, k := range s.P.Order(q) {
		if days, ok := s.P.StandingDays(k, f); ok && trial.Takes(k, days) {
			trial.Place(k, days)
		} else {
			left = append(left, k)
		}
	}
	in.S = trial
	for _, k := range left {
		in.Passage(k)
	}
	if trial.Score().Less(s.Score()) {
		*s = *trial
	}
}

// restorePassage tries a passage that was moved where it costs least now, and then
// where it stands, with what has been moved onto those days made way for it.
func restorePassage(s *instance.Solution, in *Inserter, k int) {
	q := &s.P.Passages[k]
	if s.P.ScheduleScore(q, s.Sched[k])[model.Closeness] == 0 {
		return
	}
	in.S = s
	replace(s, in, []int{k})
	days, ok := s.P.StandingDays(k, s.Frames[q.Part])
	if !ok || slices.Equal(days, s.Sched[k]) {
		return
	}
	list := []int{k}
	for _, i := range s.P.Parts[q.Part].Meets {
		for j := s.P.Parts[i].First; j < s.P.Parts[i].Last; j++ {
			on := slices.ContainsFunc(s.Sched[j], func(d instance.Day) bool { return slices.Contains(days, d) })
			if on && j != k && s.P.ScheduleScore(&s.P.Passages[j], s.Sched[j])[model.Closeness] > 0 {
				list = append(list, j)
			}
		}
	}
	replace(s, in, list)
}

// replace takes passages out and puts them back one after the other where each
// costs least; it undoes what is no better.
func replace(s *instance.Solution, in *Inserter, list []int) {
	before, kept := s.Score(), make([][]instance.Day, len(list))
	for n, k := range list {
		kept[n] = s.Sched[k]
		s.Lift(k)
	}
	for _, k := range list {
		in.Passage(k)
	}
	if s.Score().Less(before) {
		return
	}
	for _, k := range list {
		s.Lift(k)
	}
	for n, k := range list {
		s.Place(k, kept[n])
	}
}

// FromStanding begins with the standing plan: whatever of it can stay where it
// stands does, the rest and what is new is placed as near and as cheaply as it
// goes, part by part, the earliest deadline first.
func FromStanding(p *instance.Instance) *instance.Solution {
	s := instance.NewSolution(p)
	in := &Inserter{S: s, By: instance.InOrder}
	var left []int
	kept := make([]bool, len(p.Parts))
	for _, i := range p.ByDeadline() {
		f, ok := p.StandingFrame(i)
		if !ok || !s.TakesFrame(&p.Parts[i], f) {
			continue
		}
		kept[i] = true
		s.SetFrame(i, f)
	}
	for _, i := range p.ByDeadline() {
		if !kept[i] {
			continue
		}
		for _, k := range p.Order(&p.Parts[i]) {
			if days, ok := p.StandingDays(k, s.Frames[i]); ok && s.Takes(k, days) {
				s.Place(k, days)
			} else {
				left = append(left, k)
			}
		}
	}
	for _, k := range left {
		in.Passage(k)
	}
	for _, i := range p.ByDeadline() {
		if !kept[i] {
			in.Part(i, 3, p.Order(&p.Parts[i]))
		}
	}
	return s
}
