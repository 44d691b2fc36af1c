package model

import (
	"slices"
	"testing"
)

// TestUrgentFirst: on a day without hours visits come in the order in which
// they run out of days: the one that is due first, then of two that are due
// together the one with more visits still to come; of equals the harder, then
// the name. What is done already comes first, as it stood.
func TestUrgentFirst(t *testing.T) {
	s, _ := fixture()
	s.Limits.RestDays = nil
	first := Service{Kind: Rehearsal, Date: march(20), Start: 600, Lasts: 60}
	soon := first
	soon.Date = march(15)
	part := func(id string, hard int, visits ...Minutes) Part {
		return Part{ID: id, Arrives: march(1), ReadThrough: 5, Passages: []Passage{{ID: "x", Hard: hard, Visits: visits}}}
	}
	s.Programmes = []Programme{
		{ID: "p", Services: []Service{first}, Parts: []Part{part("a", 1, 5), part("b", 1, 5), part("c", 3, 5), part("d", 1, 5, 5, 5)}},
		{ID: "q", Services: []Service{soon}, Parts: []Part{part("e", 1, 5)}},
	}
	day := march(9)
	h := &History{Today: day, Stages: map[string]Date{}, Visits: map[string][]Date{}}
	for _, w := range s.Work(nil) {
		h.Stages[StageID(w.Name, ReadStage)] = march(2)
	}
	order := func() (out []string) {
		p := &Plan{Sessions: s.Past(h, nil)}
		for _, w := range s.Wanted(h) {
			if w.Stage == PassageStage && w.Visit == 1 {
				p.Sessions = append(p.Sessions, w.On(day))
			}
		}
		s.FinishFrom(p, h)
		for _, v := range p.ByDate()[day] {
			if v.Stage == PassageStage {
				out = append(out, v.Part)
			}
		}
		return out
	}
	if got, want := order(), []string{"q/e", "p/d", "p/c", "p/a", "p/b"}; !slices.Equal(got, want) {
		t.Errorf("played in the order %v, want %v", got, want)
	}
	h.Visits["p/b/x"] = []Date{day}
	if got, want := order(), []string{"p/b", "q/e", "p/d", "p/c", "p/a"}; !slices.Equal(got, want) {
		t.Errorf("with one done: %v, want %v", got, want)
	}
}
