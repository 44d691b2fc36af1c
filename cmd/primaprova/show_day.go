package main

import (
	"fmt"
	"slices"
	"strings"

	"primaprova/model"
)

func showDay(w *view, on model.Date, _ string) (func(), any, error) {
	d := w.pointing(on)
	return func() { w.sayDay(d) }, d, nil
}

func (w *view) sayDay(d dayView) {
	v := w.say
	v.title("%s", v.longDay(d.Date))
	for _, s := range d.Services {
		span := v.hours(model.Span{From: s.Start, To: s.Start + model.Clock(s.Lasts)})
		if s.Missed {
			v.line("%s %s, %s: not played", span, s.Kind, s.Programme)
			continue
		}
		v.line("%s %s, %s: about %s playing", span, s.Kind, s.Programme, s.Playing)
	}
	for _, o := range w.Season.OtherOn(d.Date) {
		at := ""
		if o.At.To > 0 {
			at = v.hours(o.At) + " "
		}
		v.line("%s%s: about %s playing", at, o.Title, o.PlayingMinutes())
	}
	free := freeWords[w.Season.RestWord(d.Date, w.History)]
	taken := w.History != nil && (w.History.Days[d.Date] == model.Stopped || w.History.Days[d.Date] == model.Lost)
	waits := taken && d.onlyDone() // what stood on it waits for the next plan
	if free != "" && (taken || len(d.Sessions) == 0) {
		v.line("%s", free)
		if note := w.History.Noted(d.Date); note != "" {
			v.line("Noted: %s.", note)
		}
	}
	switch {
	case len(d.Sessions) > 0 || v.form == inCSV: // which has its heading, whatever follows
		v.space()
		v.table(w.dayTable(d))
		v.space()
	case free != "":
	case len(d.Services) > 0:
		v.line("Nothing is planned besides.")
	default:
		v.line("Nothing is planned.")
	}
	if !waits {
		v.line("%s", w.sums(d.Date))
	}
	if marked := w.Season.Marked(d.Date, v.day); len(marked) > 0 {
		v.line("%s", strings.Join(marked, " "))
	}
	if d.Next != nil {
		v.line("%s", w.ahead(d.Date, *d.Next))
	}
	if p := d.Pressing; p != nil {
		v.line("%s waits till %s at most, work of today longer: show urgent.", p.what, v.day(p.Until))
	}
	if len(d.Mind) > 0 {
		v.space()
		for _, l := range d.Mind {
			v.line("%s", l)
		}
	}
}

// onlyDone leaves of a day what the record says was done, with its warm-up, and
// tells whether anything went: on a day that the record takes nothing more is played,
// also where the plan does not know of it yet.
func (d *dayView) onlyDone() bool {
	done := slices.ContainsFunc(d.Sessions, func(s sessionView) bool { return s.Recorded != "" && s.Playing })
	n := len(d.Sessions)
	d.Sessions = slices.DeleteFunc(d.Sessions, func(s sessionView) bool { return s.Recorded == "" && (s.Stage != model.WarmUpStage || !done) })
	if len(d.Sessions) < n {
		d.Rests, d.Mind = nil, []string{model.OnPain}
	}
	return len(d.Sessions) < n
}

// freeWords says of a day without sessions why there are none.
var freeWords = map[string]string{
	"lost":        "A lost day: nothing is planned.",
	"day of pain": "A day of pain: nothing more is planned.",
	"day off":     "A day off.",
	"rest day":    "A rest day: nothing is planned.",
}

// sums says what is heard and played on a day.
func (w *view) sums(d model.Date) string {
	load := w.Loads().On(d)
	out := load.Said(model.Minutes.String)
	if load.Listening > 0 {
		out = fmt.Sprintf("Listening %s. ", load.Listening) + out
	}
	return out
}

func (w *view) ahead(on model.Date, r rehearsalView) string {
	switch n := int(r.Date - on); n {
	case 0:
		return fmt.Sprintf("Today is the %s of %s.", r.Is, r.Programme)
	default:
		return fmt.Sprintf("%s of %s: %s, in %s.", capital(r.Is), r.Programme, w.say.day(r.Date), several(n, "day", "days"))
	}
}
