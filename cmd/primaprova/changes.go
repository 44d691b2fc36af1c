package main

import (
	"cmp"
	"maps"
	"slices"

	"primaprova/model"
)

// What became of a session from one plan to the next.
const (
	movedDay    = "moved"
	movedHour   = "other hour" // on the same day
	otherLength = "other length"
	isNew       = "new"
	isGone      = "gone"     // nothing asks for it any more, or it was done
	isLeftOut   = "left out" // asked for and without a day
	isPlaced    = "placed"   // was left out and has a day
)

// changeView is what became of one session, for programs.
type changeView struct {
	Kind    string        `json:"change"`
	ID      string        `json:"id"`
	Was     *model.Date   `json:"was"`
	Is      *model.Date   `json:"is"`
	WasAt   *model.Clock  `json:"was_at"`
	IsAt    *model.Clock  `json:"is_at"`
	Minutes model.Minutes `json:"minutes"`
	Stage   model.Stage   `json:"stage"`
	Part    string        `json:"part"`
	Work    string        `json:"work"`
	Passage *string       `json:"passage"`
	Visit   *int          `json:"visit"`
}

// changesView is what changed between two plans, for programs.
type changesView struct {
	On       model.Date   `json:"planned"` // the planning that made them; empty where it is not known
	Sessions []changeView `json:"sessions"`
	Days     []dayChange  `json:"days"`
	of       int          // sessions of the later plan that could have changed
	ahead    bool         // these are the ones from a day on, not all
}

// dayChange is a day's planned playing in both plans, warm-up included.
type dayChange struct {
	Date  model.Date    `json:"date"`
	Was   model.Minutes `json:"was"`
	Is    model.Minutes `json:"is"`
	goes  []changeView
	comes []changeView
}

// changes compares two plans session by session. Warm-ups follow their days
// and are not counted. Only sessions from a day on could have changed; where
// that is not known the day is zero.
func (w *view) changes(earlier, later *model.Plan, from model.Date) changesView {
	type pair struct{ was, is *model.Session }
	both := map[string]*pair{}
	at := func(id string) *pair {
		if both[id] == nil {
			both[id] = &pair{}
		}
		return both[id]
	}
	for i := range earlier.Sessions {
		if s := &earlier.Sessions[i]; s.Stage != model.WarmUpStage {
			at(s.ID).was = s
		}
	}
	out := changesView{Sessions: []changeView{}, Days: []dayChange{}, ahead: from != 0}
	for i := range later.Sessions {
		if s := &later.Sessions[i]; s.Stage != model.WarmUpStage {
			at(s.ID).is = s
			if s.Date >= from {
				out.of++
			}
		}
	}
	leftOut := func(p *model.Plan) map[string]bool {
		m := map[string]bool{}
		for _, u := range p.Unplaced {
			m[u.ID] = true
		}
		return m
	}
	outBefore, outNow := leftOut(earlier), leftOut(later)
	for id, p := range both {
		if p.was != nil && p.is != nil && p.was.Date == p.is.Date && p.was.Minutes == p.is.Minutes && alike(p.was.Start, p.is.Start) {
			continue
		}
		s := p.is
		if s == nil {
			s = p.was
		}
		c := changeView{ID: id, Minutes: s.Minutes, Stage: s.Stage, Part: s.Part, Work: w.Title(s.Part), Passage: s.Passage, Visit: s.Visit}
		if p.was != nil {
			c.Was, c.WasAt = &p.was.Date, p.was.Start
		}
		if p.is != nil {
			c.Is, c.IsAt = &p.is.Date, p.is.Start
		}
		switch {
		case p.was == nil && outBefore[id]:
			c.Kind = isPlaced
		case p.was == nil:
			c.Kind = isNew
		case p.is == nil && outNow[id]:
			c.Kind = isLeftOut
		case p.is == nil:
			c.Kind = isGone
		case p.was.Date != p.is.Date:
			c.Kind = movedDay
		case p.was.Minutes != p.is.Minutes:
			c.Kind = otherLength
		default:
			c.Kind = movedHour
		}
		out.Sessions = append(out.Sessions, c)
	}
	slices.SortFunc(out.Sessions, func(a, b changeView) int {
		return cmp.Or(cmp.Compare(a.first(), b.first()), cmp.Compare(a.ID, b.ID))
	})
	out.byDay(earlier, later)
	return out
}

func alike(a, b *model.Clock) bool { return a == b || a != nil && b != nil && *a == *b }

// first gives the earlier of the two days of a change.
func (c *changeView) first() model.Date {
	switch {
	case c.Was == nil:
		return *c.Is
	case c.Is == nil:
		return *c.Was
	}
	return min(*c.Was, *c.Is)
}

// byDay lists the days on which sessions come, go or change their length.
func (v *changesView) byDay(earlier, later *model.Plan) {
	days := map[model.Date]*dayChange{}
	at := func(d model.Date) *dayChange {
		if days[d] == nil {
			days[d] = &dayChange{Date: d}
		}
		return days[d]
	}
	for _, c := range v.Sessions {
		if c.Kind == movedHour {
			continue
		}
		if c.Was != nil && (c.Is == nil || *c.Is != *c.Was) {
			d := at(*c.Was)
			d.goes = append(d.goes, c)
		}
		if c.Is != nil {
			d := at(*c.Is)
			d.comes = append(d.comes, c)
		}
	}
	for _, p := range []struct {
		plan *model.Plan
		to   func(*dayChange) *model.Minutes
	}{{earlier, func(d *dayChange) *model.Minutes { return &d.Was }}, {later, func(d *dayChange) *model.Minutes { return &d.Is }}} {
		for _, day := range p.plan.Days {
			if d := days[day.Date]; d != nil {
				*p.to(d) = day.WarmUp + day.Planned
			}
		}
	}
	for _, d := range slices.Sorted(maps.Keys(days)) {
		v.Days = append(v.Days, *days[d])
	}
}
