package main

import (
	"fmt"
	"math"
	"strings"

	"primaprova/io/table"
	"primaprova/model"
	"primaprova/model/chance"
)

// chancesView says how sure a plan is, for programs.
type chancesView struct {
	Runs    int          `json:"runs"`
	Seed    int          `json:"seed"`
	LostDay float64      `json:"lost_day"` // chance that a day is lost
	Parts   []chanceView `json:"parts"`    // the least sure first
}

type chanceView struct {
	Part    string        `json:"part"`
	Work    string        `json:"work"`
	First   model.Date    `json:"first_rehearsal"`
	Chance  float64       `json:"chance"` // 0..1
	Error   float64       `json:"standard_error"`
	Planned model.Date    `json:"planned"` // last visit planned
	Usually model.Date    `json:"usually"` // ready by then in half of the runs
	LeftOut int           `json:"left_out"`
	Missing []missingView `json:"missing"`
	Raises  []raiseView   `json:"raises,omitempty"` // of one part asked for
	nothing bool          // of it is planned
}

type missingView struct {
	Passage string  `json:"passage"`
	Share   float64 `json:"share"` // of the runs
}

type raiseView struct {
	Text   string  `json:"text"`
	Chance float64 `json:"chance"`
	Gain   float64 `json:"gain"`
	Error  float64 `json:"standard_error"` // of the gain
	kind   chance.RaiseKind
}

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
			p.Raises = w.raises(part.Name)
			c.Parts = c.Parts[i : i+1]
			return func() { w.sayChance(c, p) }, c, nil
		}
	}
	return nil, nil, wrong("show chances: %s: nothing of it lies ahead that luck could change", part.Name).then("show part %s", part.Name)
}

// luck is what a plan is played with. The plan's own seed makes the same plan
// show the same chances.
func (w *view) luck() chance.Options {
	seed := 0
	if w.plan != nil {
		seed = w.plan.Provenance.Seed
	}
	return chance.Options{Seed: uint64(seed)}
}

func (w *view) chances() chancesView {
	o := w.luck()
	out := chancesView{Seed: int(o.Seed), LostDay: rounded(chance.GuessOf(w.season, w.history).Lost), Parts: []chanceView{}}
	for _, c := range chance.Weakest(chance.Of(w.season, w.history, w.plan, o)) {
		out.Runs = c.Runs
		if c.Left == 0 && c.LeftOut == 0 {
			continue // done: nothing is left to luck
		}
		v := chanceView{Part: c.Part, nothing: c.Left == 0, Work: w.title(c.Part), First: c.Due, Chance: rounded(c.Ready), Error: rounded(c.Error),
			Planned: w.stands[c.Part].Last, Usually: c.Usually, LeftOut: c.LeftOut, Missing: []missingView{}}
		for _, m := range c.Missing {
			v.Missing = append(v.Missing, missingView{m.Passage, rounded(m.Share)})
		}
		out.Parts = append(out.Parts, v)
	}
	return out
}

// rounded keeps four decimals: more of them is no more than luck.
func rounded(x float64) float64 { return math.Round(1e4*x) / 1e4 }

// percent writes a chance. What never failed in so many runs is still not
// certain.
func percent(share float64) string {
	switch {
	case share > 0.995:
		return "over 99 %"
	case share < 0.005:
		return "under 1 %"
	}
	return fmt.Sprintf("%.0f %%", 100*share)
}

// give writes the standard error of a chance, never as nothing; none where the
// chance itself is said to lie over or under a figure.
func give(share, e float64) string {
	if share > 0.995 || share < 0.005 {
		return ""
	}
	return fmt.Sprintf("%.0f", math.Max(1, math.Ceil(100*e)))
}

// exactness writes the standard error of a part's chance in brackets, where it has one.
func exactness(p *chanceView) string {
	if e := give(p.Chance, p.Error); e != "" {
		return " (±" + e + ")"
	}
	return ""
}

// gains writes what a chance gains in whole percent, as the two are shown.
func gains(from, to float64) string {
	shown := func(share float64) float64 { return min(99, max(1, math.Round(100*share))) }
	return fmt.Sprintf("%+.0f", shown(to)-shown(from))
}

func (w *view) sayChances(c chancesView) {
	v := w.say
	v.title("%s: how sure each part is to be ready at its first rehearsal", w.season.Title)
	v.space()
	if len(c.Parts) == 0 {
		v.line("No first rehearsal lies ahead.")
		return
	}
	t := &table.Table{Columns: []table.Column{{Name: "work", Wraps: true}, {Name: "first rehearsal", From: phone}, {Name: "planned", From: desk},
		{Name: "usually", From: desk}, {Name: "chance", Right: true}, {Name: "±", Right: true}, {Name: "left out", Right: true, From: phone}}}
	if v.plain() {
		t.Columns = append([]table.Column{{Name: "part"}}, t.Columns...)
		t.Columns[5].Name, t.Columns[6].Name = "percent", "standard error"
	}
	for _, p := range c.Parts {
		row := []string{w.shortTitle(p.Part), v.day(p.First), v.day(p.Planned), v.day(p.Usually), percent(p.Chance), give(p.Chance, p.Error), fmt.Sprint(p.LeftOut)}
		if p.nothing {
			row[4], row[5] = "none", ""
		}
		if v.plain() {
			row = append([]string{p.Part}, row...)
			row[5], row[6] = amount(100*p.Chance), amount(100*p.Error)
		}
		t.Row(row...)
	}
	v.table(t)
	v.space()
	w.sayLuck(c)
}

// sayLuck says what a chance supposes.
func (w *view) sayLuck(c chancesView) {
	w.say.line("The days ahead were played %d times: one in %.0f is lost, and sessions take more or less than their minutes, as far as the record tells; what doesn't fit waits for the next room. Nothing is planned again, and what is left out is not asked for. It is for comparing, no promise.",
		c.Runs, 1/c.LostDay)
}

func (w *view) sayChance(c chancesView, p *chanceView) {
	v := w.say
	if p.nothing {
		v.title("%s: nothing of it is planned", p.Work)
		return
	}
	v.title("%s: ready at its first rehearsal on %s in %s of %d runs%s", p.Work, v.day(p.First), percent(p.Chance), c.Runs, exactness(p))
	v.space()
	if len(p.Missing) > 0 {
		const named = 5
		t := &table.Table{Columns: []table.Column{{Name: "missing most often", Wraps: true}, {Name: "of runs", Right: true}}}
		for _, m := range p.Missing[:min(named, len(p.Missing))] {
			what := "the read-through"
			if m.Passage != p.Part {
				what = w.bars(m.Passage)
				if n := w.nature(m.Passage); n != "" {
					what += " (" + n + ")"
				}
			}
			t.Row(what, percent(m.Share))
		}
		v.table(t)
		v.space()
	}
	t := &table.Table{Columns: []table.Column{{Name: "with", Wraps: true}, {Name: "chance", Right: true}, {Name: "gains", Right: true}, {Name: "±", Right: true, From: phone}}}
	for _, r := range p.Raises {
		t.Row(r.Text, percent(r.Chance), gains(p.Chance, r.Chance), give(r.Chance, r.Error))
	}
	v.table(t)
	v.space()
	if w.most == 0 {
		v.line("Longer days are not tried. Say with --most how many minutes of playing a day you would ever do, and they are.")
	} else {
		v.line("%s", longerCaution)
	}
	w.sayLuck(c)
}

const longerCaution = "More minutes are a rise: none should be sudden, and the breaks stay. " + model.OnPain

// moreMinutes is by how much a day is tried longer, where the player would ever
// do that much: it never goes beyond the setting most.
const moreMinutes = 15

func (w *view) raises(part string) []raiseView {
	out := []raiseView{}
	limit := func(d model.Date) model.Minutes { return w.most - w.season.RoomOn(d).Cap }
	for _, r := range chance.Raises(w.season, w.history, w.plan, part, moreMinutes, limit, w.luck()) {
		out = append(out, raiseView{raiseWords(w.say, &r), rounded(r.Ready), rounded(r.Gain), rounded(r.Error), r.What})
	}
	return out
}

// raiseWords says what a raise supposes.
func raiseWords(v *voice, r *chance.Raise) string {
	switch r.What {
	case chance.Longer:
		if r.Count == 1 {
			return fmt.Sprintf("%s more room on %s", r.More, v.day(r.Days.To))
		}
		return fmt.Sprintf("%s more room on the last %d playing days, from %s", r.More, r.Count, v.day(r.Days.From))
	case chance.Sooner:
		return "everything of it taken up " + several(r.By, "day", "days") + " sooner"
	case chance.NoDay:
		return "no day lost"
	}
	return "everything in its minutes"
}

// unsure is the chance below which a part is named after planning.
const unsure = 0.5

// sayLeastSure names on the screen after planning the parts that most likely
// lack something at their first rehearsal if nothing were planned again. How
// likely that is stands in show chances, beside what would help.
func (w *view) sayLeastSure() {
	const named = 3
	var list []string
	more := 0
	for _, p := range w.chances().Parts {
		switch {
		case p.nothing || p.LeftOut > 0 || p.Chance >= unsure: // what the plan leaves out is said elsewhere
		case len(list) < named:
			list = append(list, w.shortTitle(p.Part))
		default:
			more++
		}
	}
	if more > 0 {
		list = append(list, fmt.Sprintf("%d more", more))
	}
	if len(list) > 0 {
		w.say.line("With the least to spare should days be lost: %s; show chances says what would help.", strings.Join(list, ", "))
	}
}
