package conflict

import (
	"os"
	"regexp"
	"slices"
	"testing"
)

// TestEveryKindIsTriedAway: a kind of fact that either order lacks would stay in each
// reason, whether it matters there or not.
func TestEveryKindIsTriedAway(t *testing.T) {
	source, err := os.ReadFile("fact.go")
	if err != nil {
		t.Fatal(err)
	}
	kinds := regexp.MustCompile(`(?m)^\t\w+Fact +FactKind = "(.+?)"`).FindAllSubmatch(source, -1)
	for _, m := range kinds {
		kind := FactKind(m[1])
		if !slices.Contains(easing, kind) || !slices.Contains(trying, kind) {
			t.Errorf("%s is not in both orders", kind)
		}
		if f := (Fact{Kind: kind}); kind != WorkFact && f.Rule() == "" {
			t.Errorf("%s belongs to no rule", kind)
		}
	}
	if len(kinds) != len(easing) || len(kinds) != len(trying) {
		t.Errorf("%d kinds, of which %d and %d are tried away", len(kinds), len(easing), len(trying))
	}
}
