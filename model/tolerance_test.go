package model

import "testing"

// Tolerances are written as they are read, and what is none is told.
func TestTolerance(t *testing.T) {
	for text, want := range map[string]Tolerance{
		"none": {}, "body 2": {Body: 2}, "closeness 5, body 2 %": {Closeness: 5, Body: 2}, "coverage 0,ready-by 100": {ReadyBy: 100},
	} {
		got, err := ParseTolerance(text)
		if err != nil || got != want {
			t.Errorf("%q is %v: %v", text, got, err)
		}
		if again, err := ParseTolerance(got.String()); err != nil || again != got {
			t.Errorf("%v is read as %v: %v", got, again, err)
		}
	}
	for _, text := range []string{"", "body", "2", "body -1", "body 101", "body 2.5", "spacing 3", "heart 2", "body 2; closeness 1"} {
		if got, err := ParseTolerance(text); err == nil {
			t.Errorf("%q is %v", text, got)
		}
	}
	if got := DefaultTolerance.Limit(Body, 150); got != 153 {
		t.Errorf("2 %% above 150 is %v", got)
	}
	if got := DefaultTolerance.Limit(Coverage, 150); got != 150 {
		t.Errorf("coverage of 150 may come to %v", got)
	}
}
