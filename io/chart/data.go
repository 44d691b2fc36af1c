package chart

import (
	"fmt"
	"strings"

	"primaprova/model"
)

// data is what is drawn, in the words of a season.
type data struct {
	locale            model.Locale
	title, span, note string
	from, to          model.Date
	days              []day
	weeks             []week
	programmes        []programme
	readyDays, heavy  int
	chances           bool // some part has one
}

type day struct {
	model.Day
	off bool
}

// week is an ISO week, as far as it lies in the season.
type week struct {
	from, to               model.Date
	services, planned, cap model.Minutes
}

type programme struct {
	title          string
	first, readyBy model.Date
	parts          []way
	ready          model.Date // the last visit of all its parts; zero: none is planned or done
	leftOut        int
}

// way is a part's way from arrival to ready.
type way struct {
	work              string
	arrives           model.Date
	listening, visits []model.Date // return to the recordings included
	read              model.Date
	ready             model.Date // last visit, or the read-through
	leftOut           int
	chance            float64 // below 0: there is none
}

func gather(s *model.Season, p *model.Plan, h *model.History, o Options) *data {
	l := o.Locale
	d := &data{locale: l, title: s.Title, from: s.From, to: s.To, readyDays: s.Habits.ReadyDays, heavy: s.Limits.Heavy, chances: len(o.Chances) > 0}
	d.span = l.Long(s.From) + " to " + l.Long(s.To)
	d.note = fmt.Sprintf("Caps are the player's own. A day above %d %% of its cap counts as heavy. That is guidance, not a safe dose; pain is a reason to stop.", s.Limits.Heavy)
	planned := map[model.Date]model.Day{}
	for _, x := range p.Days {
		planned[x.Date] = x
	}
	for on := s.From; on <= s.To; on++ {
		x, ok := planned[on]
		if !ok {
			r := s.RoomOn(on)
			x = model.Day{Date: on, Cap: r.Cap, Services: r.Services, Rest: r.Rest}
		}
		d.days = append(d.days, day{x, s.Limits.OffOn(on)})
		if on == s.From || on == on.Monday() {
			d.weeks = append(d.weeks, week{from: on})
		}
		w := &d.weeks[len(d.weeks)-1]
		w.to = on
		w.services += x.Services
		w.planned += x.WarmUp + x.Planned
		w.cap += x.Cap
	}
	d.parts(s, p, h, o.Chances)
	return d
}

func (d *data) parts(s *model.Season, p *model.Plan, h *model.History, chances map[string]float64) {
	sessions, out := map[string][]*model.Session{}, map[string]int{}
	for i := range p.Sessions {
		sessions[p.Sessions[i].Part] = append(sessions[p.Sessions[i].Part], &p.Sessions[i])
	}
	for i := range p.Unplaced {
		out[p.Unplaced[i].Part]++
	}
	work := s.Work(h)
	for i := range s.Programmes {
		p := &s.Programmes[i]
		g := programme{title: p.Title, first: p.FirstRehearsal()}
		g.readyBy = g.first - model.Date(s.Habits.ReadyDays)
		for j := range work {
			if work[j].Programme != p {
				continue
			}
			w := wayOf(&work[j], sessions[work[j].Name])
			w.leftOut, w.chance = out[work[j].Name], -1
			if c, ok := chances[work[j].Name]; ok {
				w.chance = c
			}
			g.parts = append(g.parts, w)
			g.ready = max(g.ready, w.ready)
			g.leftOut += w.leftOut
		}
		d.programmes = append(d.programmes, g)
	}
}

// wayOf follows a part through what the record says was done and what the plan
// holds; a plan keeps the days gone by, so a day may be named by both.
func wayOf(p *model.PartWork, sessions []*model.Session) way {
	w := way{work: short(p.Part.Work), arrives: p.Part.Arrives, read: p.Read}
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
	w.ready = w.read
	for _, on := range w.visits {
		w.ready = max(w.ready, on)
	}
	return w
}

// short leaves away what a title says in brackets at its end, as a rule the
// composer.
func short(title string) string {
	if at := strings.LastIndex(title, " ("); at > 0 && strings.HasSuffix(title, ")") {
		return title[:at]
	}
	return title
}

// rows counts the rows that the parts take: one each, and one a programme.
func (d *data) rows() int {
	n := len(d.programmes)
	for i := range d.programmes {
		n += len(d.programmes[i].parts)
	}
	return n
}
