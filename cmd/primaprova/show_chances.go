package main

import (
	"fmt"
	"strings"

	"primaprova/io/table"
	"primaprova/model"
)

// wide is more columns than any screen has.
const wide = 1 << 20

func showChances(w *view, _ model.Date, name string) (func(), any, error) {
	c := w.chances()
	if name == "" {
		return func() { w.sayChances(c) }, c, nil
	}
	part, err := w.findPart(name)
	if err != nil {
		return nil, nil, err
	}
	for i := range c.Parts {
		if c.Parts[i].Part == part.Name {
			p := &c.Parts[i]
			c.Parts = c.Parts[i : i+1]
			return func() { w.sayChance(c, p) }, c, nil
		}
	}
	return nil, nil, wrong("show chances: %s: nothing of it lies ahead that luck could change", part.Name).then("show part %s", part.Name)
}

func (w *view) sayChances(c chancesView) {
	v := w.say
	v.title("%s: how sure each part is to be ready in time", w.Season.Title)
	v.space()
	if len(c.Parts) == 0 {
		v.line("Nothing lies ahead that luck could change.")
		return
	}
	lacking, due := wide, "first rehearsal"
	for i := range c.Parts {
		p := &c.Parts[i]
		if p.LeftOut > 0 {
			lacking = 0 // no chance is shown without what it leaves aside
		}
		if !v.plain() && (!p.is.First || !p.is.Kind.Rehearses()) {
			due = "due"
		}
	}
	t := &table.Table{Columns: []table.Column{{Name: "work", Wraps: true}, {Name: due, From: phone}, {Name: "ready", Right: true}, {Name: "±", Right: true, From: phone},
		{Name: "worked", Right: true}, {Name: "visits", Right: true, From: desk}, {Name: "likely missing", Wraps: true, From: desk}, {Name: "left out", Right: true, From: lacking}}}
	if v.plain() {
		t.Columns = append([]table.Column{{Name: "part"}}, t.Columns...)
		t.Columns[3].Name, t.Columns[4].Name, t.Columns[5].Name, t.Columns[6].Name = "percent", "standard error", "percent worked", "visits each"
	}
	for _, p := range c.Parts {
		row := []string{w.ShortTitle(p.Part), v.day(p.First), model.Percent(p.Chance), give(p.Chance, p.Error), model.Percent(p.Worked), fmt.Sprint(p.Least), p.lacking(), fmt.Sprint(p.LeftOut)}
		if p.nothing {
			row[2], row[3], row[4], row[5] = "none", "", "none", ""
		}
		if v.plain() {
			row = append([]string{p.Part}, row...)
			row[3], row[4], row[5] = amount(100*p.Chance), amount(100*p.Error), amount(100*p.Worked)
		}
		t.Row(row...)
	}
	v.table(t)
	v.space()
	w.sayLuck(c, "Visits: what each passage has in nine of ten. ")
	for _, p := range c.Parts {
		if !p.nothing && p.Chance < sureEnough {
			v.next("why %s %s", quoted(w.path), quoted(p.Part))
			return
		}
	}
}

// sayLuck says what a chance supposes, and what some columns are.
func (w *view) sayLuck(c chancesView, columns string) {
	w.say.line("The days ahead were played %d times. One in %.0f is lost, checks fail, passages are found, sessions take more or less, as far as the record tells; what fails is moved, last checks let go first. Ready: all of it done, of what is left out nothing is asked. Worked: each passage as often as it needs, but for its last check. %sIt is for comparing, no promise.",
		c.Runs, 1/c.LostDay, columns)
}

func (w *view) sayChance(c chancesView, p *chanceView) {
	v := w.say
	if p.nothing {
		v.title("%s: nothing of it is planned", p.Work)
		return
	}
	v.title("%s: %s", p.Work, strings.TrimPrefix(w.inTime(p, c.Runs), "is "))
	v.space()
	v.line("%s", w.asLuck(p.Part))
	if lacking := p.lacking(); lacking != "" {
		v.line("Where it is not, most likely missing: %s; each passage worked %s at least.", lacking, several(p.Least, "time", "times"))
	}
	v.line("Worked as often as needed, but for last checks: %s.", model.Percent(p.Worked))
	if p.Holds > 0 {
		v.line("Of its passages %s hold on %s, by what is known of memory, give or take %.0f.", model.Percent(p.Holds), v.locale.For(p.is), max(1, 100*p.Doubt))
	}
	v.space()
	if len(p.Missing) > 0 {
		const named = 5
		t := &table.Table{Columns: []table.Column{{Name: "missing most often", Wraps: true}, {Name: "of runs", Right: true}}}
		for _, m := range p.Missing[:min(named, len(p.Missing))] {
			what := "the read-through"
			if m.Passage != p.Part {
				what = w.Bars(m.Passage)
				if n := w.nature(m.Passage); n != "" {
					what += " (" + n + ")"
				}
			}
			t.Row(what, model.Percent(m.Share))
		}
		v.table(t)
		v.space()
	}
	w.sayLuck(c, "")
	v.next("why %s %s", quoted(w.path), quoted(p.Part))
}

// unsure is the chance of being worked at often enough below which a part is named
// after planning.
const unsure = 0.5

// sayLeastSure names on the screen after planning the parts that most likely
// lack more than last checks at their first rehearsal. How likely that is stands in
// show chances, beside what would help.
func (w *view) sayLeastSure() {
	const named = 3
	var list []string
	more := 0
	for _, p := range w.chancesIn(fewRuns).Parts { // no figure is said of them
		switch {
		case p.nothing || p.LeftOut > 0 || p.Worked >= unsure: // what the plan leaves out is said elsewhere
		case len(list) < named:
			list = append(list, w.ShortTitle(p.Part))
		default:
			more++
		}
	}
	if more > 0 {
		list = append(list, fmt.Sprintf("%d more", more))
	}
	if len(list) > 0 {
		w.say.line("With the least to spare should things go wrong: %s; show chances says how sure each part is.", strings.Join(list, ", "))
	}
}
