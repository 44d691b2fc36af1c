package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"primaprova/io/table"
	"primaprova/model"
)

// loadsView is the season's load for programs.
type loadsView struct {
	Weeks    []weekLoad `json:"weeks"`
	Tightest string     `json:"tightest_week"`
	Heaviest []dayLoad  `json:"heaviest_days"`
}

// weekLoad is the playing of one ISO week, as far as it lies in the season.
type weekLoad struct {
	Week     string        `json:"week"`
	From     model.Date    `json:"from"`
	Services model.Minutes `json:"services"`
	Other    model.Minutes `json:"other,omitempty"` // playing that belongs to no programme: lessons given, chamber music
	Planned  model.Minutes `json:"planned"`         // with warm-ups
	Cap      model.Minutes `json:"cap"`             // the most that the days' limits allow: rest days and days off give none
	Rise     *int          `json:"rise"`            // percent over the week before; null where there is none to measure by
	Heavy    int           `json:"heavy_days"`
	// AfterNone: the week before had no playing at all, so the rise is no share.
	AfterNone bool         `json:"after_none"`
	Noise     *model.Noise `json:"noise,omitempty"` // in services; none where none has a level
	share     int          // percent of Cap
	services  bool         // the services alone rise by more than the limits' share
}

type dayLoad struct {
	Date model.Date    `json:"date"`
	Load model.Minutes `json:"load"`
	Cap  model.Minutes `json:"cap"`
}

func (l weekLoad) load() model.Minutes { return l.Services + l.Other + l.Planned }

const heaviestDays = 3

func showLoad(w *view, on model.Date, _ string) (func(), any, error) {
	v := w.weekLoads()
	return func() { w.sayLoad(v, on) }, v, nil
}

func (w *view) weekLoads() loadsView {
	v := loadsView{Weeks: []weekLoad{}, Heaviest: []dayLoad{}}
	weeks := w.Loads().Weeks()
	for i := range weeks {
		l := &weeks[i]
		x := weekLoad{Week: isoWeek(l.Days.From), From: l.Days.From, Services: l.InServices(), Other: l.Other, Planned: l.WarmUp + l.Planned, Cap: l.Most,
			Heavy: l.Heavy, AfterNone: l.AfterNone, share: l.Share()}
		x.Noise = w.Season.Noise(l.Days)
		if l.Measured {
			x.Rise = &l.Rise
			before := weeks[i-1].Services() + weeks[i-1].Planned // other playing included, which the plan can't move either
			x.services = 100*l.Services() > model.Minutes(100+w.Season.Limits.Rise)*before
		}
		v.Weeks = append(v.Weeks, x)
	}
	if t := model.Fullest(weeks); t >= 0 {
		v.Tightest = v.Weeks[t].Week
	}
	for d := w.Season.From; d <= w.Season.To; d++ {
		if l := w.Loads().On(d); l.Playing() > 0 {
			v.Heaviest = append(v.Heaviest, dayLoad{d, l.Playing(), l.Most})
		}
	}
	slices.SortStableFunc(v.Heaviest, func(a, b dayLoad) int { return cmp.Compare(b.Load, a.Load) })
	v.Heaviest = v.Heaviest[:min(heaviestDays, len(v.Heaviest))]
	return v
}

// isoWeek writes the ISO week of a date, like 2027-W02.
func isoWeek(d model.Date) string {
	year, week := d.ISOWeek()
	return fmt.Sprintf("%d-W%02d", year, week)
}

// The bars take what the other columns leave of the width, up to a limit; a
// word beside one of them needs its own room.
const (
	mostCells  = 24
	otherCells = 66
	hereWord   = " now"
)

func (w *view) sayLoad(loads loadsView, on model.Date) {
	v := w.say
	v.title("%s: playing by week", w.Season.Title)
	v.space()
	t := &table.Table{Columns: []table.Column{{Name: "week", From: phone}, {Name: "from"}, {Name: "services", Right: true, From: desk},
		{Name: "planned", Right: true, From: desk}, {Name: "load", Right: true}, {Name: "of caps", Right: true}, {Name: "rise", Right: true}}}
	percent := " %"
	if v.plain() {
		percent = ""
		t.Columns[5].Name, t.Columns[6].Name = "percent of caps", "percent of rise"
	} else {
		t.Columns = append(t.Columns, table.Column{From: desk})
	}
	for _, l := range loads.Weeks {
		rise := ""
		if l.Rise != nil {
			rise = fmt.Sprintf("%+d%s", *l.Rise, percent)
		} else if l.AfterNone {
			rise = "from 0"
		}
		row := []string{l.Week, v.day(l.From), v.min(l.Services), v.min(l.Planned), v.min(l.load()), fmt.Sprintf("%d%s", l.share, percent), rise}
		if !v.plain() {
			bar := table.Bar(int(l.load()), int(l.Cap), max(0, min(mostCells, v.width-otherCells)))
			if (model.Range{From: l.From, To: l.From.Monday() + 6}).Holds(on) {
				bar = strings.TrimSpace(bar + hereWord)
			}
			row = append(row, bar)
		}
		t.Row(row...)
	}
	if slices.ContainsFunc(loads.Weeks, func(l weekLoad) bool { return l.Other > 0 }) {
		const at = 3 // after the services
		t.Columns = slices.Insert(t.Columns, at, table.Column{Name: "other", Right: true, From: phone})
		for i, l := range loads.Weeks {
			t.Rows[i] = slices.Insert(t.Rows[i], at, v.min(l.Other))
		}
	}
	v.table(t)
	v.space()
	if loads.Tightest != "" {
		v.line("%s", w.tightestLine(loads))
	}
	for i, d := range loads.Heaviest {
		lead := "Heaviest days:"
		if i > 0 {
			lead = "              "
		}
		v.line("%s %s, %s of %s", lead, v.day(d.Date), d.Load.Hours(), d.Cap.Hours())
	}
	limits := &w.Season.Limits
	if rises := steep(loads.Weeks, limits.Rise); rises != "" {
		v.line("Weeks that rise by more than %d %%: %s.", limits.Rise, rises)
	}
	w.sayLoudest(loads.Weeks)
	v.line("The plan avoids, where it can, days above %d %% of their cap and weeks that rise by more than %d %%. That is guidance, not a safe dose.", limits.Heavy, limits.Rise)
}

// steep names the weeks that rise by more than a share, and those that follow
// a week without any playing.
func steep(weeks []weekLoad, percent int) string {
	var out string
	for _, l := range weeks {
		switch {
		case l.AfterNone:
			out = join(out, l.Week+" (after none)")
		case l.Rise != nil && *l.Rise > percent:
			by := ""
			if l.services {
				by = " by services alone"
				if l.Other > 0 {
					by = " by services and other playing alone"
				}
			}
			out = join(out, fmt.Sprintf("%s (%+d %%%s)", l.Week, *l.Rise, by))
		}
	}
	return out
}

func (w *view) tightestLine(loads loadsView) string {
	l := loads.Weeks[slices.IndexFunc(loads.Weeks, func(l weekLoad) bool { return l.Week == loads.Tightest })]
	s := fmt.Sprintf("Tightest week: %s from %s, %s of %s", l.Week, w.say.day(l.From), l.load().Hours(), l.Cap.Hours())
	if l.Heavy > 0 {
		s += fmt.Sprintf(", %s above %d %% of the cap", several(l.Heavy, "day", "days"), w.Season.Limits.Heavy)
	}
	return s + "."
}

// sayNoise says the exposure of a week beside the values of the directive;
// nothing where no service has a level.
func (w *view) sayNoise(n *model.Noise) {
	if n == nil {
		return
	}
	w.say.line("Noise in services: %s.", w.exposure(n))
	w.sayNoiseValues()
}

// exposure writes the loudest day and the week, and how many services they leave
// out.
func (w *view) exposure(n *model.Noise) string {
	day := n.Loudest()
	text := decibels(day.Daily, "over eight hours on "+w.say.day(day.Date)) + ", " + decibels(n.Weekly, "over the week")
	if n.Unknown > 0 {
		text += fmt.Sprintf("; %d of %s without a level", n.Unknown, several(n.Services, "service", "services"))
	}
	return text
}

// sayLoudest says the exposure of the week that has the most.
func (w *view) sayLoudest(weeks []weekLoad) {
	var loudest *weekLoad
	for i := range weeks {
		if n := weeks[i].Noise; n != nil && (loudest == nil || n.Weekly > loudest.Noise.Weekly) {
			loudest = &weeks[i]
		}
	}
	if loudest != nil {
		w.say.line("Noise in services, the loudest week %s: %s.", loudest.Week, w.exposure(loudest.Noise))
		w.sayNoiseValues()
	}
}

func (w *view) sayNoiseValues() {
	w.say.line("Directive 2003/10/EC acts at %d and %d dB(A) and limits at %d, as averages over eight hours. %s",
		model.NoiseLowerAction, model.NoiseUpperAction, model.NoiseLimit, model.NoiseGuidance)
}

// decibels writes "86.4 dB(A) over the week (at or above the upper action value)".
func decibels(level float64, over string) string {
	text := fmt.Sprintf("%.1f dB(A) %s", level, over)
	if value := model.NoiseValue(level); value != "" {
		text += " (" + value + ")"
	}
	return text
}
