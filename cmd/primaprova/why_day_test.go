package main

import (
	"slices"
	"testing"

	"primaprova/model"
)

// TestEveryRuleHasWords: why names each rule that forbids a day, but for those that only
// follow from others.
func TestEveryRuleHasWords(t *testing.T) {
	follow := []model.RuleID{model.MinutesRule, model.WarmUpRule, model.AccountedRule, model.PastRule}
	for _, r := range model.Rules() {
		if (ruleWords[r.ID] == "") != slices.Contains(follow, r.ID) {
			t.Errorf("%s: %q", r.ID, ruleWords[r.ID])
		}
	}
}
