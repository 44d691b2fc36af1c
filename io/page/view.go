package page

import (
	"cmp"
	"fmt"
	"html/template"
	"strings"

	"primaprova/model"
)

// view is what the template shows: words and figures, nothing to compute.
type view struct {
	Style                     template.CSS
	Script                    template.JS
	StyleHash, ScriptHash     template.HTMLAttr
	Title, Span, Instrument   string
	Class                     string // of the whole page: how much room starts take
	Changed, Stood, StoodSaid string // which plan it is, and up to which day it knows what happened
	Today, Week               string
	Weeks                     []week
	Earlier, Coming           []week // of these, before today's, and from it on
	Other                     bool   // some week has other playing
	Programmes                []programme
	LeftOut                   []leftOut
	looks                     []model.Look
	dos                       []string // what many rows say to do; see share
}

type week struct {
	ID, Number, Dates, Load string
	Open                    bool
	Bar                     bar
	Days                    []day
}

// bar gives shares of the caps, in percent; together never above 100.
type bar struct{ Services, Other, Planned int }

type day struct {
	ID, Name, Short, Load, Note, Marks, Due string
	Today                                   bool
	Ahead                                   string // today: how far it is to the next first rehearsal
	Services                                []service
	Rows                                    []row
}

type service struct {
	At, What, Letter, Programme string
	Look                        int
	First                       bool
}

// row is a session or a rest.
type row struct {
	Class, At, What, Said, Tempo, Visit, Do string
}

type programme struct {
	Title, Letter, Date, Is, First, Due, Ready, Done string
	Look, LeftOut                                    int
	Parts                                            []part
}

type part struct {
	Short, Work, State, Facts string
	Passages                  []passage
}

type passage struct{ Name, Nature, Days string }

type leftOut struct{ Work, What string }

// gathering is what a view is made from.
type gathering struct {
	*model.View
	o       Options
	readyBy map[model.Date]string // titles of programmes by their ready-by dates
	other   bool                  // some week has other playing
}

func gather(s *model.Season, p *model.Plan, h *model.History, o Options) *view {
	g := &gathering{View: s.View(p, h), o: o, readyBy: map[model.Date]string{}}
	for i := range s.Programmes {
		if p := &s.Programmes[i]; len(p.Parts) > 0 {
			on := p.FirstRehearsal() - model.Date(s.Habits.ReadyDays)
			g.readyBy[on] = strings.TrimPrefix(g.readyBy[on]+", "+p.Title, ", ")
		}
	}
	l := o.Locale
	stood := min(max(o.Today, s.From), s.To)
	v := &view{Title: s.Title, Instrument: s.Instrument, Span: l.Long(s.From) + " to " + l.Long(s.To), Weeks: g.weeks(stood), looks: g.Looks,
		Changed: l.DayYear(cmp.Or(p.Changed, p.From)), Stood: cmp.Or(o.Today, s.From).String(), StoodSaid: l.DayYear(cmp.Or(o.Today, s.From)),
		Today: stood.String()}
	v.Other = g.other
	v.share()
	switch {
	case !s.HasHours():
		v.Class = "plain"
	case l.HalfDays:
		v.Class = "half-days"
	}
	for i, w := range v.Weeks {
		if w.Open {
			v.Week, v.Earlier, v.Coming = w.ID, v.Weeks[:i], v.Weeks[i:]
		}
	}
	for i := range s.Programmes {
		v.Programmes = append(v.Programmes, g.programme(i))
	}
	for i := range g.Work {
		if w := &g.Work[i]; !w.Over {
			if out := g.LeftOut(w.Name); len(out) > 0 {
				v.LeftOut = append(v.LeftOut, leftOut{w.Part.Work, g.missing(out)})
			}
		}
	}
	return v
}

// ahead counts the days to the first rehearsal that comes next.
func (g *gathering) ahead(today model.Date) string {
	next := g.Season.NextFirst(today)
	switch {
	case next == nil:
		return ""
	case next.FirstRehearsal() == today:
		return "Today is the " + next.FirstIs() + " of " + next.Title + "."
	}
	return fmt.Sprintf("In %s the %s of %s.", several(int(next.FirstRehearsal()-today), "day"), next.FirstIs(), next.Title)
}

func several(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// programme sums a programme up, with its parts.
func (g *gathering) programme(n int) programme {
	p := &g.Season.Programmes[n]
	l, first := g.o.Locale, p.FirstRehearsal()
	out := programme{Title: p.Title, Letter: g.Looks[n].Letter, Look: n, Is: p.FirstIs(), First: l.Day(first)}
	if first != 0 {
		out.Date = first.String()
		out.Due = l.Day(first - model.Date(g.Season.Habits.ReadyDays))
	}
	done, all := 0, 0
	for i := range g.Work {
		if g.Work[i].Programme != p {
			continue
		}
		out.Parts = append(out.Parts, g.part(&g.Work[i]))
		d, a := visits(&g.Work[i])
		done, all = done+d, all+a
	}
	out.Done = fmt.Sprintf("%d of %d", done, all)
	var ready model.Date
	if ready, out.LeftOut = g.Together(p); ready != 0 {
		out.Ready = l.Day(ready)
	}
	return out
}

// visits counts a part's visits: those done, and all.
func visits(w *model.PartWork) (done, all int) {
	for i := range w.Passages {
		done += min(len(w.Passages[i].Done), len(w.Passages[i].Recipe))
		all += len(w.Passages[i].Recipe)
	}
	return done, all
}

// missing names what is left out of a part: its stages, and each passage with
// how many of its visits.
func (g *gathering) missing(list []*model.Unplaced) string {
	var out, order []string
	visits := map[string]int{}
	var minutes model.Minutes
	for _, u := range list {
		minutes += u.Minutes
		if u.Passage == nil {
			out = append(out, u.Word())
			continue
		}
		if visits[*u.Passage] == 0 {
			order = append(order, *u.Passage)
		}
		visits[*u.Passage]++
	}
	for _, p := range order {
		if visits[p] == 1 {
			out = append(out, "1 visit of "+g.Bars(p))
		} else {
			out = append(out, fmt.Sprintf("%d visits of %s", visits[p], g.Bars(p)))
		}
	}
	return strings.Join(out, ", ") + " (" + minutes.String() + ")"
}
