package model

// RuleID names a rule that every plan keeps.
type RuleID string

// The rules.
const (
	CapRule       RuleID = "cap"
	RestRule      RuleID = "rest-day"
	OffRule       RuleID = "day-off"
	WindowRule    RuleID = "window"
	OrderRule     RuleID = "order"
	GapRule       RuleID = "gap"
	AllOnceRule   RuleID = "all-once"
	PassagesRule  RuleID = "passages-a-day"
	ListeningRule RuleID = "listening-a-day"
	HoursRule     RuleID = "hours"
	MinutesRule   RuleID = "minutes"
	WarmUpRule    RuleID = "warm-up"
	AccountedRule RuleID = "accounted"
	PastRule      RuleID = "past"
	PinnedRule    RuleID = "pinned"
	NewRule       RuleID = "new-passages"
)

// Rule is one rule with its sentence.
type Rule struct {
	ID       RuleID
	Sentence string
	check    func(*audit)
}

// Rules gives the rules in the order in which the audit applies them.
func Rules() []Rule {
	return []Rule{
		{CapRule, "A day's planned playing fits what its cap leaves after services and warm-up.", (*audit).capKept},
		{RestRule, "Nothing is planned to be played on a rest day.", (*audit).restKept},
		{OffRule, "Nothing at all is planned on a day off.", (*audit).offKept},
		{WindowRule, "Work lies in the season, from the day its part arrives to the day before it is due.", (*audit).windowKept},
		{OrderRule, "Listening comes before the read-through, the read-through before the first visit, each visit after the one before, the return to the recordings in the last days and after the last first visit.", (*audit).orderKept},
		{GapRule, "A visit comes at least its least gap after the visit before.", (*audit).gapKept},
		{AllOnceRule, "All passages of a part are visited once before any is visited a third time.", (*audit).allOnceKept},
		{PassagesRule, "No more passages are visited in a day than the limit.", (*audit).passagesKept},
		{ListeningRule, "A day's listening stays within its limit.", (*audit).listeningKept},
		{HoursRule, "Sessions lie in the day's free hours, with rests, and never at the same time.", (*audit).hoursKept},
		{MinutesRule, "A session is of the kind and length that its stage or recipe says.", (*audit).minutesKept},
		{WarmUpRule, "A day with planned playing begins it with one warm-up; other days have none.", (*audit).warmUpKept},
		{AccountedRule, "Everything wanted is planned once or named as left out, and the days' sums are right.", (*audit).accountedKept},
		{PastRule, "Nothing that the record says is done is planned again.", (*audit).pastKept},
		{PinnedRule, "A pinned session stays on its day or is left out.", (*audit).pinnedKept},
		{NewRule, "No passage is visited for the first time on the day of a concert.", (*audit).newKept},
	}
}

// Sentence says what the rule asks for.
func (r RuleID) Sentence() string {
	for _, rule := range Rules() {
		if rule.ID == r {
			return rule.Sentence
		}
	}
	return ""
}
