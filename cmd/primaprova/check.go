package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"primaprova/io/planfile"
	"primaprova/io/seasonfile"
	"primaprova/io/table"
	"primaprova/model"
)

func checkCommand(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:   "check [SEASON]",
		Short: "what is wrong in a season file, and where time is tight",
		Long: `Reads the season file and says everything that is wrong in it, with its line.
Where nothing is, it sets for each programme what its parts ask for against the
room that is left before its first rehearsal, and gives the tightest stretch of
days. Nothing is planned. Once the season is under way, what the record calls
done is taken off, and sessions are set against their estimates: what they took,
drawn towards 1 as long as few are recorded.

need      read-throughs and visits of the programme's parts
room      what the days leave for them, services and warm-ups taken off, from
          the day its first part arrives; other programmes share it
tightest  the days that are used up most; what they need is the work of all
          programmes that has to be done there if nothing is left out, orders
          and gaps considered; what they have is their room
short     needs less has: something is left out for certain; nothing short is no
          promise, since sessions can't be cut to fill every gap
no day    what no day is left for before its first rehearsal, by order and gaps,
          whatever else is planned; the lines below say of what`,
		Args: atMost(1),
	}
	addSettings(c, "today", "unrecorded", "learn", "width")
	c.RunE = func(_ *cobra.Command, args []string) error {
		f, err := a.season(a.seasonName(args))
		if err != nil {
			return err
		}
		if all := f.Ahead(a.today(f.Season)); len(all) > 0 {
			a.say.aside("%s", seasonfile.Text(all))
		}
		a.keepCopies(f, true)
		standing, err := planfile.Read(planPath(f.Path))
		if err != nil && !isMissing(err) {
			return (&trouble{code: exitInput, err: err}).then("plan --anew %s", quoted(f.Path))
		}
		h, err := a.happened(f, standing)
		if err != nil {
			return err
		}
		a.sayNeeds(h)
		a.sayLearnt(h)
		a.sayByLength(h)
		a.say.next("plan %s", quoted(f.Path))
		return nil
	}
	return c
}

// needsTable sets need against room, a programme a row, and gives the stretch of days
// that is used up most; nil where there is none.
func (a *app) needsTable(h *happened, stretches []model.Stretch, roomless []model.Slot) (*table.Table, *model.Stretch) {
	v, s := a.say, h.season
	titles, is := map[string]string{}, []string(nil)
	for i := range s.Programmes {
		titles[s.Programmes[i].ID], is = s.Programmes[i].Title, append(is, s.Programmes[i].FirstIs())
	}
	t := &table.Table{Columns: []table.Column{{Name: "programme", Wraps: true}, {Name: v.firstColumn(is)}, {Name: "need", Right: true, From: phone},
		{Name: "room", Right: true, From: phone}, {Name: "tightest", From: desk}, {Name: "needs", Right: true, From: desk}, {Name: "has", Right: true, From: desk}, {Name: "short", Right: true}, {Name: "no day", Right: true, From: hall}}}
	tightest := map[string]*model.Stretch{}
	var tight *model.Stretch
	for i := range stretches {
		x := &stretches[i]
		if x.Supply != model.PlayingTime {
			continue
		}
		for _, id := range x.Programmes {
			tightest[id] = x
		}
		if tight == nil || x.Need*max(1, tight.Has) > tight.Need*max(1, x.Has) {
			tight = x
		}
	}
	past := map[string]model.Minutes{}
	for i := range roomless {
		if x := &roomless[i]; x.Stage.Playing() {
			past[x.Programme] += x.Minutes
		}
	}
	for _, n := range s.Needs(h.history) {
		x, row := tightest[n.Programme], [5]string{}
		if x != nil {
			row = [5]string{a.stretch(x.Days), v.min(model.Minutes(x.Need)), v.min(model.Minutes(x.Has))}
			if short := model.Minutes(x.Short()); short > 0 {
				row[3] = v.min(short)
			}
		} else if v.plain() {
			row = [5]string{"", "0", "0"}
		}
		if none := past[n.Programme]; none > 0 {
			row[4] = v.min(none)
		}
		t.Row(titles[n.Programme], v.day(n.FirstRehearsal), v.min(n.Need), v.min(n.Room), row[0], row[1], row[2], row[3], row[4])
	}
	return t, tight
}

// sayNeeds says need against room, and gives the number of troubles proven.
func (a *app) sayNeeds(h *happened) int {
	v, s := a.say, h.season
	needs, stretches, roomless := s.Needs(h.history), s.Stretches(h.history), s.Roomless(h.history)
	t, tight := a.needsTable(h, stretches, roomless)
	v.title("%s: need against room, in %s of playing", s.Title, map[bool]string{true: "minutes", false: "hours"}[v.plain()])
	v.space()
	v.table(t)
	v.space()
	w := newView(v, s, nil, h.history)
	troubles := w.sayStretches(stretches) + w.sayRoomless(roomless)
	switch {
	case tight == nil && troubles == 0:
		v.line("Nothing is to be worked at.")
	case tight != nil && tight.Short() == 0:
		days := v.day(tight.Days.From)
		if tight.Days.Days() > 1 {
			days += " to " + v.day(tight.Days.To)
		}
		v.line("Tightest: %s, with %s to spare in %s.", days,
			model.Minutes(tight.Has-tight.Need).Hours(), several(tight.Days.Days(), "day", "days"))
	}
	w.sayNoRest(s.WithoutRest())
	for _, u := range s.Uneven() {
		v.line("Visits are whole steps of %s, so %s has %s for an estimate of %d.", s.Habits.Step, u.Part, u.Planned, u.Estimate)
	}
	for _, e := range s.Estimates() {
		programme, _, _ := strings.Cut(e.Part, "/")
		if !slices.ContainsFunc(needs, func(n model.Need) bool { return n.Programme == programme }) {
			continue // it lies behind
		}
		v.line("Of the %s estimated for %s its passages take %s.", e.Estimate, e.Part, e.Named)
	}
	for i := range s.Programmes {
		for _, p := range s.Programmes[i].Parts {
			if p.Kept > 0 || p.Source.Words != "" {
				v.line("%s is known: %s%d %% of it is kept.", p.Work, strings.TrimPrefix(p.Source.Words+"; ", "; "), p.Kept)
			}
		}
	}
	if taken, days := s.Taken(); days > 0 {
		v.line("Other calendars take %s of the free hours, on %s.", taken.Hours(), several(days, "day", "days"))
	}
	return troubles
}

// sayLearnt says what the record teaches of the estimates, where enough is
// recorded.
func (a *app) sayLearnt(h *happened) {
	v := a.say
	t := &table.Table{Columns: []table.Column{{Name: "work"}, {Name: "sessions", Right: true}, {Name: "estimated", Right: true, From: phone}, {Name: "took", Right: true, From: phone}, {Name: "share", Right: true}}}
	rows := 0
	for _, e := range model.Efforts() {
		ratio, counts := h.history.Learnt.Ratio(e)
		if !counts {
			continue
		}
		rows++
		tally := h.history.Learnt[e]
		t.Row(e.String(), fmt.Sprint(tally.Sessions), v.min(tally.Estimated), v.min(tally.Took), fmt.Sprintf("%.2f", ratio))
	}
	if rows == 0 {
		return
	}
	v.space()
	v.title("What sessions take of their estimates, from the record")
	v.space()
	v.table(t)
	v.space()
	if h.history.Scaled {
		v.line("What lies ahead is planned with these shares.")
	} else {
		v.line("What lies ahead is planned with the estimates as they are; with the setting learn: yes it is planned with these shares.")
	}
}

// sayByLength says of parts with a known length and nothing else what their visits take
// by the whole works of the record.
func (a *app) sayByLength(h *happened) {
	whole := h.season.WholeWorks(h.history)
	for _, w := range h.season.Work(h.history) {
		t, is := model.ByLength(whole, w.Part.Duration)
		if !is || w.Over || len(w.Passages) > 0 {
			continue
		}
		a.say.line("%s has neither passages nor an estimate. By the %d whole works of your record its visits take %s together, %s to %s as theirs did: estimate: %v.",
			w.Part.Work, len(whole), t.Mean.Hours(), t.Low.Hours(), t.High.Hours(), t.Mean.ToStep(h.season.Habits.Step))
	}
}

// stretch writes a run of days: in the shortest form for people, ISO for programs.
func (a *app) stretch(r model.Range) string {
	if r.From == 0 {
		return ""
	}
	if a.say.plain() {
		return r.String()
	}
	from, to := a.say.locale.Brief(r.From), a.say.locale.Brief(r.To)
	if r.From == r.To {
		return to
	}
	return fmt.Sprintf("%s-%s", from, to)
}
