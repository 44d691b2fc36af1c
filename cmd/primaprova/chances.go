package main

import (
	"fmt"
	"math"

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
	Worked  float64       `json:"worked"`             // chance that each passage is worked at as often as its recipe has it, the last check apart
	Checks  int           `json:"lacking_last_check"` // where it is not ready, usually: passages that lack their last check alone,
	More    int           `json:"lacking_more"`       // and those that lack more
	Least   int           `json:"worked_at_least"`    // visits that each passage has in nine lives of ten
	Holds   float64       `json:"holds"`              // share of its passages that hold on the date
	Doubt   float64       `json:"holds_deviation"`
	Missing []missingView `json:"missing"`
	nothing bool          // of it is planned
	is      model.For     // what takes place on the date
}

type missingView struct {
	Passage string  `json:"passage"`
	Share   float64 `json:"share"` // of the runs
}

// fewRuns is how often a plan is played where no chance is said, but plans are compared
// by their common luck, or the least sure parts are named.
const fewRuns = 250

// luck is what a plan is played with. The plan's own seed makes the same plan
// show the same chances.
func (w *view) luck() chance.Options {
	seed := 0
	if w.Plan != nil {
		seed = w.Plan.Provenance.Seed
	}
	return chance.Options{Seed: uint64(seed)}
}

func (w *view) chances() chancesView { return w.chancesIn(0) }

// chancesIn gives them by so many runs, 0 for as many as are shown.
func (w *view) chancesIn(runs int) chancesView {
	o := w.luck()
	o.Runs = runs
	out := chancesView{Seed: int(o.Seed), LostDay: rounded(chance.GuessOf(w.Season, w.History).Lost), Parts: []chanceView{}}
	for _, c := range chance.Weakest(chance.Of(w.Season, w.History, w.Plan, o)) {
		out.Runs = c.Runs
		if c.Left == 0 && c.LeftOut == 0 {
			continue // done: nothing is left to luck
		}
		v := chanceView{Part: c.Part, nothing: c.Left == 0, is: w.dueFor(c.Part, c.Due), Work: w.Title(c.Part), First: c.Due, Chance: rounded(c.Ready), Error: rounded(c.Error),
			Planned: w.Stand(c.Part).Last, Usually: c.Usually, LeftOut: c.LeftOut,
			Worked: rounded(c.Worked), Checks: c.Checks, More: c.More, Least: c.Least, Holds: rounded(c.Holds), Doubt: rounded(c.Doubt), Missing: []missingView{}}
		for _, m := range c.Missing {
			v.Missing = append(v.Missing, missingView{m.Passage, rounded(m.Share)})
		}
		out.Parts = append(out.Parts, v)
	}
	return out
}

// dueFor gives what a part has to be ready for on a date.
func (w *view) dueFor(part string, on model.Date) model.For {
	if p := w.Parts[part]; p != nil {
		if is := p.NextDate(on); is.Date != 0 { // what is due on a day of its own, too
			return is
		}
	}
	return model.For{Date: on}
}

// inTime says in what share of the runs a part is ready. Of one that lacks sessions only
// what is planned can be: that is said, and not called ready.
func (w *view) inTime(p *chanceView, runs int) string {
	share := fmt.Sprintf("in %s of %d runs%s", model.Percent(p.Chance), runs, exactness(p))
	if p.LeftOut > 0 {
		return fmt.Sprintf("lacks %s; what is planned of it is done before %s, %s", several(p.LeftOut, "session", "sessions"), w.say.locale.For(p.is), share)
	}
	return fmt.Sprintf("is ready for %s, %s", w.say.locale.For(p.is), share)
}

// lacking says what is most likely missing of a part where it is not ready.
func (p *chanceView) lacking() string {
	switch {
	case p.nothing || p.Chance > 0.995:
		return ""
	case p.Checks+p.More == 0:
		return "one visit"
	case p.More == 0:
		return several(p.Checks, "last check", "last checks")
	case p.Checks == 0:
		return "visits of " + several(p.More, "passage", "passages")
	}
	return fmt.Sprintf("%s, more of %s", several(p.Checks, "last check", "last checks"), several(p.More, "other", "others"))
}

// rounded keeps four decimals: more of them is no more than luck.
func rounded(x float64) float64 { return math.Round(1e4*x) / 1e4 }

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

// asLuck says how much of a part's chance is luck: what it would be with no day lost,
// and with everything going as meant.
func (w *view) asLuck(part string) string {
	ready := func(c chance.Change) string {
		o := w.luck()
		o.Change = c
		return model.Percent(chance.ReadyIn(chance.Lacking(w.Season, w.History, w.Plan, part, o)))
	}
	return fmt.Sprintf("With no day lost in %s, with everything going as meant in %s.", ready(chance.Change{NoLost: true}), ready(chance.Change{Exact: true}))
}
