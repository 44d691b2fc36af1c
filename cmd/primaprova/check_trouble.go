package main

import (
	"fmt"
	"strings"

	"primaprova/model"
)

// mostStretches is how many stretches, and mostShares how many parts of each,
// are said in full.
const (
	mostStretches = 4
	mostShares    = 5
)

// sayStretches says which stretches of days are short, and gives their number.
func (w *view) sayStretches(all []model.Stretch) int {
	short := 0
	for i := range all {
		if all[i].Short() == 0 {
			continue
		}
		if short++; short <= mostStretches {
			w.say.line("%s", w.stretchWords(&all[i]))
		}
	}
	if short > mostStretches {
		w.say.line("So it is between %s more.", several(short-mostStretches, "pair of days", "pairs of days"))
	}
	return short
}

// stretchWords says what a stretch is short of, and who asks for it.
func (w *view) stretchWords(t *model.Stretch) string {
	has := map[model.Supply]string{model.PlayingTime: "the caps leave", model.ListeningTime: "the days take", model.VisitCount: "the days take"}[t.Supply]
	return fmt.Sprintf("%s %s have to happen and %s %d: %d too many, from %s.", w.between(t.Days), t.Supply.Amount(t.Need), has, t.Has, t.Short(), w.shareWords(t.Shares))
}

// shareWords lists parts with what each needs.
func (w *view) shareWords(shares []model.Share) string {
	var out []string
	for i, s := range shares {
		if i == mostShares && len(shares) > mostShares+1 {
			rest := 0
			for _, s := range shares[i:] {
				rest += s.Need
			}
			out = append(out, fmt.Sprintf("%s more (%d)", several(len(shares)-i, "part", "parts"), rest))
			break
		}
		out = append(out, fmt.Sprintf("%s (%d)", w.ShortTitle(s.Part), s.Need))
	}
	return strings.Join(out, ", ")
}

// between writes "Between Wed 3 Mar and Tue 16 Mar 2027", or the one day.
func (w *view) between(r model.Range) string {
	year := func(d model.Date) string {
		if w.say.plain() {
			return d.String()
		}
		return w.say.locale.DayYear(d)
	}
	switch {
	case r.From == r.To:
		return "On " + year(r.From)
	case r.From.Time().Year() == r.To.Time().Year():
		return fmt.Sprintf("Between %s and %s", w.say.day(r.From), year(r.To))
	}
	return fmt.Sprintf("Between %s and %s", year(r.From), year(r.To))
}

// sayRoomless says, part by part, for how much no day is left even if no other
// part were planned, and gives the number of such parts.
func (w *view) sayRoomless(all []model.Slot) int {
	var parts []string
	for i := 0; i < len(all); {
		n := i
		var minutes model.Minutes
		for ; i < len(all) && all[i].Part == all[n].Part; i++ {
			minutes += all[i].Minutes
		}
		parts = append(parts, fmt.Sprintf("%s of %s (%d min)", several(i-n, "session", "sessions"), w.ShortTitle(all[n].Part), minutes))
	}
	if len(parts) > 0 {
		w.say.line("No day is left for %s, whatever else is planned: order, gaps and the days' room leave none before they are due.", strings.Join(parts, ", "))
	}
	return len(parts)
}

// mostRuns is how many runs without a day of rest are said.
const mostRuns = 3

// sayNoRest says where days follow each other without one free of playing.
func (w *view) sayNoRest(runs []model.Range) {
	for i, r := range runs {
		if i == mostRuns {
			w.say.line("So it is in %s more.", several(len(runs)-i, "run of days", "runs of days"))
			return
		}
		w.say.line("%s no day is free of playing, %d running. One rest day in seven is common advice; rest_days in the season file sets them.", w.between(r), r.Days())
	}
}
