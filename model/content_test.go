package model

import "testing"

// TestContentStays: what is new in a season changes the content of none that does not
// speak of it, and so no plan that stands is planned anew for it. A new field is zero by
// default and has `json:",omitzero"`; where a default is changed on purpose, the digits
// change here.
func TestContentStays(t *testing.T) {
	s := &Season{Title: "Content", TimeZone: "Europe/Oslo", From: march(1), To: march(21), Limits: DefaultLimits(), Habits: DefaultHabits()}
	s.Programmes = []Programme{{ID: "tide", Services: []Service{{Date: march(12), Start: 600, Lasts: 150, Playing: 60}},
		Parts: []Part{{ID: "slate", Arrives: march(1), ReadThrough: 20, Passages: []Passage{{ID: "A", Hard: 2}}}}}}
	if got, want := s.Content(), "803c4920c0881872ddfc69f6181f879d9179313a2c833571c2d692480bd94084"; got != want {
		t.Errorf("the content is %s", got)
	}
}
