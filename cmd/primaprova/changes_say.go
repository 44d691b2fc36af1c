package main

import (
	"cmp"
	"fmt"
	"slices"

	"primaprova/io/table"
	"primaprova/model"
)

// sayChanges says what changed: how much, by day up to so many days (0: all),
// and, off a terminal, session by session.
func (w *view) sayChanges(c changesView, most int) {
	v := w.say
	if len(c.Sessions) == 0 && v.form != inCSV {
		v.line("Nothing moves.")
		return
	}
	v.line("%s", w.changeWords(c))
	v.space()
	if v.plain() {
		v.table(w.changeTable(c))
		return
	}
	t := &table.Table{Columns: []table.Column{{Name: "day"}, {Name: "was", Right: true, From: phone}, {Name: "is", Right: true, From: phone},
		{Name: "goes (×: visits)", Wraps: true}, {Name: "comes", Wraps: true}}}
	for i, d := range c.Days {
		if most > 0 && i == most {
			break
		}
		t.Row(v.day(d.Date), v.min(d.Was), v.min(d.Is), w.inFew(d.goes), w.inFew(d.comes))
	}
	if len(t.Rows) > 0 {
		v.table(t)
	}
	if most > 0 && len(c.Days) > most {
		v.line("And %s more, to %s.", several(len(c.Days)-most, "day", "days"), v.day(c.Days[len(c.Days)-1].Date))
	}
}

// changeWords counts what changed, kind by kind and part by part.
func (w *view) changeWords(c changesView) string {
	kinds, parts := map[string]int{}, map[string]int{}
	var order []string
	for _, s := range c.Sessions {
		kinds[s.Kind]++
		if s.Kind == movedHour {
			continue
		}
		if parts[s.Part] == 0 {
			order = append(order, s.Part)
		}
		parts[s.Part]++
	}
	var text string
	for _, k := range []struct{ kind, words string }{{movedDay, "moved to another day"}, {isNew, "new"}, {isPlaced, "placed that had been left out"},
		{isGone, "gone"}, {isLeftOut, "left out now"}, {otherLength, "of another length"}, {movedHour, "at another hour of their day"}} {
		if n := kinds[k.kind]; n > 0 {
			text = join(text, fmt.Sprintf("%d %s", n, k.words))
		}
	}
	slices.SortStableFunc(order, func(a, b string) int { return cmp.Compare(parts[b], parts[a]) })
	var by string
	const named = 5
	for i, p := range order {
		if i == named {
			by = join(by, fmt.Sprintf("and %d more", len(order)-named))
			break
		}
		by = join(by, fmt.Sprintf("%s %d", w.ShortTitle(p), parts[p]))
	}
	if by != "" {
		by = " By part: " + by + "."
	}
	of := several(c.of, "session", "sessions")
	if c.ahead {
		of += " ahead"
	}
	return fmt.Sprintf("Of %s: %s.%s", of, text, by)
}

// movedBeside counts the sessions of other parts than one that moved to another
// day.
func (c *changesView) movedBeside(part string) int {
	n := 0
	for _, s := range c.Sessions {
		if s.Kind == movedDay && s.Part != part {
			n++
		}
	}
	return n
}

// inFew names sessions by work: its stages, and how many visits.
func (w *view) inFew(list []changeView) string {
	var order []string
	stages, visits := map[string]string{}, map[string]int{}
	for _, c := range list {
		if !slices.Contains(order, c.Part) {
			order = append(order, c.Part)
		}
		if c.Stage == model.PassageStage {
			visits[c.Part]++
		} else {
			stages[c.Part] = join(stages[c.Part], string(c.Stage))
		}
	}
	var out string
	for _, p := range order {
		text := w.ShortTitle(p)
		text += inAWord(stages[p], visits[p])
		if out != "" {
			out += "; "
		}
		out += text
	}
	return out
}

// changeTable lists every change with all that a program may want of it.
func (w *view) changeTable(c changesView) *table.Table {
	t := &table.Table{}
	for _, n := range []string{"change", "was", "was at", "is", "is at", "minutes", "stage", "part", "work", "passage", "visit", "id"} {
		t.Columns = append(t.Columns, table.Column{Name: n})
	}
	date := func(d *model.Date) string {
		if d == nil {
			return ""
		}
		return d.String()
	}
	clock := func(c *model.Clock) string {
		if c == nil {
			return ""
		}
		return c.String()
	}
	for _, s := range c.Sessions {
		row := []string{s.Kind, date(s.Was), clock(s.WasAt), date(s.Is), clock(s.IsAt), fmt.Sprint(int(s.Minutes)), string(s.Stage), s.Part, s.Work, "", "", s.ID}
		if s.Passage != nil && s.Visit != nil {
			row[9], row[10] = w.Bars(*s.Passage), fmt.Sprint(*s.Visit)
		}
		t.Row(row...)
	}
	return t
}

// sayCost sets each wish before beside what it is now.
func (v *voice) sayCost(before, now model.Measures) {
	t := &table.Table{Columns: []table.Column{{Name: "wish"}, {Name: "before", Right: true}, {Name: "now", Right: true}, {Name: "unit", From: phone}}}
	for _, w := range model.Wishes {
		t.Row(w.String(), amount(before[w]), amount(now[w]), w.Unit())
	}
	v.table(t)
}
