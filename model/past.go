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
	p := past{s: s, h: h, taken: map[SessionDay]bool{}, stood: map[SessionDay]*Session{}, at: map[SessionDay]int{}, played: map[Date]bool{}}
	if standing != nil {
		for i := range standing.Sessions {
			v := &standing.Sessions[i]
			p.stood[v.Key()], p.at[v.Key()] = v, i-len(standing.Sessions)
		}
	}
	work := s.Work(&History{Found: h.Found, Visits: h.Visits}) // recipes as they are without failed checks
	for i := range work {
		for j := range work[i].Passages {
			w := &work[i].Passages[j]
			for k, d := range h.Visits[w.Name] {
				m := w.Recipe[min(k, len(w.Recipe)-1)].Minutes
				p.add(Wanted{ID: VisitID(w.Name, k+1), Stage: PassageStage, Part: work[i].Name, Passage: w.Name, Visit: k + 1, Visits: max(k+1, len(w.Recipe)), Minutes: m}, d)
			}
		}
		for _, x := range work[i].Sittings {
			if d := h.Stages[x.ID]; d != 0 {
				p.add(Wanted{ID: x.ID, Stage: ListeningStage, Part: work[i].Name, Minutes: x.Minutes}, d)
			}
		}
		q := work[i].Part
		for stage, m := range map[Stage]Minutes{ReadStage: q.ReadThrough, RecordingsStage: q.Recordings} {
			id := StageID(work[i].Name, stage)
			if d := h.Stages[id]; d != 0 {
				p.add(Wanted{ID: id, Stage: stage, Part: work[i].Name, Minutes: m}, d)
			}
		}
	}
	if standing != nil {
		p.rest(standing)
	}
	p.order()
	return p.out
}

type past struct {
	s      *Season
	h      *History
	stood  map[SessionDay]*Session // the standing plan
	at     map[SessionDay]int      // place in it, below 0
	played map[Date]bool           // days on which something was played
	taken  map[SessionDay]bool     // sessions in out
	out    []Session
}

// add enters a session that was done on a day. Where the standing plan has it
// there, as whichever visit, it keeps its length, its hours and its number.
func (p *past) add(w Wanted, d Date) {
	if d > p.h.Today || !p.s.Holds(d) {
		return
	}
	v := w.On(d)
	if o := p.stood[v.Key()]; o != nil {
		v.Minutes, v.Start, v.Ends, v.Rests, v.Number = o.Minutes, o.Start, o.Ends, o.Rests, o.Number
		if o.ID == v.ID {
			v.Visits, v.Sequence = o.Visits, o.Sequence
		}
	}
	p.put(v)
}

func (p *past) put(v Session) {
	if p.taken[v.Key()] {
		return
	}
	p.taken[v.Key()] = true
	p.played[v.Date] = p.played[v.Date] || v.Playing
	p.out = append(p.out, v)
}

// order puts the sessions in the order in which they stood, which people have
// seen; what did not stand comes after, by its name.
func (p *past) order() {
	slices.SortFunc(p.out, func(a, b Session) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(p.at[a.Key()], p.at[b.Key()]), cmp.Compare(a.ID, b.ID))
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
			k := 1 + slices.Index(p.h.Visits[*v.Passage], v.Date)
			done, v.ID, v.Visit = k > 0, VisitID(*v.Passage, k), &k
		}
		if done {
			p.put(v)
		}
	}
	for i := range standing.Sessions {
		if v := standing.Sessions[i]; v.Stage == WarmUpStage && v.Date <= p.h.Today && p.s.Holds(v.Date) && p.played[v.Date] {
			p.put(v)
		}
	}
}
