package main

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"primaprova/io/table"
	"primaprova/model"
	"primaprova/model/memory"
)

// memoryView says what the record's checks tell of holding, for programs.
type memoryView struct {
	Checks int         `json:"checks"`
	Held   int         `json:"held"`
	Enough int         `json:"enough"` // checks from which on the rest is there
	Holds  []holdsView `json:"holds,omitempty"`
	Ahead  *aheadView  `json:"first_rehearsals_ahead,omitempty"`
	Gaps   *gapsView   `json:"gaps,omitempty"`
}

// holdsView is the chance of one kind of passage that has had all of its visits.
type holdsView struct {
	Hard   int     `json:"hard"`
	Visits int     `json:"visits"`
	Days   int     `json:"days"` // since the last of them
	Chance float64 `json:"chance"`
	Doubt  float64 `json:"standard_deviation"` // of the chance
}

type aheadView struct {
	Passages  int     `json:"passages"` // with a visit done or planned
	Untouched int     `json:"untouched"`
	Holding   float64 `json:"holding"`
	Deviation float64 `json:"standard_deviation"`
}

type gapsView struct {
	Target    float64 `json:"target"`
	Interval  int     `json:"interval"`       // days from the last visit to the first rehearsal, by the habits
	Longest   int     `json:"longest"`        // gap that research speaks for before that
	Preferred []int   `json:"preferred_gaps"` // least gaps apart
	Now       []int   `json:"now"`
}

func showMemory(w *view, _ model.Date, _ string) (func(), any, error) {
	m := w.memory()
	return func() { w.sayMemory(m) }, m, nil
}

// pauses are the days after a last visit for which chances are shown.
var pauses = []int{1, 3, 7, 14}

func (w *view) memory() memoryView {
	var checks []model.Check
	if w.History != nil {
		checks = w.History.Checks
	}
	c := memory.Fit(checks)
	m := memoryView{Checks: c.Checks, Held: c.Held, Enough: memory.Enough}
	if m.Checks < m.Enough {
		return m
	}
	habits := &w.Season.Habits
	for hard := 1; hard <= 3; hard++ {
		if slices.ContainsFunc(checks, func(x model.Check) bool { return x.Hard == hard }) {
			for _, days := range pauses {
				n := max(1, habits.Visits[hard])
				x := memory.Case{Hard: hard, Visits: n, Gap: days}
				m.Holds = append(m.Holds, holdsView{hard, n, days, rounded(c.Holds(x)), rounded(c.Doubt(x))})
			}
		}
	}
	cases, untouched := memory.AtRehearsal(w.Season, w.History, w.Plan)
	if len(cases) == 0 {
		return m
	}
	holding, deviation := c.Expect(cases)
	m.Ahead = &aheadView{len(cases), untouched, rounded(holding), rounded(deviation)}
	m.Gaps = &gapsView{Target: memory.Target, Interval: memory.Interval(habits), Longest: memory.Most(memory.Interval(habits))}
	m.Gaps.Preferred, m.Gaps.Now = c.Preferred(habits)
	return m
}

func (w *view) sayMemory(m memoryView) {
	v := w.say
	v.title("%s: what checks tell of holding", w.Season.Title)
	v.space()
	if m.Checks < m.Enough {
		v.line("%s recorded after a visit before: too few to tell anything. From %d on they do.", several(m.Checks, "check is", "checks are"), m.Enough)
		return
	}
	t := &table.Table{Columns: []table.Column{{Name: "days after", Right: true}}}
	for i := 0; i < len(m.Holds); i += len(pauses) {
		kind := strings.TrimSuffix(model.Effort{Stage: model.PassageStage, Hard: m.Holds[i].Hard}.String(), " passages")
		t.Columns = append(t.Columns, table.Column{Name: kind, Right: true}, table.Column{Name: "±", Right: true})
		if v.plain() {
			t.Columns[len(t.Columns)-1].Name = kind + " standard deviation"
		}
	}
	for i, days := range pauses {
		row := []string{fmt.Sprint(days)}
		for k := i; k < len(m.Holds); k += len(pauses) {
			if x := &m.Holds[k]; v.plain() {
				row = append(row, amount(100*x.Chance), amount(100*x.Doubt))
			} else {
				row = append(row, model.Percent(x.Chance), give(x.Chance, x.Doubt))
			}
		}
		t.Row(row...)
	}
	v.table(t)
	v.space()
	v.line("So many hold that many days after the last of their visits, by %d checks, of which %d held, and what is usual where they tell little. It is for comparing, no promise.", m.Checks, m.Held)
	if m.Ahead == nil {
		return
	}
	none := ""
	if n := m.Ahead.Untouched; n > 0 {
		none = fmt.Sprintf("; %d more have no visit", n)
	}
	v.line("Played at the first rehearsals ahead, %.0f of %d passages hold, give or take %.0f%s. What a last visit adds itself no check tells.", m.Ahead.Holding, m.Ahead.Passages, max(1, m.Ahead.Deviation), none)
	g := m.Gaps
	if slices.Equal(g.Preferred, g.Now) {
		v.line("The preferred gaps are those that these checks speak for.")
		return
	}
	lines, err := json.Marshal(g.Preferred)
	if err != nil {
		return // numbers can be written
	}
	var now []string
	for _, gap := range g.Now {
		now = append(now, fmt.Sprint(gap))
	}
	v.line("Now the preferred gaps are %s. Those at whose end %s still hold, no longer than 40 %% of the %s from the last visit to the first rehearsal (halfway between ready_days and fresh_days; Cepeda et al. 2008) and no shorter than the least gaps, the season file takes under habits, if you want them:",
		strings.Join(now, ", "), model.Percent(g.Target), several(g.Interval, "day", "days"))
	v.line("preferred_gaps: %s", lines)
	v.line("Shorter gaps leave a plan less room, and for the first rehearsal the gaps before the last visit matter little.")
}
