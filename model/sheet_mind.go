package model

import (
	"fmt"
	"slices"
)

// What a day sheet says at its foot is common practice among players, no
// source. Rests: British Association for Performing Arts Medicine, health tips
// (a five-minute break every half-hour); the figures said are the season's own.
// Nothing of it is treatment, and nothing promises safety.

const (
	longVisit = 15 // minutes from which a visit is better worked at in sections
	longDay   = 60 // playing minutes from which a walk is spoken of

	// OnPain is said wherever playing that hurts is spoken of.
	OnPain = "Pain, numbness or tingling: stop. If it stays or comes back, see a physician or physiotherapist."
	// OnCare stands beside what is said of the body.
	OnCare = "Common habits, not treatment: what suits yours is for a physician or physiotherapist to say."
)

// mind says what matters on a day, and no more than that.
func (x *View) mind(sheet *Sheet) []string {
	var out []string
	say := func(when bool, format string, args ...any) {
		if when {
			out = append(out, fmt.Sprintf(format, args...))
		}
	}
	var exposed, check, long, passages int
	var playing Minutes
	for _, l := range sheet.Sessions() {
		v := l.Session
		if v.Playing {
			playing += v.Minutes
		}
		if v.Stage != PassageStage {
			continue
		}
		passages++
		if v.Minutes > longVisit {
			long++
		}
		if l.Check {
			check++
		}
		if l.Exposed {
			exposed++
		}
	}
	l := &x.Season.Limits
	for _, v := range x.Season.warmedBefore(x.Season.ServicesOn(sheet.Date)) {
		say(true, "Before the %s at %s: warm up again, %s.", v.Kind, v.Start, l.WarmUpAgain)
	}
	for _, at := range x.Season.WarmUpsAgain(sheet.Date, x.Days[sheet.Date]) {
		say(true, "At %s, before you go on: warm up again, %s.", at.From, l.WarmUpAgain)
	}
	say(exposed > 0, "Exposed bars get their visit even when they go well.")
	say(long > 0, "A long passage goes in sections.")
	first := x.firstOfWeek(sheet.Date)
	say(first && passages > 1, "When the minutes are up, go on: the next place counts as much as the hardest.")
	say(check > 0, "Check visit (a passage's last): before any work. Learning it anew two or three times is usual.")
	for _, l := range sheet.Sessions() {
		say(l.Check && l.Tempo != nil && l.Tempo.Short() > 0,
			"%s: its visits end under the goal; more of them, or a higher tempo_steps, would reach it.", l.name())
	}
	say(first && passages > 0, "Marks stay in the part, also once a passage works.")
	light := x.Season.RoomOn(sheet.Date).Marks.Has(LightDay)
	say(light, "A light day after pain: less than planned is right, more is not. If it hurts again, it is over.")
	if playing == 0 {
		say(light, OnPain)
		return out
	}
	if l.Block > 0 {
		rest := fmt.Sprintf("Rest %s after %s of playing at most.", l.BlockRest, l.Block)
		say(first, "%s Move, and let the muscles go.", rest)
		say(!first, "%s", rest)
	}
	playing += PlayingIn(x.Season.ServicesOn(sheet.Date))
	say(first && playing >= longDay, "Somewhere in the day, a walk.")
	say(first, "At the end a few minutes for release and posture: arms hang, shoulders down, back long, nothing forced.")
	say(first, OnCare)
	say(true, OnPain)
	return out
}

// firstOfWeek tells whether a day is the first of its ISO week on which something is
// to be played: on it what is said every week is said in full, on the others in a line.
func (x *View) firstOfWeek(d Date) bool {
	for day := d.Monday(); day < d; day++ {
		if slices.ContainsFunc(x.Days[day], func(v *Session) bool { return v.Playing }) {
			return false
		}
	}
	return true
}
