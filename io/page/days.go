package page

import (
	"bufio"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"slices"
	"strings"

	"primaprova/model"
)

// weeks gives the season by the reader's weeks; that of today stands open.
func (g *gathering) weeks(today model.Date) []week {
	var out []week
	l := g.o.Locale
	for from := g.Season.From; from <= g.Season.To; {
		to := min(l.WeekOf(from).To, g.Season.To)
		year, number := l.ISOWeekOf(from)
		w := week{ID: fmt.Sprintf("w%d-%02d", year, number), Number: fmt.Sprint(number), Dates: l.Day(from) + " to " + l.Day(to), Open: from <= today && today <= to}
		if from == to {
			w.Dates = l.Day(from)
		}
		for d := from; d <= to; d++ {
			w.Days = append(w.Days, g.day(d, d == today))
		}
		sum := g.Loads().During(model.Range{From: from, To: to})
		w.Load = sum.OfMost()
		g.other = g.other || sum.Other > 0
		if all := max(sum.Most, sum.Playing()); all > 0 {
			w.Bar.Services = int(100 * sum.InServices() / all)
			w.Bar.Other = int(100 * sum.Other / all)
			w.Bar.Planned = int(100 * (sum.WarmUp + sum.Planned) / all)
		}
		out = append(out, w)
		from = to + 1
	}
	return out
}

func (g *gathering) day(on model.Date, today bool) day {
	l := g.o.Locale
	d := day{ID: on.String(), Name: l.Day(on), Short: l.ShortWeekday(on.Weekday()), Today: today, Due: g.readyBy[on]}
	if today {
		d.Ahead = g.ahead(on)
	}
	if sum := g.Loads().On(on); sum.Playing() > 0 {
		d.Load = sum.OfMost()
	}
	d.Marks = strings.Join(g.Season.Marked(on, l.Day), " ")
	for i := range g.Season.Programmes {
		p := &g.Season.Programmes[i]
		first := p.FirstRehearsal() == on
		for _, v := range p.Services {
			if v.Date != on {
				continue
			}
			x := service{At: l.Hours(model.Span{From: v.Start, To: v.Start + model.Clock(v.Lasts)}), What: v.Kind.String(), Letter: g.Looks[i].Letter, Look: i, Programme: p.Title}
			if first && v.Kind.Rehearses() {
				x.What, x.First, first = "first "+x.What, true, false
			}
			if v.Missed {
				x.What += " (not played)"
			}
			d.Services = append(d.Services, x)
		}
	}
	for _, o := range g.Season.OtherOn(on) {
		at := o.PlayingMinutes().String()
		if o.At.To > o.At.From {
			at = l.Hours(o.At)
		}
		d.Services = append(d.Services, service{At: at, What: o.Title})
	}
	n := 0
	for _, line := range g.Sheet(on).Lines {
		if line.Session != nil {
			n++
		}
		d.Rows = append(d.Rows, g.row(line, n))
	}
	d.Note = g.Season.RestWord(on, g.History)
	if note := g.History.Noted(on); note != "" {
		d.Note += ": " + note
	}
	if d.Note == "" && len(d.Rows) == 0 && len(d.Services) == 0 {
		d.Note = "nothing is planned"
	}
	return d
}

// row gives a session, with its number on its day's sheet, or a rest.
func (g *gathering) row(line model.SheetLine, n int) row {
	s := line.Session
	if s == nil {
		return row{Class: "r", At: "rest " + line.Rest.String()}
	}
	if s.Number != 0 { // plans of older versions have none
		n = s.Number
	}
	out := row{At: fmt.Sprint(n), What: s.Word(), Visit: s.Minutes.String(), Do: g.o.Locale.Doing(&line)}
	if s.Start != nil {
		out.At += " " + g.o.Locale.Clock(*s.Start)
	}
	if w := g.Parts[s.Part]; w != nil {
		out.What = w.Part.ID + " " + out.What
		out.Class = fmt.Sprintf("q%d", slices.IndexFunc(g.Season.Programmes, func(p model.Programme) bool { return p.ID == w.Programme.ID }))
	} else if s.Part != "" {
		out.What = s.Part + " " + out.What
	}
	if out.Said = g.o.Recorded[s.Key()]; strings.HasPrefix(out.Said, "done") {
		out.Said = "✓ " + out.Said
	}
	if s.Visit == nil || s.Visits == nil {
		return out
	}
	out.What = strings.TrimSuffix(out.What, string(s.Stage)) + strings.TrimPrefix(line.Bars, "bars ")
	if x := model.Nature(line.Hard, line.Exposed); x != "" {
		out.Do = x + ": " + out.Do
	}
	if line.Tempo != nil {
		out.Tempo = "at " + line.Tempo.String()
	}
	out.Visit = fmt.Sprintf("%d/%d, %s", *s.Visit, *s.Visits, s.Minutes)
	return out
}

// Options says how the page is written.
type Options struct {
	Locale   model.Locale
	Today    model.Date                  // the day it shows first where it can't ask the device; zero: the first one
	Recorded map[model.SessionDay]string // what the record says of sessions, in a few words
}

//go:embed page.css
var css string

//go:embed page.js
var script string

//go:embed page.html.tmpl
var source string

var sheet = template.Must(template.New("page").Parse(source))

// Write writes the page of a season and its plan. The history may be nil.
func Write(w io.Writer, s *model.Season, p *model.Plan, h *model.History, o Options) error {
	b := bufio.NewWriter(w)
	v := gather(s, p, h, o)
	style := css + v.rules()
	v.Style, v.StyleHash = template.CSS(style), hash(style)
	v.Script, v.ScriptHash = template.JS(script), hash(script)
	if err := sheet.Execute(b, v); err != nil {
		return err
	}
	return b.Flush()
}

// hash names a text in a policy (Content Security Policy Level 3, section 2.3.1).
func hash(text string) template.HTMLAttr {
	sum := sha256.Sum256([]byte(text))
	return template.HTMLAttr("sha256-" + base64.StdEncoding.EncodeToString(sum[:]))
}
