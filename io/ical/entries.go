package ical

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	ics "github.com/arran4/golang-ical"

	"primaprova/model"
)

// addSessions makes an event of each session, day by day in the order of the day.
func (c *writer) addSessions() {
	for _, d := range c.dates() {
		for _, block := range model.Blocks(c.days[d]) {
			for i, s := range block {
				e := c.entry(s.ID, s.Sequence)
				title := c.words.title(s)
				if s.Start == nil {
					title += fmt.Sprintf(" (%s)", s.Minutes)
				}
				e.SetSummary(plain(title))
				e.SetDescription(plain(c.words.about(s) + c.said(d, block[i:i+1])))
				e.SetStatus(ics.ObjectStatusConfirmed)
				e.AddCategory(string(s.Stage))
				c.belongs(e, block[i:i+1])
				ends := s.Start
				if s.Ends != nil {
					ends = s.Ends
				}
				c.when(e, d, s.Start, ends, s.Minutes)
				if i == 0 { // one call to the desk is enough
					c.alarm(e, d, s.Start, title)
				}
			}
		}
	}
	if c.o.NoCancelled {
		return
	}
	for _, g := range c.plan.Cancelled {
		if !c.o.Only.holds(partOf(g.ID), g.Date) {
			continue
		}
		e := c.entry(g.ID, g.Sequence)
		e.SetSummary(plain("Cancelled: " + c.words.titleOf(g.ID)))
		e.SetStatus(ics.ObjectStatusCancelled)
		c.when(e, g.Date, g.Start, g.Start, g.Minutes)
	}
}

// partOf gives the part of a session's id; empty for a warm-up.
func partOf(id string) string {
	steps := strings.Split(id, "/")
	if len(steps) < 3 {
		return ""
	}
	return model.PartName(steps[0], steps[1])
}

// dayID names a day's entry. No session has such an id: those of parts have
// more steps and the warm-up's begins otherwise.
func (c *writer) dayID(d model.Date) string { return "day/" + d.String() + c.narrowed() }

// blockID names the entry of a day's k-th block, counted from 1.
func (c *writer) blockID(d model.Date, k int) string {
	return fmt.Sprintf("block/%s/%d%s", d, k, c.narrowed())
}

// addDays makes an entry of each day that has a session.
func (c *writer) addDays() {
	sequence := c.changed()
	for _, d := range c.dates() {
		c.gathered(c.dayID(d), sequence[d], d, c.words.sum(c.days[d]), c.days[d], nil, nil)
	}
	if c.o.NoCancelled {
		return
	}
	for _, g := range c.plan.ChangedDays {
		if len(c.days[g.Date]) == 0 && c.o.Only.dated(g.Date) {
			c.cancelledDay(c.dayID(g.Date), g)
		}
	}
}

// addBlocks makes an event of each run of sessions, from one rest to the next.
// A day's blocks have the day's sequence: one that has more or fewer of them
// than before has changed.
func (c *writer) addBlocks() {
	sequence, count := c.changed(), map[model.Date]int{}
	for _, d := range c.dates() {
		for i, block := range model.Blocks(c.days[d]) {
			first, last := block[0], block[len(block)-1]
			start, ends := first.Start, last.Ends
			if ends == nil {
				ends = start
			}
			c.gathered(c.blockID(d, i+1), sequence[d], d, c.words.block(block), block, start, ends)
			count[d]++
		}
	}
	if c.o.NoCancelled {
		return
	}
	for _, g := range c.plan.ChangedDays {
		for k := count[g.Date] + 1; k <= g.Blocks && c.o.Only.dated(g.Date); k++ {
			c.cancelledDay(c.blockID(g.Date, k), g)
		}
	}
}

// gathered is an entry that lists sessions.
func (c *writer) gathered(id string, sequence int, d model.Date, title string, sessions []*model.Session, start, ends *model.Clock) {
	e := c.entry(id, sequence)
	e.SetSummary(plain(title))
	e.SetDescription(plain(c.words.list(sessions) + c.said(d, sessions)))
	e.SetStatus(ics.ObjectStatusConfirmed)
	c.belongs(e, sessions)
	c.when(e, d, start, ends, 0)
	c.alarm(e, d, start, title)
}

func (c *writer) cancelledDay(id string, g model.ChangedDay) {
	e := c.entry(id, g.Sequence)
	e.SetSummary("Cancelled: practice")
	e.SetStatus(ics.ObjectStatusCancelled)
	c.when(e, g.Date, nil, nil, 0)
}

// addServices makes an event of each rehearsal and concert. The season file
// keeps no history of them, so their sequence stays 0: one that moves is
// another event.
func (c *writer) addServices() {
	for i := range c.season.Programmes {
		p := &c.season.Programmes[i]
		if c.o.Only.Part != "" || c.o.Only.Programme != "" && c.o.Only.Programme != p.ID {
			continue
		}
		for _, v := range p.Services {
			id := fmt.Sprintf("service/%s/%s/%s", p.ID, v.Date, v.Start)
			if !c.o.Only.dated(v.Date) || slices.Contains(c.ids, id) {
				continue
			}
			e := c.entry(id, 0)
			e.SetSummary(plain(c.words.service(p, v)))
			e.SetDescription(plain(c.words.aboutService(p, v)))
			e.SetStatus(ics.ObjectStatusConfirmed)
			e.AddCategory(v.Kind.String())
			if p.Title != "" {
				e.AddCategory(plain(p.Title))
			}
			c.paint(e, p.ID)
			start, ends := v.Start, v.Start+model.Clock(v.Lasts)
			c.when(e, v.Date, &start, &ends, v.Lasts)
		}
	}
}

func (c *writer) dates() []model.Date { return slices.Sorted(maps.Keys(c.days)) }

func (c *writer) changed() map[model.Date]int {
	sequence := map[model.Date]int{}
	for _, d := range c.plan.ChangedDays {
		sequence[d.Date] = d.Sequence
	}
	return sequence
}

// belongs says which programmes an entry's sessions are for, and gives it the
// colour of the one where there is only one.
func (c *writer) belongs(e *ics.VEvent, sessions []*model.Session) {
	var programmes []*model.Programme
	for _, s := range sessions {
		if p := c.words.programme(s.Part); p != nil && !slices.Contains(programmes, p) {
			programmes = append(programmes, p)
			if p.Title != "" {
				e.AddCategory(plain(p.Title))
			}
		}
	}
	if len(programmes) == 1 {
		c.paint(e, programmes[0].ID)
	}
}

func (c *writer) paint(e *ics.VEvent, programme string) {
	if _, look := c.words.Programme(programme); c.o.ByProgramme {
		e.SetColor(model.Tones[look.Tone].CSS)
	}
}

// said gives what an entry says besides, once on a day of playing, in its first block
// or the day's own entry: the day's load where playing of no programme is in it, what
// the day is, the caution. Among single sessions it is the warm-up's, which is bound to
// its day: from one that moves away a calendar would not learn of it; nor of what is
// planned, and so the load is that of all else there.
func (c *writer) said(d model.Date, sessions []*model.Session) string {
	says := func(s *model.Session) bool {
		return s.Playing && (c.o.Entries != Sessions || s.Stage == model.WarmUpStage)
	}
	if c.cautioned == d || !slices.ContainsFunc(sessions, says) {
		return ""
	}
	c.cautioned = d
	load := c.loads.On(d)
	if c.o.Entries == Sessions {
		load.WarmUp, load.Planned = 0, 0
	}
	lines := c.season.Marked(d, c.o.Locale.Day)
	if load.Other > 0 {
		lines = append([]string{load.Said(model.Minutes.String)}, lines...)
	}
	return "\n\n" + strings.Join(append(lines, caution), "\n")
}
