package page

import (
	"fmt"
	"strings"

	"primaprova/model"
)

// weeks gives the season by the reader's weeks.
func (g *gathering) weeks() []week {
	var out []week
	l := g.o.Locale
	today := min(max(g.o.Today, g.s.From), g.s.To)
	for from := g.s.From; from <= g.s.To; {
		to := min(l.WeekOf(from).To, g.s.To)
		_, number := l.ISOWeekOf(from)
		w := week{Number: number, Dates: l.Day(from) + " to " + l.Day(to), Open: from <= today && today <= to}
		if from == to {
			w.Dates = l.Day(from)
		}
		for d := from; d <= to; d++ {
			w.Days = append(w.Days, g.day(d))
		}
		sum := g.loads.During(model.Range{From: from, To: to})
		w.Load, w.Cap = sum.Playing().Hours(), sum.Most.Hours()
		if all := max(sum.Most, sum.Playing()); all > 0 {
			w.Bar.Services = int(100 * sum.Services() / all)
			w.Bar.Planned = int(100 * (sum.WarmUp + sum.Planned) / all)
		}
		out = append(out, w)
		from = to + 1
	}
	return out
}

func (g *gathering) day(on model.Date) day {
	d := day{Name: g.o.Locale.Day(on), Today: on == g.o.Today}
	if sum := g.loads.On(on); sum.Playing() > 0 {
		d.Load = sum.OfMost()
	}
	for i := range g.s.Programmes {
		p := &g.s.Programmes[i]
		first := p.FirstRehearsal() == on
		for _, v := range p.Services {
			if v.Date == on {
				kind := v.Kind.String()
				if first && v.Kind == model.Rehearsal {
					kind, first = "first rehearsal", false
				}
				at := g.o.Locale.Hours(model.Span{From: v.Start, To: v.Start + model.Clock(v.Lasts)})
				d.Services = append(d.Services, service{at, kind + ", " + p.Title})
			}
		}
	}
	above := ""
	for _, line := range g.sheets.On(on).Lines {
		if line.Session == nil { // a rest comes between two sessions
			last := &d.Groups[len(d.Groups)-1]
			last.Sessions = append(last.Sessions, g.rest(line))
			continue
		}
		if part := line.Session.Part; len(d.Groups) == 0 || part != above {
			d.Groups = append(d.Groups, group{Work: line.Work})
			above = part
		}
		last := &d.Groups[len(d.Groups)-1]
		last.Sessions = append(last.Sessions, g.session(line))
	}
	d.Note = g.s.RestWord(on, g.h)
	if d.Note == "" && len(d.Groups) == 0 && len(d.Services) == 0 {
		d.Note = "nothing is planned"
	}
	if g.readyBy[on] != "" {
		d.Note = strings.TrimPrefix(d.Note+"; ready by: "+g.readyBy[on], "; ")
	}
	return d
}

func (g *gathering) session(line model.SheetLine) session {
	s := line.Session
	out := session{At: s.Minutes.String(), What: string(s.Stage), Check: line.Check}
	if s.Start != nil {
		out.At = g.o.Locale.Clock(*s.Start)
		out.Visit = s.Minutes.String()
	}
	if s.Visit == nil || s.Visits == nil {
		return out
	}
	out.What, out.Nature = line.Bars, nature(line.Hard, line.Exposed)
	if line.Tempo != nil {
		out.Nature = strings.TrimPrefix(out.Nature+", at "+line.Tempo.String(), ", ")
	}
	if out.Visit != "" {
		out.Visit += ", "
	}
	out.Visit += fmt.Sprintf("%d of %d", *s.Visit, *s.Visits)
	return out
}

func (g *gathering) rest(line model.SheetLine) session {
	out := session{At: line.Rest.String(), What: "rest", Rest: true}
	if line.From != nil {
		out.At, out.Visit = g.o.Locale.Clock(*line.From), line.Rest.String()
	}
	return out
}
