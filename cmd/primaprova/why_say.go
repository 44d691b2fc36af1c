package main

import (
	"fmt"
	"strings"

	"primaprova/io/table"
	"primaprova/model"
	"primaprova/solver/conflict"
)

// sayReason says what a reason comes to.
func (y *asking) sayReason(g *group, r *conflict.Reason) {
	v := y.say
	head := fmt.Sprintf("%s, %s", y.ShortTitle(g.part), y.sum(g))
	switch {
	case r.Outcome == conflict.Placed:
		v.line("%s: some plan places it beside all the rest. Plan again with a larger budget.", head)
		v.next("plan --budget 300 %s", quoted(y.f.Path))
		return
	case r.Outcome == conflict.Untold:
		v.line("%s: neither a plan with it was found nor a proof that there is none. A larger budget may find one.", head)
		v.next("why %s %s --budget 400", quoted(y.f.Path), quoted(g.part))
		return
	case r.Whole:
		v.line("%s. Not all that the parts named here ask for can be placed; the plan leaves out what counts least.", head)
	default:
		v.line("%s. No plan places it beside all else that is planned, for these reasons together.", head)
	}
	if r.Stretch.Need > 0 {
		v.line("%s %s have to happen, and the days hold %d: %d too many, from %s.", y.between(r.Stretch.Days),
			r.Stretch.Supply.Amount(r.Stretch.Need), r.Stretch.Has, r.Stretch.Short(), y.shareWords(r.Stretch.Shares))
	}
	v.space()
	t := &table.Table{Columns: []table.Column{{Name: "where"}, {Name: "what", Wraps: true}, {Name: "alone"}}}
	n := map[conflict.Answer]int{}
	for _, x := range y.factRows(g, r) {
		mark := map[conflict.Answer]string{conflict.Yes: "helps", conflict.No: "not"}[x.alone]
		if x.asked {
			mark = "" // what is asked about
		} else {
			n[x.alone]++
		}
		t.Row(x.where, x.words, mark)
	}
	v.table(t)
	v.space()
	y.sayAlone(r, n)
}

// sayAlone says what the lines of a reason are worth changing, of which so many help
// alone, don't, or were not found out.
func (y *asking) sayAlone(r *conflict.Reason, n map[conflict.Answer]int) {
	v, bundled := y.say, false
	for i := range r.Facts {
		bundled = bundled || r.Facts[i].Bundle > 0
	}
	helps, not, open := n[conflict.Yes] > 0, n[conflict.No] > 0, n[conflict.Unknown] > 0
	switch {
	case helps && !not && !open:
		v.line("Together these forbid it, and any one that gives way would do.")
	case not && !helps && !open:
		v.line("Together these forbid it. None helps when it alone gives way: other lines hold it too.")
	default:
		s := "Together these forbid it."
		if helps {
			s += " One marked helps would do if it alone gave way."
		}
		if not {
			s += " One marked not would not: other lines hold it too."
		}
		if open {
			s += " Of the others that was not found out."
		}
		v.line("%s", s)
	}
	if bundled {
		v.line("Lines with the same mark were only tried together: each alone asked for more work.")
	}
	if r.Untried > 0 {
		v.line("Of %d of these it was not found out whether they are needed; a larger budget may.", r.Untried)
	}
}

// factRow is a fact as it is said: its place, its words, and whether it helps when it
// alone gives way.
type factRow struct {
	where, words string
	alone        conflict.Answer
	asked        bool // it is what is asked about
}

// factRows says each fact in the words of the season file, with its place. Caps of
// weeks that follow each other and stand in the same line are one: it helps where one
// of them does, and where none does, what they do together is not known.
func (y *asking) factRows(g *group, r *conflict.Reason) (out []factRow) {
	facts := r.Facts
	for i := 0; i < len(facts); i++ {
		f := facts[i]
		for f.Kind == conflict.CapFact && i+1 < len(facts) && facts[i+1].Kind == conflict.CapFact &&
			facts[i+1].Days.From == f.Days.To+1 && facts[i+1].Bundle == f.Bundle && strings.Join(facts[i+1].Paths, " ") == strings.Join(f.Paths, " ") {
			i++
			f.Days.To, f.Minutes = facts[i].Days.To, f.Minutes+facts[i].Minutes
			if facts[i].Alone == conflict.Yes {
				f.Alone = conflict.Yes
			} else if f.Alone != conflict.Yes {
				f.Alone = conflict.Unknown
			}
		}
		words := y.factWords(g, &f)
		if f.Bundle > 0 {
			words += " " + strings.Repeat("*", f.Bundle)
		}
		out = append(out, factRow{y.where(&f), words, f.Alone, f.Kind == conflict.WorkFact && f.Part == g.part})
	}
	return out
}

// where gives the lines of the season file on which a fact stands.
func (y *asking) where(f *conflict.Fact) string {
	if f.Kind == conflict.LightFact {
		return "record"
	}
	if len(f.Paths) == 0 {
		return "rule"
	}
	if f.Kind == conflict.OffFact && f.Index() >= len(y.f.Season.Limits.DaysOff) {
		return "record"
	}
	file, lines := "", []string{}
	for _, path := range f.Paths {
		if _, written := y.f.Places[path]; !written && (strings.HasPrefix(path, "limits.") || strings.HasPrefix(path, "habits.")) && !strings.HasPrefix(path, "limits.playing.") {
			return "default"
		}
		p := y.f.Place(path)
		file = p.File
		if n := fmt.Sprint(p.Line); len(lines) == 0 || lines[len(lines)-1] != n {
			lines = append(lines, n)
		}
	}
	return file + ":" + strings.Join(lines, ",")
}

// factWords says a fact.
func (y *asking) factWords(g *group, f *conflict.Fact) string {
	v, s := y.say, y.Season
	title := y.ShortTitle(f.Part)
	switch f.Kind {
	case conflict.WorkFact:
		if f.Part == g.part {
			return fmt.Sprintf("%s asks for %d min of playing", title, f.Minutes)
		}
		return fmt.Sprintf("%s has %d min of playing", title, f.Minutes)
	case conflict.ArrivalFact:
		return fmt.Sprintf("%s arrives on %s", title, v.day(f.Days.From))
	case conflict.RehearsalFact:
		if p := &s.Programmes[f.Programme()]; f.Days.From > p.FirstRehearsal() {
			return fmt.Sprintf("last date of %s on %s", p.Title, v.day(f.Days.From))
		}
		return fmt.Sprintf("%s of %s on %s", s.Programmes[f.Programme()].FirstIs(), s.Programmes[f.Programme()].Title, v.day(f.Days.From))
	case conflict.DueFact:
		return fmt.Sprintf("passages of %s have due dates of their own", title)
	case conflict.FoundFact:
		var found []string
		for _, q := range y.Parts[f.Part].Part.Passages {
			if q.Found != 0 {
				found = append(found, fmt.Sprintf("%s on %s", y.Bars(model.PassageName(f.Part, q.ID)), v.day(q.Found)))
			}
		}
		return fmt.Sprintf("found only later in %s: %s", title, strings.Join(found, ", "))
	case conflict.CapFact:
		return fmt.Sprintf("cap from %s to %s, which leaves %d min", v.day(f.Days.From), v.day(f.Days.To), f.Minutes)
	case conflict.RestFact:
		if d, weekly := f.Weekday(); weekly {
			return fmt.Sprintf("rest on %ss", d)
		}
		return "rest on " + v.days(f.Days)
	case conflict.OffFact:
		return "off on " + v.days(f.Days)
	case conflict.ToursFact:
		return "on tour on " + v.days(f.Days)
	case conflict.BeforeFact:
		return fmt.Sprintf("the day before a concert has %d %% of its cap", s.Limits.BeforeConcert)
	case conflict.TwoFact:
		return fmt.Sprintf("at most %d min on top of two services", s.Limits.TwoServices)
	case conflict.ReturnFact:
		return "the cap comes back slowly after time off"
	case conflict.ServicesFact:
		return fmt.Sprintf("services of %s, %d min of playing", s.Programmes[f.Programme()].Title, model.PlayingIn(s.Programmes[f.Programme()].Services))
	case conflict.WarmUpFact:
		return fmt.Sprintf("warm-up of %d min", s.Limits.WarmUp)
	case conflict.HoursFact:
		return "the free hours"
	case conflict.QuietFact:
		return "no playing in quiet hours"
	case conflict.LatestFact:
		return "nothing after the latest hour"
	case conflict.ApartFact:
		return fmt.Sprintf("%d min at least between practice and services, or the way to them", s.Limits.ServiceGap)
	case conflict.BusyFact:
		return "what other calendars take of the free hours"
	case conflict.LightFact:
		return fmt.Sprintf("light days after pain have %d %% of their cap", s.Limits.Light)
	case conflict.NewFact:
		return "no first visits on the days of concerts"
	case conflict.ListeningFact:
		return fmt.Sprintf("at most %d min of listening a day", s.Limits.Listening)
	case conflict.PassagesFact:
		return fmt.Sprintf("at most %s a day", several(s.Limits.Passages, "passage", "passages"))
	case conflict.PinFact:
		return fmt.Sprintf("%s is pinned to %s", y.called(s.Pins[f.Index()].Session), v.day(f.Days.From))
	case conflict.GapFact:
		var gaps []string
		for _, n := range s.Habits.LeastGaps {
			gaps = append(gaps, fmt.Sprint(n))
		}
		return fmt.Sprintf("least days from visit to visit: %s", strings.Join(gaps, ", "))
	}
	return strings.TrimSuffix(f.Rule().Sentence(), ".")
}

// days writes a run of days.
func (v *voice) days(r model.Range) string {
	if r.From == r.To {
		return v.day(r.From)
	}
	return v.day(r.From) + " to " + v.day(r.To)
}
