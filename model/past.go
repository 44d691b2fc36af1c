package model

import (
	"cmp"
	"slices"
)

// Past gives the sessions that happened, as a plan carries them on: those of
// days before History.Today, and of that day the ones that are done already.
// Where the standing plan has such a session on its day it is taken as it
// stood; one that was done on another day lies on that day. What was planned
// and not done is not among them: it is wanted again and has its place among
// what lies ahead, or nothing asks for it any more.
func (s *Season) Past(h *History, standing *Plan) []Session {
	if h == nil {
		return nil
	}
	p := past{s: s, h: h, taken: map[string]bool{}, stood: map[string]*Session{}, near: map[dayOfPassage]*Session{}, played: map[Date]bool{}}
	if standing != nil {
		for i := range standing.Sessions {
			v := &standing.Sessions[i]
			p.stood[v.ID] = v
			if v.Passage != nil {
				p.near[dayOfPassage{*v.Passage, v.Date}] = v
			}
		}
	}
	work := s.Work(&History{Found: h.Found}) // recipes as they are without a record
	for i := range work {
		for j := range work[i].Passages {
			w := &work[i].Passages[j]
			for k, d := range h.Visits[w.Name] {
				m := w.Recipe[min(k, len(w.Recipe)-1)].Minutes
				p.add(Wanted{ID: VisitID(w.Name, k+1), Stage: PassageStage, Part: work[i].Name, Passage: w.Name, Visit: k + 1, Visits: max(k+1, len(w.Recipe)), Minutes: m}, d)
			}
		}
		q := work[i].Part
		for stage, m := range map[Stage]Minutes{ListeningStage: q.Listening, ReadStage: q.ReadThrough, RecordingsStage: q.Recordings} {
			id := StageID(work[i].Name, stage)
			if d := h.Stages[id]; d != 0 {
				p.add(Wanted{ID: id, Stage: stage, Part: work[i].Name, Minutes: m}, d)
			}
		}
	}
	if standing != nil {
		p.rest(standing)
	}
	p.order(standing)
	return p.out
}

type past struct {
	s      *Season
	h      *History
	stood  map[string]*Session // the standing plan, by id
	near   map[dayOfPassage]*Session
	played map[Date]bool   // days on which something was played
	taken  map[string]bool // ids in out
	out    []Session
}

type dayOfPassage struct {
	passage string
	date    Date
}

// add enters a session that was done on a day.
func (p *past) add(w Wanted, d Date) {
	if d > p.h.Today || !p.s.Holds(d) {
		return
	}
	stood := p.stood[w.ID]
	if stood != nil && stood.Date == d {
		p.put(*stood)
		return
	}
	v := w.On(d)
	if n := p.near[dayOfPassage{w.Passage, d}]; n != nil {
		// Another visit was planned that day, and this one made.
		v.Minutes, v.Start, v.Ends, v.Rests = n.Minutes, n.Start, n.Ends, n.Rests
	} else if stood != nil {
		v.Minutes = stood.Minutes
	}
	p.put(v)
}

func (p *past) put(v Session) {
	if p.taken[v.ID] {
		return
	}
	p.taken[v.ID] = true
	p.played[v.Date] = p.played[v.Date] || v.Playing
	p.out = append(p.out, v)
}

// order puts the sessions in the order in which they stood, which people have
// seen; what did not stand comes after, by its name.
func (p *past) order(standing *Plan) {
	at := map[string]int{}
	if standing != nil {
		for i := range standing.Sessions {
			at[standing.Sessions[i].ID] = i - len(standing.Sessions)
		}
	}
	slices.SortFunc(p.out, func(a, b Session) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(at[a.ID], at[b.ID]), cmp.Compare(a.ID, b.ID))
	})
}

// rest keeps what happened and the season no longer knows, as a part or a
// passage that is gone from the file, and the warm-ups of days of playing.
func (p *past) rest(standing *Plan) {
	for i := range standing.Sessions {
		v := standing.Sessions[i]
		if v.Date > p.h.Today || !p.s.Holds(v.Date) {
			continue
		}
		done := p.h.Stages[v.ID] == v.Date
		if v.Passage != nil && v.Visit != nil {
			days := p.h.Visits[*v.Passage]
			done = *v.Visit <= len(days) && days[*v.Visit-1] == v.Date
		}
		if done {
			p.put(v)
		}
	}
	for i := range standing.Sessions {
		if v := standing.Sessions[i]; v.Stage == WarmUpStage && v.Date < p.h.Today && p.s.Holds(v.Date) && p.played[v.Date] {
			p.put(v)
		}
	}
}
