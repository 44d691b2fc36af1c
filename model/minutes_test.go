package model

import "testing"

func TestLengths(t *testing.T) {
	for text, want := range map[string]Minutes{"80 min": 80, "1 h 20 min": 80, "2 h": 120, "80": 80, "1.5 h": 90, "1,5 h": 90, "0.25 hours": 15, "2.05 h": 123} {
		if got, err := ParseMinutes(text); err != nil || got != want {
			t.Errorf("%s: %v, %v", text, got, err)
		}
	}
	for _, text := range []string{"1.33 h", "1.5", "1.5 min", "h", ".5 h", "1.505 h", ""} {
		if got, err := ParseMinutes(text); err == nil {
			t.Errorf("%q is taken for %v", text, got)
		}
	}
}
