package page

import (
	"fmt"
	"html/template"
	"strings"

	"primaprova/model"
)

// view is what the template shows: words and figures, nothing to compute.
type view struct {
	Style                   template.CSS
	Title, Span, Instrument string
	HalfDays                bool
	Now                     int // number of the week that stands open
	Weeks                   []week
	Programmes              []programme
	LeftOut                 []leftOut
}

type week struct {
	Number           int
	Dates, Load, Cap string
	Open             bool
	Bar              bar
	Days             []day
}

// bar gives shares of the caps, in percent; together never above 100.
type bar struct{ Services, Planned int }

type day struct {
	Name, Load, Note string
	Today            bool
	Services         []service
	Groups           []group
}

type service struct{ At, What string }

// group is sessions of one work that follow each other.
type group struct {
	Work     string
	Sessions []session
}

type session struct {
	At, What, Nature, Visit string
	Check, Rest             bool
}

type programme struct {
	Title, First, Ready, Margin string
	LeftOut                     int
	Parts                       []part
}

type part struct {
	Work, State string
	Facts       []fact
	Passages    []passage
}

type fact struct{ Name, Value string }

type passage struct{ Name, Nature, Days string }

type leftOut struct{ Work, What string }

// gathering is what a view is made from.
type gathering struct {
	s        *model.Season
	o        Options
	sheets   *model.Sheets
	passages map[string]*model.PassageWork
	byPart   map[string][]*model.Session
	h        *model.History
	readyBy  map[model.Date]string // titles of programmes by their ready-by dates
	loads    *model.Loads
	stands   map[string]*model.Stand
	out      map[string][]*model.Unplaced
}

func gather(s *model.Season, p *model.Plan, h *model.History, o Options) *view {
	g := &gathering{s: s, o: o, sheets: s.Sheets(p, h), passages: map[string]*model.PassageWork{},
		byPart: map[string][]*model.Session{}, h: h, readyBy: map[model.Date]string{}, loads: s.Loads(p), stands: map[string]*model.Stand{}, out: map[string][]*model.Unplaced{}}
	work := s.Work(h)
	for i := range work {
		for j := range work[i].Passages {
			g.passages[work[i].Passages[j].Name] = &work[i].Passages[j]
		}
	}
	for i := range p.Sessions {
		g.byPart[p.Sessions[i].Part] = append(g.byPart[p.Sessions[i].Part], &p.Sessions[i])
	}
	for i := range s.Programmes {
		if p := &s.Programmes[i]; len(p.Parts) > 0 {
			on := p.FirstRehearsal() - model.Date(s.Habits.ReadyDays)
			g.readyBy[on] = strings.TrimPrefix(g.readyBy[on]+", "+p.Title, ", ")
		}
	}
	stands := s.Stands(p, h)
	for i := range stands {
		t := &stands[i]
		g.stands[t.Part] = t
		for j := range t.Lacks {
			u := t.Lacks[j].LeftOut()
			g.out[t.Part] = append(g.out[t.Part], &u)
		}
	}
	v := &view{Title: s.Title, Instrument: s.Instrument, Span: o.Locale.Long(s.From) + " to " + o.Locale.Long(s.To), HalfDays: o.Locale.HalfDays, Weeks: g.weeks()}
	for _, w := range v.Weeks {
		if w.Open {
			v.Now = w.Number
		}
	}
	for i := range s.Programmes {
		v.Programmes = append(v.Programmes, g.programme(&s.Programmes[i], work))
	}
	for i := range work {
		if out := g.out[work[i].Name]; len(out) > 0 && !work[i].Over {
			v.LeftOut = append(v.LeftOut, leftOut{work[i].Part.Work, g.missing(out)})
		}
	}
	return v
}

// programme sums a programme up, with its parts.
func (g *gathering) programme(p *model.Programme, work []model.PartWork) programme {
	l, first := g.o.Locale, p.FirstRehearsal()
	out := programme{Title: p.Title, First: l.Day(first)}
	var stands []model.Stand
	for i := range work {
		if work[i].Programme != p {
			continue
		}
		out.Parts = append(out.Parts, g.part(&work[i], first))
		stands = append(stands, *g.stands[work[i].Name])
	}
	var ready model.Date
	if ready, out.LeftOut = model.Together(stands); ready != 0 {
		out.Ready, out.Margin = l.Day(ready), fmt.Sprint(max(0, int(first-ready)))
	}
	return out
}

// part says of a part when it is there, when it is ready, and each passage's
// days.
func (g *gathering) part(w *model.PartWork, first model.Date) part {
	l := g.o.Locale
	out := part{Work: w.Part.Work, Facts: []fact{{"arrives", l.Day(w.Part.Arrives)}}}
	stages := map[model.Stage]model.Date{model.ListeningStage: w.Listened, model.ReadStage: w.Read, model.RecordingsStage: w.Recorded}
	visits := map[string]map[int]model.Date{}
	for i := range w.Passages {
		ps := &w.Passages[i]
		visits[ps.Name] = map[int]model.Date{}
		for k, on := range ps.Done {
			visits[ps.Name][k+1] = on
		}
	}
	for _, s := range g.byPart[w.Name] {
		switch {
		case s.Passage == nil:
			stages[s.Stage] = s.Date
		case s.Visit != nil && visits[*s.Passage] != nil:
			visits[*s.Passage][*s.Visit] = s.Date
		}
	}
	for _, x := range []model.Stage{model.ListeningStage, model.ReadStage, model.RecordingsStage} {
		if on := stages[x]; on != 0 {
			out.Facts = append(out.Facts, fact{string(x), l.Day(on)})
		}
	}
	out.Facts = append(out.Facts, fact{"ready by", l.Day(w.Ready)}, fact{"first rehearsal", l.Day(first)})
	for i := range w.Passages {
		ps := &w.Passages[i]
		var days []string
		for k := range ps.Recipe {
			if on := visits[ps.Name][k+1]; on != 0 {
				days = append(days, l.Brief(on))
			} else {
				days = append(days, "left out")
			}
		}
		out.Passages = append(out.Passages, passage{ps.Passage.Where(), marked(&ps.Passage), strings.Join(days, " · ")})
	}
	switch n, ready := len(g.out[w.Name]), g.stands[w.Name].Ready; {
	case n > 0:
		out.State = fmt.Sprintf("%d left out", n)
	case ready != 0:
		out.State = "ready " + l.Day(ready)
	default:
		out.State = "nothing is planned"
	}
	return out
}
