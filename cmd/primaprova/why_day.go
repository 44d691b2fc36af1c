package main

import (
	"fmt"
	"slices"
	"strings"

	"primaprova/io/table"
	"primaprova/model"
	"primaprova/solver"
)

// aroundDays is how many days before and after a session are said.
const aroundDays = 14

// sayDay says why a session is on its day: what forbids the days around it, or
// what it would cost there.
func (y *asking) sayDay(s *model.Session) error {
	all, err := solver.Around(y.Season, y.plan, y.h.history, s.ID)
	if err != nil {
		return wrong("%v: what has happened has no other day", err)
	}
	v := y.say
	v.title("%s on %s: why there", y.named(s), v.day(s.Date))
	v.space()
	t := &table.Table{Columns: []table.Column{{Name: "days"}, {Name: "may it"}, {Name: "why", Wraps: true}}}
	type row struct {
		days    model.Range
		may, by string
	}
	var rows []row
	var free []string
	for i := range all {
		e := &all[i]
		if e.Date != s.Date && e.Free() {
			free = append(free, v.day(e.Date))
		}
		if e.Date < s.Date-aroundDays || e.Date > s.Date+aroundDays || breaks(e, model.WindowRule) {
			continue
		}
		may, by, key := y.mayIt(e, s)
		if n := len(rows); n > 0 && rows[n-1].may == may && key == rows[n-1].by {
			rows[n-1].days.To = e.Date
			continue
		}
		rows = append(rows, row{model.Range{From: e.Date, To: e.Date}, may, by})
	}
	for _, r := range rows {
		t.Row(v.days(r.days), r.may, r.by)
	}
	v.table(t)
	v.space()
	switch {
	case len(free) == 0:
		v.line("Nowhere else could it lie at no cost, all others staying where they are.")
	case len(free) > mostNamed:
		v.line("At no cost it could also lie on %s, and %s more.", strings.Join(free[:mostNamed], ", "), several(len(free)-mostNamed, "day", "days"))
	default:
		v.line("At no cost it could also lie on %s.", strings.Join(free, ", "))
	}
	v.line("To keep it there, pin it; with a date behind it pin puts it on another day.")
	v.next("pin %s %s", quoted(y.f.Path), quoted(s.ID))
	return nil
}

// mayIt says whether a session may lie on a day, and what speaks against it.
// Days with the same words are one row.
func (y *asking) mayIt(e *solver.Elsewhere, s *model.Session) (may, by, key string) {
	switch {
	case e.Date == s.Date:
		return "is", "", ""
	case len(e.Breaches) > 0:
		var rules []string
		for _, b := range e.Breaches {
			if words := ruleWords[b.Rule]; words != "" && !slices.Contains(rules, words) {
				rules = append(rules, words)
			}
		}
		by = strings.Join(rules, ", ")
		return "no", by, by
	case e.Free():
		return "yes", "at no cost", "at no cost"
	}
	var costs []string
	for _, w := range model.Wishes {
		if d := e.Change[w]; d != 0 {
			costs = append(costs, signed(d)+" "+wishCosts[w])
		}
	}
	by = strings.Join(costs, ", ")
	return "yes", by, by
}

// wishCosts says what is more by so much where a wish is kept less.
var wishCosts = map[model.Wish]string{
	model.Coverage:  "of the worth left out",
	model.ReadyBy:   "days late",
	model.Closeness: "days moved",
	model.Body:      "min of heavy days and rises",
	model.Spacing:   "days of gaps",
}

// breaks tells whether a rule forbids a day.
func breaks(e *solver.Elsewhere, rule model.RuleID) bool {
	return slices.ContainsFunc(e.Breaches, func(b model.Breach) bool { return b.Rule == rule })
}

// ruleWords says in a few words what a day breaks. Rules that only follow from
// others say nothing.
var ruleWords = map[model.RuleID]string{
	model.CapRule:       "over the day's cap",
	model.RestRule:      "a rest day",
	model.OffRule:       "a day off",
	model.WindowRule:    "not between arrival and due date",
	model.OrderRule:     "out of order",
	model.GapRule:       "too near the visit before or after",
	model.AllOnceRule:   "before all passages were visited once, or they would be",
	model.NewRule:       "a first visit on the day of a concert",
	model.PassagesRule:  "too many passages",
	model.ListeningRule: "too much listening",
	model.HoursRule:     "more than the free hours hold",
	model.PinnedRule:    "pinned elsewhere",
}

// named says which session it is.
func (y *asking) named(s *model.Session) string {
	if s.Passage == nil || s.Visit == nil {
		return fmt.Sprintf("%s of %s", s.Stage, y.ShortTitle(s.Part))
	}
	return fmt.Sprintf("Visit %d of %s of %s", *s.Visit, y.Bars(*s.Passage), y.ShortTitle(s.Part))
}
