package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"primaprova/io/table"
	"primaprova/model"
)

// partView is one part for programs.
type partView struct {
	Part      string            `json:"part"` // programme/part
	Work      string            `json:"work"`
	Programme string            `json:"programme"`
	Arrives   model.Date        `json:"arrives"`
	ReadyBy   model.Date        `json:"ready_by"`
	First     model.Date        `json:"first_rehearsal"`
	Ready     model.Date        `json:"ready"`     // its last visit; empty while it lacks visits, reading or listening
	For       *forView          `json:"ready_for"` // the date that it is ready for; null where something of it is not worked at, or all dates are over
	Sessions  []sessionView     `json:"sessions"`
	Takes     model.Takes       `json:"takes"` // what lies ahead of it
	LeftOut   []*model.Unplaced `json:"left_out"`
}

func showPart(w *view, _ model.Date, name string) (func(), any, error) {
	if name == "" {
		all := w.everyPart()
		return func() { w.sayParts(all) }, all, nil
	}
	p, err := w.findPart(name)
	if err != nil {
		return nil, nil, err
	}
	v := w.part(p)
	return func() { w.sayPart(p, v) }, v, nil
}

// findPart takes programme/part, or the part alone where only one programme
// has it.
func (w *view) findPart(name string) (*model.PartWork, error) {
	switch found := w.Season.PartsCalled(name); len(found) {
	case 1:
		return w.Parts[found[0]], nil
	case 0:
		return nil, wrong("%q is no part of the season", name).then("show part")
	default:
		return nil, wrong("%q is in more than one programme", name).then("show part %s", found[0])
	}
}

// sayParts lists the parts by the names that commands take.
func (w *view) sayParts(all []standView) {
	v := w.say
	v.title("%s: parts", w.Season.Title)
	v.space()
	t := &table.Table{Columns: []table.Column{{Name: "part"}, {Name: "work", Wraps: true, From: phone}, {Name: "arrives", From: desk},
		{Name: "ready"}, {Name: "ready by", From: desk}, {Name: "left out", Right: true}}}
	for _, s := range all {
		t.Row(s.Part, s.Work, v.day(s.Arrives), v.readyOn(s.Ready), v.day(s.ReadyBy), fmt.Sprint(s.LeftOut))
	}
	v.table(t)
}

func (w *view) part(p *model.PartWork) partView {
	v := partView{Part: p.Name, Work: p.Part.Work, Programme: p.Programme.Title, Arrives: p.Part.Arrives,
		ReadyBy: p.Ready, First: p.Due, Takes: w.Season.Takes(p, w.History), Sessions: []sessionView{}, LeftOut: []*model.Unplaced{}}
	for _, s := range w.OfPart(p.Name) {
		one := sessionView{Session: *s, Work: p.Part.Work, Recorded: w.recorded[s.Key()]}
		if s.Passage != nil {
			one.Bars = w.Bars(*s.Passage)
		}
		v.Sessions = append(v.Sessions, one)
	}
	v.LeftOut = append(v.LeftOut, w.LeftOut(p.Name)...)
	if t := w.Stand(p.Name); t != nil {
		v.Ready, v.For = t.Ready, viewFor(t.For)
	}
	return v
}

func (w *view) sayPart(p *model.PartWork, part partView) {
	v := w.say
	v.title("%s, %s", part.Work, part.Part)
	if v.plain() {
		v.table(w.sessionTable(part.Sessions, false))
	} else {
		by := ""
		if part.ReadyBy > part.Arrives {
			by = fmt.Sprintf(", ready by %s", v.day(part.ReadyBy))
		}
		v.line("%s. Arrives %s%s, due for %s.", part.Programme, v.day(part.Arrives), by, v.locale.For(p.Target()))
		v.space()
		v.table(w.stageTable(part))
		if t := w.passageTable(p); len(t.Rows) > 0 {
			v.space()
			v.table(t)
		}
		v.space()
		if slices.ContainsFunc(p.Passages, func(ps model.PassageWork) bool { return len(ps.Done) > 0 }) {
			v.line("%s: done, or taken as done.", strings.TrimSpace(doneSign))
		}
	}
	if len(part.LeftOut) > 0 {
		v.line("Left out: %s.", w.leftOutInShort(part.LeftOut))
	}
	if t := part.Takes; t.Mean > 0 {
		v.line("What lies ahead takes %s by the %s, from %s to %s in four cases of five.", t.Mean.Hours(),
			map[bool]string{false: "estimates", true: "record"}[w.History != nil && w.History.Scaled], t.Low.Hours(), t.High.Hours())
	}
	switch {
	case part.Ready == 0 && len(part.LeftOut) > 0:
		if f := w.Stand(p.Name).For; f.Date != 0 {
			v.line("Ready for %s, less that.", v.locale.For(f))
		}
	case part.Ready == 0:
		v.line("Nothing of it is planned.")
	default:
		if f := w.Stand(p.Name).For; f.Date == 0 {
			v.line("Stands ready %s.", v.day(part.Ready))
		} else {
			v.line("Stands ready %s, %s before %s.", v.day(part.Ready), several(int(f.Date-part.Ready), "day", "days"), v.locale.For(f))
		}
	}
}

func (w *view) stageTable(part partView) *table.Table {
	t := &table.Table{Columns: []table.Column{{Name: "stage"}, {Name: "day"}, {Name: "min", Right: true}}}
	for _, s := range part.Sessions {
		if s.Passage == nil {
			t.Row(s.Word(), w.say.day(s.Date), fmt.Sprint(int(s.Minutes)))
		}
	}
	for _, u := range part.LeftOut {
		if u.Passage == nil {
			t.Row(u.Word(), "left out", fmt.Sprint(int(u.Minutes)))
		}
	}
	return t
}

// visitsARow gives how many visits of a passage stand in one row.
func (w *view) visitsARow() int {
	switch {
	case w.say.width < phone:
		return 2
	case w.say.width < desk:
		return 3
	}
	return 5
}

// doneSign stands beside visits that are behind.
const doneSign = " ✓"

// passageTable has a row for each passage and its visits' days.
func (w *view) passageTable(p *model.PartWork) *table.Table {
	days := map[string]map[int]model.Date{}
	minutes := map[string]model.Minutes{}
	for _, s := range w.OfPart(p.Name) {
		if s.Passage == nil || s.Visit == nil {
			continue
		}
		if days[*s.Passage] == nil {
			days[*s.Passage] = map[int]model.Date{}
		}
		days[*s.Passage][*s.Visit] = s.Date
		minutes[*s.Passage] += s.Minutes
	}
	t := &table.Table{Columns: []table.Column{{Name: "bars", Wraps: true}, {Name: "", Wraps: true, From: phone}, {Name: "min", Right: true, From: phone}}}
	most, inRow := 0, w.visitsARow()
	for i := range p.Passages {
		most = max(most, min(inRow, visitsOf(&p.Passages[i])))
	}
	for k := range most {
		t.Columns = append(t.Columns, table.Column{Name: fmt.Sprintf("visit %d", k+1)})
	}
	for i := range p.Passages {
		ps := &p.Passages[i]
		row := []string{strings.TrimPrefix(w.Bars(ps.Name), "bars "), w.nature(ps.Name), fmt.Sprint(int(minutes[ps.Name]))}
		for k := range visitsOf(ps) {
			if k > 0 && k%inRow == 0 {
				t.Row(row...)
				row = []string{"", "", ""}
			}
			cell := "-" // left out
			if d := days[ps.Name][k+1]; d != 0 {
				cell = w.say.locale.Brief(d)
				if k < len(ps.Done) {
					cell += doneSign
				}
			}
			row = append(row, cell)
		}
		t.Row(row...)
	}
	return t
}

// visitsOf counts a passage's visits: those asked for, and those that were done beyond
// them because one did not hold.
func visitsOf(p *model.PassageWork) int { return max(len(p.Recipe), len(p.Done)) }

// leftOutInShort names what a plan leaves out of one part.
func (w *view) leftOutInShort(out []*model.Unplaced) string {
	var text string
	visits := map[string]int{}
	var passages []string
	var minutes model.Minutes
	for _, u := range out {
		minutes += u.Minutes
		if u.Passage == nil {
			text = join(text, string(u.Stage))
			continue
		}
		if visits[*u.Passage] == 0 {
			passages = append(passages, *u.Passage)
		}
		visits[*u.Passage]++
	}
	slices.SortStableFunc(passages, func(a, b string) int { return cmp.Compare(visits[b], visits[a]) })
	const named = 4
	for i, p := range passages {
		if i == named {
			text = join(text, fmt.Sprintf("and %d more", len(passages)-named))
			break
		}
		text = join(text, several(visits[p], "visit", "visits")+" of "+w.Bars(p))
	}
	return text + " (" + minutes.String() + ")"
}

func join(list, item string) string {
	if list == "" || item == "" {
		return list + item
	}
	return list + ", " + item
}
