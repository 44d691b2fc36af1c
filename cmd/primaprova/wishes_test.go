package main

import (
	"strings"
	"testing"

	"primaprova/model"
)

// What is spent of a wish's tolerance is said, and told from what is merely not proven.
func TestSpentIsSaid(t *testing.T) {
	x := model.WishValue{Name: "body", Value: 204, Bound: 200, Unit: "minutes", Tolerance: 2}
	if s := far(x, "", "minutes heavier"); !strings.HasSuffix(s, "at most 4 minutes heavier than the best possible, spent on days of spacing (up to 2 % may be)") {
		t.Error(s)
	}
	x.Value = 205
	if s := far(x, "", "minutes heavier"); strings.Contains(s, "spent") {
		t.Error(s)
	}
	x.Value = 200
	if s := far(x, "", "minutes heavier"); strings.Contains(s, "spent") {
		t.Error(s)
	}
}
