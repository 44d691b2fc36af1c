package main

import (
	"slices"

	"primaprova/model"
)

// dayView is a day sheet for programs.
type dayView struct {
	Date     model.Date     `json:"date"`
	Services []serviceView  `json:"services"`
	Sessions []sessionView  `json:"sessions"`
	Rests    []restView     `json:"rests"`
	Load     loadView       `json:"load"`
	Mind     []string       `json:"mind"`
	Next     *rehearsalView `json:"next_first_rehearsal"`

	Pressing *pressingView `json:"cannot_wait,omitempty"` // of today alone
}

// pressingView is a session that is not on today and can wait less than what is.
type pressingView struct {
	ID    string     `json:"id"`
	Until model.Date `json:"can_wait_until"`
	what  string
}

type serviceView struct {
	Programme string        `json:"programme"`
	Kind      string        `json:"kind"`
	Date      model.Date    `json:"date"`
	Start     model.Clock   `json:"start"`
	Lasts     model.Minutes `json:"lasts"`
	Playing   model.Minutes `json:"playing"`
	Missed    bool          `json:"missed,omitempty"` // it takes place without the player
}

type sessionView struct {
	model.Session
	Work  string      `json:"work,omitempty"`
	Bars  string      `json:"bars,omitempty"`
	Do    string      `json:"do"`
	Tempo *model.Rung `json:"tempo,omitempty"`

	Recorded string `json:"recorded,omitempty"` // what the record says of it: done, not done, did not hold
}

// restView is a rest after so many of the day's sessions.
type restView struct {
	After   int           `json:"after"`
	Start   *model.Clock  `json:"start,omitempty"`
	Minutes model.Minutes `json:"minutes"`
	Do      string        `json:"do"`
}

type loadView struct {
	Cap       model.Minutes `json:"cap"`
	Most      model.Minutes `json:"most"` // what the limits allow: the cap, and on rest days and days off services alone
	Services  model.Minutes `json:"services"`
	Other     model.Minutes `json:"other,omitempty"` // beside services and what is planned
	WarmUp    model.Minutes `json:"warm_up"`
	Planned   model.Minutes `json:"planned"`
	Listening model.Minutes `json:"listening"`
	Rest      bool          `json:"rest"`
}

type rehearsalView struct {
	Programme string     `json:"programme"`
	Date      model.Date `json:"date"`
	Is        string     `json:"is"` // first rehearsal, or what there is where nothing is rehearsed
}

// sheet gathers all that a day holds.
func (w *view) sheet(on model.Date) dayView {
	room, load := w.Season.RoomOn(on), w.Loads().On(on)
	sheet := w.Sheet(on)
	d := dayView{Date: on, Services: w.servicesOn(on), Sessions: []sessionView{}, Rests: []restView{}, Mind: sheet.Mind, Next: w.nextRehearsal(on),
		Load: loadView{room.Cap, load.Most, load.InServices(), load.Other, load.WarmUp, load.Planned, load.Listening, room.Rest}}
	for _, l := range sheet.Lines {
		if l.Session == nil {
			d.Rests = append(d.Rests, restView{len(d.Sessions), l.From, l.Rest, l.Do})
			continue
		}
		d.Sessions = append(d.Sessions, sessionView{*l.Session, l.Work, l.Bars, w.say.locale.Doing(&l), l.Tempo, w.recorded[l.Session.Key()]})
	}
	return d
}

// pointing gives a day's sheet, which points to the dispatch list where that is for today. The
// list takes longer than all the rest: whoever shows no sheet does without.
func (w *view) pointing(on model.Date) dayView {
	d := w.sheet(on)
	if w.History == nil || on != w.History.Today {
		return d
	}
	list := w.Season.Dispatch(w.Plan, w.History)
	if x := list.Pressing(); x != nil {
		what, _ := w.what(w.dispatched(x, list.Date))
		d.Pressing = &pressingView{x.ID, x.Last, w.ShortTitle(x.Part) + ", " + what}
	}
	return d
}

// dispatched is a session of a dispatch list, on its day.
func (w *view) dispatched(x *model.Dispatched, on model.Date) sessionView {
	s := sessionView{Session: x.On(on), Work: w.Parts[x.Part].Part.Work}
	if s.Passage != nil {
		s.Bars = w.Bars(*s.Passage)
	}
	return s
}

func (w *view) servicesOn(on model.Date) []serviceView {
	out := []serviceView{}
	for i := range w.Season.Programmes {
		p := &w.Season.Programmes[i]
		for _, s := range p.Services {
			if s.Date == on {
				out = append(out, serviceView{p.Title, s.Kind.String(), s.Date, s.Start, s.Lasts, s.PlayingMinutes(), s.Missed})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b serviceView) int { return int(a.Start - b.Start) })
	return out
}

// nextRehearsal gives the first rehearsal that comes next, today's included.
func (w *view) nextRehearsal(on model.Date) *rehearsalView {
	var next *rehearsalView
	for i := range w.Season.Programmes {
		p := &w.Season.Programmes[i]
		if first := p.FirstRehearsal(); first >= on && (next == nil || first < next.Date) {
			next = &rehearsalView{p.Title, first, p.FirstIs()}
		}
	}
	return next
}
