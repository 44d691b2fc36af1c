package main

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"

	"primaprova/io/disk"
	"primaprova/io/planfile"
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

// sincePrefix marks a plan that was named by the player.
const sincePrefix = "since:"

// earlierPath gives the plan before the one that stands: season.yaml has
// season.plan.earlier.json.
func earlierPath(season string) string {
	return strings.TrimSuffix(planPath(season), ".json") + ".earlier.json"
}

// putPlan writes a plan beside its season file. The plan that stood is kept as
// the earlier one, unless the two have the same sessions: then what changed
// last is still what there is to show.
//
// Where another plan has been made since the one that this planning began with,
// nothing is written. Who calls it holds the season.
func (a *app) putPlan(season string, p *model.Plan, h *happened) error {
	if disk.Sum(planPath(season)) != h.stood {
		return wrong("%s: was made anew by somebody else meanwhile; this plan was not written", planPath(season)).then("plan %s", quoted(season))
	}
	if stood, err := planfile.Read(planPath(season)); err == nil && !sameSessions(stood, p) {
		b, err := os.ReadFile(planPath(season))
		if err != nil {
			return fileTrouble(err)
		}
		path := earlierPath(season)
		if err := disk.Write(path, b, 0o644); err != nil {
			return cannotWrite(path, err)
		}
	}
	if err := planfile.Write(planPath(season), p); err != nil {
		return cannotWrite(planPath(season), err)
	}
	return nil
}

// sameSessions tells whether two plans hold the same sessions at the same times,
// in whatever order within a day.
func sameSessions(p, q *model.Plan) bool {
	return slices.EqualFunc(named(p), named(q), func(a, b model.Session) bool {
		return a.ID == b.ID && a.Date == b.Date && a.Minutes == b.Minutes && alike(a.Start, b.Start)
	})
}

// named gives a plan's sessions by day and name.
func named(p *model.Plan) []model.Session {
	return slices.SortedFunc(slices.Values(p.Sessions), func(a, b model.Session) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.ID, b.ID))
	})
}

// showChanges shows what changed since an earlier plan: the file given, or the
// one that the last planning left behind.
func showChanges(w *view, _ model.Date, earlier string) (func(), any, error) {
	earlier, since := strings.CutPrefix(earlier, sincePrefix)
	p, err := planfile.Read(earlier)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil, wrong("%s: there is no earlier plan; --since names a plan file to compare with", earlier).then("show changes --help")
	}
	if err != nil {
		t := fileTrouble(err)
		t.code = exitInput
		return nil, nil, t
	}
	c := w.changes(p, w.Plan, 0)
	if !since {
		c.On = w.Plan.Changed
	}
	return func() {
		if c.On != 0 {
			w.say.title("%s: what the planning of %s changed, the last to change anything", w.Season.Title, w.say.day(c.On))
		} else {
			w.say.title("%s: what changed since the earlier plan", w.Season.Title)
		}
		w.sayChanges(c, 0)
	}, c, nil
}
