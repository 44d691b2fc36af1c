package chart

import (
	"fmt"

	"primaprova/model"
)

// data is what is drawn, in the words of a season.
type data struct {
	locale            model.Locale
	title, span, note string
	from, to          model.Date
	days              []day
	weeks             []model.WeekLoad
	programmes        []programme
	readyDays, heavy  int
	chances           bool // some part has one
}

type day struct {
	model.Load
	off bool
}

type programme struct {
	title          string
	look           model.Look
	first, readyBy model.Date
	parts          []way
	ready          model.Date // the last visit of all its parts; zero where one lacks something
	leftOut        int
}

// way is a part's way from arrival to ready.
type way struct {
	work              string
	arrives           model.Date
	listening, visits []model.Date // return to the recordings included
	read              model.Date
	last              model.Date // last visit, or the read-through; zero: there is none
	ready             model.Date // last, zero where it lacks something
	leftOut           int
	later             string  // what it is ready for, where that is no first rehearsal
	chance            float64 // below 0: there is none
}

func gather(s *model.Season, p *model.Plan, h *model.History, o Options, known *letters) *data {
	l := known.locale(o.Locale)
	d := &data{locale: l, title: known.name(s.Title, "The season"), from: s.From, to: s.To, readyDays: s.Habits.ReadyDays, heavy: s.Limits.Heavy, chances: len(o.Chances) > 0}
	d.span = l.Long(s.From) + " to " + l.Long(s.To)
	d.note = fmt.Sprintf("Caps are the player's own. A day above %d %% of its cap counts as heavy. That is guidance, not a safe dose; pain is a reason to stop.", s.Limits.Heavy)
	v := s.View(p, h)
	d.weeks = v.Loads().Weeks()
	for on := s.From; on <= s.To; on++ {
		d.days = append(d.days, day{v.Loads().On(on), s.Limits.OffOn(on)})
	}
	d.parts(v, o.Chances, known)
	return d
}

func (d *data) parts(v *model.View, chances map[string]float64, known *letters) {
	looks, work := v.Looks, v.Work
	for i := range v.Season.Programmes {
		p := &v.Season.Programmes[i]
		g := programme{title: known.name(p.Title, known.name(p.ID, "Programme "+looks[i].Letter)), look: looks[i], first: p.FirstRehearsal()}
		g.readyBy = g.first - model.Date(v.Season.Habits.ReadyDays)
		for j := range work {
			if work[j].Programme != p {
				continue
			}
			w := wayOf(&work[j], v.OfPart(work[j].Name))
			w.work = known.name(model.ShortTitle(work[j].Part.Work), known.name(work[j].Part.ID, fmt.Sprintf("part %d", len(g.parts)+1)))
			t := v.Stand(work[j].Name)
			w.last, w.ready, w.leftOut, w.chance = t.Last, t.Ready, len(t.Lacks), -1
			if c, ok := chances[work[j].Name]; ok {
				w.chance = c
			}
			if f := t.Later(); f.Date != 0 {
				w.later = fmt.Sprintf("for %v %s", f.Kind, d.locale.Brief(f.Date))
			}
			g.parts = append(g.parts, w)
		}
		g.ready, g.leftOut = v.Together(p)
		d.programmes = append(d.programmes, g)
	}
}

// wayOf follows a part through what the record says was done and what the plan
// holds; a plan keeps the days gone by, so a day may be named by both.
func wayOf(p *model.PartWork, sessions []*model.Session) way {
	w := way{arrives: p.Part.Arrives, read: p.Read}
	see := func(list *[]model.Date, on model.Date) {
		if on != 0 {
			*list = append(*list, on)
		}
	}
	see(&w.listening, p.Listened)
	see(&w.listening, p.Recorded)
	for i := range p.Passages {
		w.visits = append(w.visits, p.Passages[i].Done...)
	}
	for _, s := range sessions {
		switch s.Stage {
		case model.ReadStage:
			w.read = s.Date
		case model.PassageStage:
			see(&w.visits, s.Date)
		default:
			see(&w.listening, s.Date)
		}
	}
	return w
}

// rows counts the rows that the parts take: one each, and one a programme.
func (d *data) rows() int {
	n := len(d.programmes)
	for i := range d.programmes {
		n += len(d.programmes[i].parts)
	}
	return n
}
