package main

import (
	"fmt"
	"strings"

	"primaprova/model"
)

func showDay(w *view, on model.Date, _ string) (func(), any, error) {
	d := w.sheet(on)
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
	switch {
	case len(d.Sessions) > 0 || v.form == inCSV: // which has its heading, whatever follows
		v.space()
		v.table(w.dayTable(d))
		v.space()
	case freeWords[w.Season.RestWord(d.Date, w.History)] != "":
		v.line("%s", freeWords[w.Season.RestWord(d.Date, w.History)])
		if note := w.History.Noted(d.Date); note != "" {
			v.line("Noted: %s.", note)
		}
	case len(d.Services) > 0:
		v.line("Nothing is planned besides.")
	default:
		v.line("Nothing is planned.")
	}
	v.line("%s", w.sums(d.Load))
	if s := w.marked(d.Date); s != "" {
		v.line("%s", s)
	}
	if d.Next != nil {
		v.line("%s", w.ahead(d.Date, *d.Next))
	}
	if len(d.Mind) > 0 {
		v.space()
		for _, l := range d.Mind {
			v.line("%s", l)
		}
	}
}

// freeWords says of a day without sessions why there are none.
var freeWords = map[string]string{
	"lost":        "A lost day: nothing is planned.",
	"day of pain": "A day of pain: nothing more is planned.",
	"day off":     "A day off.",
	"rest day":    "A rest day: nothing is planned.",
}

func (w *view) sums(l loadView) string {
	var parts []string
	if l.Listening > 0 {
		parts = append(parts, fmt.Sprintf("Listening %s.", l.Listening))
	}
	own := l.WarmUp + l.Planned
	switch {
	case l.Other > 0:
		what := join(join(said(own, "here"), said(l.Services, "in services")), said(l.Other, "otherwise"))
		parts = append(parts, fmt.Sprintf("Playing %s, of %s.", what, l.Most))
	case own > 0 && l.Services > 0:
		parts = append(parts, fmt.Sprintf("Playing %s here and %s in services, of %s.", own, l.Services, l.Most))
	case own > 0:
		parts = append(parts, fmt.Sprintf("Playing %s of %s.", own, l.Most))
	case l.Services > 0 && l.Services == l.Most:
		parts = append(parts, fmt.Sprintf("Playing %s in services.", l.Services))
	case l.Services > 0:
		parts = append(parts, fmt.Sprintf("Playing %s in services, of %s.", l.Services, l.Most))
	default:
		parts = append(parts, "No playing.")
	}
	return strings.Join(parts, " ")
}

// said writes minutes with where they are played, nothing where there are none.
func said(m model.Minutes, where string) string {
	if m == 0 {
		return ""
	}
	return m.String() + " " + where
}

func (w *view) ahead(on model.Date, r rehearsalView) string {
	switch n := int(r.Date - on); n {
	case 0:
		return fmt.Sprintf("Today is the %s of %s.", r.Is, r.Programme)
	default:
		return fmt.Sprintf("%s of %s: %s, in %s.", capital(r.Is), r.Programme, w.say.day(r.Date), several(n, "day", "days"))
	}
}
