package wall

import (
	"cmp"
	"strings"

	"primaprova/model"
)

// programme is one with its look and dates.
type programme struct {
	*model.Programme
	title        string
	look         look
	first, ready model.Date  // ready is zero where there are no parts
	span         model.Range // from the first arrival or service to the last service
	leftOut      int         // sessions that the plan leaves out
	lacks        []string    // what they are, by parts
	later        []string    // parts that are ready for no first rehearsal, and for what
}

// part is one with its names: the full one, and the player's own short one.
type part struct {
	title, id string
	programme int
}

// source says which plan a sheet shows: of which day and file, and how much of the
// record it knows.
func source(p *model.Plan, l model.Locale) string {
	out := "Plan of " + l.DayYear(cmp.Or(p.Changed, p.From))
	if p.Season.File != "" {
		out += " for " + clean(p.Season.File)
	}
	if p.Season.Record > 0 {
		out += ", record up to entry " + itoa(p.Season.Record)
	}
	return out
}

// lacking says what is left out of a part.
func (d *diary) lacking(f *fonts, t *model.Stand) string {
	q := d.parts[t.Part]
	var what []string
	visits := map[string]int{}
	for i := range t.Lacks {
		if u := t.Lacks[i]; u.Stage == model.PassageStage {
			visits[u.Passage]++
		} else {
			what = append(what, u.Word())
		}
	}
	for i := range t.Lacks {
		if n := visits[t.Lacks[i].Passage]; n > 0 {
			delete(visits, t.Lacks[i].Passage)
			at := d.passages[t.Lacks[i].Passage]
			what = append(what, several(n, "visit")+" of "+f.title(clean(at.bars), at.name()))
		}
	}
	return d.programmes[q.programme].look.letter + " " + q.id + ": " + strings.Join(what, ", ") + ";"
}

func newProgramme(f *fonts, s *model.Season, p *model.Programme, l model.Look) programme {
	q := programme{Programme: p, title: f.title(clean(p.Title), f.title(clean(p.ID), "Programme "+l.Letter)), first: p.FirstRehearsal(), look: lookOf(l), span: p.Span()}
	if len(p.Parts) > 0 && q.first != 0 {
		q.ready = q.first - model.Date(s.Habits.ReadyDays)
	}
	return q
}
