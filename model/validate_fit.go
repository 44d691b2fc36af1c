package model

import (
	"fmt"
	"slices"
	"strings"
)

// servicesFit warns of services at the same time and of days whose services
// alone go over the cap. The services stand in either case.
func (v *validator) servicesFit() {
	type placed struct {
		path     string
		service  *Service
		from, to int // minutes since the calendar's first day
	}
	var all []placed
	first := map[Date]string{}
	for i := range v.s.Programmes {
		for j := range v.s.Programmes[i].Services {
			s := &v.s.Programmes[i].Services[j]
			path := fmt.Sprintf("programmes[%d].services[%d].%v", i, j, s.Kind)
			from := int(s.Date)*24*60 + int(s.Start)
			all = append(all, placed{path, s, from, from + int(s.Lasts)})
			if first[s.Date] == "" {
				first[s.Date] = path
			}
		}
	}
	slices.SortStableFunc(all, func(a, b placed) int { return a.from - b.from })
	last := 0 // the service that ends last so far
	for i := 1; i < len(all); i++ {
		if a, b := all[last], all[i]; b.from < a.to {
			v.warn(b.path, b.service.Date, "", "the %v at %v begins before the %v at %v of %v is over",
				b.service.Kind, b.service.Start, a.service.Kind, a.service.Start, a.service.Date)
		}
		if all[i].to > all[last].to {
			last = i
		}
	}
	for _, r := range v.rooms {
		eve := r.Marks.Has(BeforeConcert) && !r.Marks.Has(AfterTimeOff) // the share is for what is planned beside
		if d := r.Date; r.Services > r.Cap && !(eve && r.Services <= v.s.Limits.Playing.On(d)) {
			v.warn(first[d], d, fmt.Sprintf("limits: {playing: {%v: %v}}, if that is meant", d, r.Services),
				"the services of %v take %v of playing, more than the cap of %v: they stand, nothing more is planned", d, r.Services, r.Cap)
		}
	}
}

// fits judges a sound part against its days, each stage and passage as if it
// were alone in the season: what fails here can't be planned at all.
func (v *validator) fits(path string, w PartWork) {
	s := v.s
	v.noteWindows(&w)
	type hearing struct {
		key     string
		minutes Minutes
	}
	stages := []hearing{{"recordings", w.Part.Recordings}}
	for _, x := range w.Sittings {
		stages = append(stages, hearing{"listening", x.Minutes})
	}
	for _, stage := range stages {
		if stage.minutes > s.Limits.Listening {
			v.fault(path+"."+stage.key, stage.minutes, fmt.Sprintf("at most %v, or more in limits.listening", s.Limits.Listening),
				"is longer than the listening of a day, %v", s.Limits.Listening)
			return
		}
	}
	listened, ok := w.Window.From, true
	for k, x := range w.Sittings {
		if ok && k > 0 {
			listened++
		}
		if ok {
			listened, ok = v.firstDay(Range{listened, w.Window.To}, func(r Room) bool { return r.Listening >= x.Minutes && r.Held >= x.Minutes })
		}
	}
	if !ok {
		v.warn(path+".listening", w.Part.Listening, "fewer days off, more hours or an earlier arrival",
			"no day of %v takes the listening: the part will be left out", w.Window)
		return
	}
	read, ok := v.firstDay(Range{listened, w.Window.To}, func(r Room) bool { return plays(r, w.Part.ReadThrough) })
	if !ok {
		v.warn(path+".read_through", w.Part.ReadThrough, "a shorter read-through, a higher cap or an earlier arrival",
			"no day of %v has room for the read-through: the part will be left out", Range{listened, w.Window.To})
		return
	}
	var short []string
	for k := range w.Passages {
		p := &w.Passages[k]
		if p.Passage.Upkeep {
			continue
		}
		fit := v.visitsFit(&w, p, read)
		switch {
		case fit == len(p.Recipe):
		case len(p.Passage.Visits) > 0 && !p.Passage.Unnamed:
			v.ownRecipe(fmt.Sprintf("%s.passages[%d].visits", path, k), &w, p)
		case fit == 0: // a check less is no alarm
			short = append(short, strings.TrimPrefix(p.Passage.Where(), "bars "))
		}
	}
	if len(short) > 0 {
		v.warn(path, "", "an earlier arrival or a later due date",
			"%d of %d passages have no day before they are due, and will not be worked at: %s",
			len(short), len(w.Passages), strings.Join(short, ", "))
	}
}

// plays tells whether a day that holds nothing else takes playing of a length.
func plays(r Room, m Minutes) bool { return r.Playing >= m && r.Held >= m+r.WarmUp }

// firstDay gives the first day of a range whose room will do.
func (v *validator) firstDay(days Range, will func(Room) bool) (Date, bool) {
	for d := days.From; d <= days.To; d++ {
		if will(v.rooms[d-v.s.From]) {
			return d, true
		}
	}
	return 0, false
}

// visitsFit counts the visits that have a day, each as early as it goes, which
// leaves most to those that follow.
func (v *validator) visitsFit(w *PartWork, p *PassageWork, read Date) int {
	days := w.VisitDays(p)
	days.From = max(days.From, read+1)
	for k := range p.Recipe {
		if k > 0 {
			days.From += Date(p.Recipe[k].Least)
		}
		d, ok := v.firstDay(days, func(r Room) bool { return plays(r, p.Recipe[k].Minutes) && (r.New || k > 0) })
		if !ok {
			return k
		}
		days.From = d
	}
	return len(p.Recipe)
}

// ownRecipe warns of visits that the player asked for and that can't all be
// had. It is no fault: the part may have come later than anyone thought when
// the recipe was written, and what does not fit is left out and said.
func (v *validator) ownRecipe(path string, w *PartWork, p *PassageWork) {
	days := w.VisitDays(p)
	days.From = max(days.From, w.Window.From+1) // the day after the read-through
	need := 1
	var gaps, lengths []string
	for k, visit := range p.Recipe {
		need += visit.Least
		lengths = append(lengths, visit.Minutes.String())
		if k > 0 {
			gaps = append(gaps, fmt.Sprint(visit.Least))
		}
	}
	value := "[" + strings.Join(lengths, ", ") + "]"
	advice := "fewer or shorter visits, an earlier arrival or a later due date"
	if have := days.Days(); need > have {
		v.warn(path, value, advice, "%d visits with least gaps of %s days need %d days; there are %d, %v, after the read-through and before the passage is due: the last visits will be left out",
			len(p.Recipe), strings.Join(gaps, ", "), need, have, days)
		return
	}
	v.warn(path, value, advice, "%d visits with least gaps of %s days need %d days with room for them; rest days, services and caps leave too few in %v: the last visits will be left out",
		len(p.Recipe), strings.Join(gaps, ", "), need, days)
}
