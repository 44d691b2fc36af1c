package main

import (
	"fmt"
	"math"
	"strings"

	"primaprova/io/table"
	"primaprova/model"
)

// leftOutView says what a plan decided where not everything fits.
type leftOutView struct {
	Kinds    []leftOutKind `json:"kinds"` // what stays longest first
	Decided  string        `json:"decided"`
	Short    []shortView   `json:"short"`       // stretches of days that hold less than has to happen
	Roomless []string      `json:"no_day_left"` // ids of sessions that have no day, whatever else is planned
	Sessions []leftOutOne  `json:"sessions"`
}

type leftOutKind struct {
	Kind    string        `json:"kind"`
	Wanted  int           `json:"wanted"`
	LeftOut int           `json:"left_out"`
	Minutes model.Minutes `json:"minutes"` // of what is left out
}

type shortView struct {
	From  model.Date `json:"from"`
	To    model.Date `json:"to"`
	Needs string     `json:"needs"`
	Short int        `json:"short"`
}

type leftOutOne struct {
	ID      string        `json:"id"`
	Minutes model.Minutes `json:"minutes"`
	Worth   int           `json:"worth"` // points of coverage
}

// The kinds in the order in which a plan holds on to them (model/worth.go).
const (
	readKind = iota
	firstExposed
	firstOther
	secondExposed
	secondOther
	laterExposed
	laterOther
	recordingsKind
	kindsLeftOut
)

var leftOutKinds = [kindsLeftOut]string{"listening, read-through", "first visits, exposed", "first visits, others",
	"second visits, exposed", "second visits, others", "later visits, exposed", "later visits, others", "return to the recordings"}

func (w *view) kindOf(v *model.Wanted) int {
	if v.Stage != model.PassageStage {
		if v.Stage == model.RecordingsStage {
			return recordingsKind
		}
		return readKind
	}
	kind := firstExposed + 2*min(v.Visit-1, 2)
	if p := w.Passages[v.Passage]; p == nil || !p.Passage.Exposed {
		kind++
	}
	return kind
}

func showLeftOut(w *view, _ model.Date, _ string) (func(), any, error) {
	v := w.leftOutAll()
	return func() { w.sayLeftOutAll(v) }, v, nil
}

func (w *view) leftOutAll() leftOutView {
	lacks := map[string]bool{}
	for i := range w.Work {
		for _, u := range w.LeftOut(w.Work[i].Name) {
			lacks[u.ID] = true
		}
	}
	v := leftOutView{Short: []shortView{}, Roomless: []string{}, Sessions: []leftOutOne{}}
	kinds := [kindsLeftOut]leftOutKind{}
	for _, want := range w.Season.Wanted(w.History) {
		k := &kinds[w.kindOf(&want)]
		k.Wanted++
		if lacks[want.ID] {
			k.LeftOut++
			k.Minutes += want.Minutes
			v.Sessions = append(v.Sessions, leftOutOne{want.ID, want.Minutes, want.Value})
		}
	}
	for i := range kinds {
		if kinds[i].Kind = leftOutKinds[i]; kinds[i].Wanted > 0 {
			v.Kinds = append(v.Kinds, kinds[i])
		}
	}
	v.Decided = decided(&kinds)
	for _, t := range w.Season.Stretches(w.History) {
		if t.Short() > 0 {
			v.Short = append(v.Short, shortView{t.Days.From, t.Days.To, t.Supply.Amount(t.Need), t.Short()})
		}
	}
	for _, t := range w.Season.Roomless(w.History) {
		v.Roomless = append(v.Roomless, t.ID)
	}
	return v
}

// decided says in a sentence how far a plan gets with everything.
func decided(kinds *[kindsLeftOut]leftOutKind) string {
	whole := func(list ...int) bool {
		for _, k := range list {
			if kinds[k].LeftOut > 0 {
				return false
			}
		}
		return true
	}
	has := kinds[firstExposed].Wanted > 0
	var out []string
	if whole(readKind) {
		out = append(out, "every read-through is planned or done")
	}
	switch {
	case whole(firstExposed, firstOther, secondExposed, secondOther):
		out = append(out, "every passage has its first two visits")
	case whole(firstExposed, firstOther, secondExposed) && has:
		out = append(out, "every passage has its first visit, exposed ones their second")
	case whole(firstExposed, firstOther):
		out = append(out, "every passage has its first visit")
	case whole(firstExposed, secondExposed) && has:
		out = append(out, "every exposed passage has its first two visits")
	case whole(firstExposed) && has:
		out = append(out, "every exposed passage has its first visit")
	}
	var gone []string
	for i := range kinds {
		if n := kinds[i].LeftOut; n > 0 {
			what := leftOutKinds[i]
			if visits, of, ok := strings.Cut(what, "s, "); ok && i != readKind {
				what = visits + "s"
				switch {
				case of == "exposed":
					what += " of exposed passages"
				case has:
					what += " of passages not exposed"
				}
			} else if i == readKind {
				what = "sessions of listening and reading"
			}
			gone = append(gone, fmt.Sprintf("%d of %d %s", n, kinds[i].Wanted, what))
		}
	}
	s := "left out are " + strings.Join(gone, "; ")
	if len(out) > 0 {
		s = strings.Join(out, ", ") + "; " + s
	}
	return capital(s) + "."
}

func (w *view) sayLeftOutAll(v leftOutView) {
	w.say.title("%s: what the plan leaves out", w.Season.Title)
	w.say.space()
	if len(v.Sessions) == 0 {
		w.say.line("Nothing is left out.")
		return
	}
	t := &table.Table{Columns: []table.Column{{Name: "what", Wraps: true}, {Name: "wanted", Right: true, From: phone}, {Name: "planned", Right: true}, {Name: "left out", Right: true}, {Name: "min", Right: true}}}
	for _, k := range v.Kinds {
		t.Row(k.Kind, fmt.Sprint(k.Wanted), fmt.Sprint(k.Wanted-k.LeftOut), fmt.Sprint(k.LeftOut), fmt.Sprint(int(k.Minutes)))
	}
	w.say.table(t)
	w.say.space()
	w.sayLeftOutByPart(w.programmesAhead())
	w.say.line("%s", v.Decided)
	w.sayWhyLeftOut()
}

// sayWhyLeftOut gives the reasons that need no solving.
func (w *view) sayWhyLeftOut() {
	proven := w.sayStretches(w.Season.Stretches(w.History))+w.sayRoomless(w.Season.Roomless(w.History)) > 0
	gap, all := 0.0, 0.0
	for _, x := range w.Plan.Provenance.Wishes {
		if x.Name == model.Coverage.String() {
			gap, all = x.Value-x.Bound, x.Value
		}
	}
	switch {
	case gap > 0:
		w.say.line("Perhaps some of it fits, at most %.0f %% by its worth: nobody has proven that it can't, and a larger --budget may find how.", math.Ceil(100*gap/all))
	case !proven:
		w.say.line("No stretch of days is too short by itself: gaps, order and what a day takes leave no place together.")
	}
	w.say.line("What is kept first, by the minute: read-throughs, then first visits, then second ones. Later visits go first; exposed and hard passages stay before easy ones. visit_values in the season file's habits changes that.")
	if !w.Season.Habits.WholeParts {
		w.say.line("With whole_parts: yes among the habits few parts lose theirs, so that the others are whole.")
	}
	var giving []string
	for i := range w.Work {
		if x := &w.Work[i]; x.GivesWay && !x.Over {
			giving = append(giving, x.Part.Work)
		}
	}
	if len(giving) > 0 {
		w.say.line("Later visits of %s give way first, so that other parts are whole (whole_parts).", strings.Join(giving, ", "))
	}
}
