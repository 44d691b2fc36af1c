package main

import (
	"slices"
	"testing"
)

// A slip in the environment is told, with what was most likely meant; what is a
// setting is not.
func TestSlipsInTheEnvironment(t *testing.T) {
	got := strangers([]string{"PRIMAPROVA_BUGDET=3", "PRIMAPROVA_BUDGET=3", "PRIMAPROVA_DAY_ALARM=08:00", "PRIMAPROVA_SETTINGS=x", "PRIMAPROVA_USER=u",
		"PRIMAPROVA_NONSENSE=1", "HOME=/", "PRIMA=1"})
	want := []string{"PRIMAPROVA_BUGDET: is no setting, and changes nothing; perhaps PRIMAPROVA_BUDGET is meant.",
		"PRIMAPROVA_NONSENSE: is no setting, and changes nothing."}
	if !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
}
