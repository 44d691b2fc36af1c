package conflict

import (
	"primaprova/model"
	"slices"
)

// lightDays gives the days that pain takes or makes light, with those on the way
// back from it.
func lightDays(s *model.Season) (out []model.Date) {
	l := &s.Limits
	for d := s.From; d <= s.To; d++ {
		r := s.RoomOn(d)
		pained := slices.ContainsFunc(l.Stopped, func(x model.Range) bool { return x.Holds(d) })
		if pained || r.Marks.Has(model.LightDay) || r.Marks.Has(model.AfterTimeOff) && len(backs(l, true)) > 0 {
			out = append(out, d)
		}
	}
	return out
}

// capPaths gives where the caps of some days stand.
func capPaths(l *model.Limits, days model.Range) []string {
	var out []string
	note := func(path string) {
		if !slices.Contains(out, path) {
			out = append(out, path)
		}
	}
	for d := days.From; d <= days.To; d++ {
		i := l.Playing.Dated(d)
		_, own := l.Playing.Weekday[d.Weekday()]
		switch {
		case i >= 0:
			note("limits.playing." + l.Playing.Dates[i].Range.String())
		case own:
			note("limits.playing." + weekdays[d.Weekday()])
		case len(l.Playing.Dates)+len(l.Playing.Weekday) > 0:
			note("limits.playing.every day")
		default:
			note("limits.playing")
		}
	}
	return out
}

var weekdays = [7]string{"sunday", "monday", "tuesday", "wednesday", "thursday", "friday", "saturday"}

// capRuns cuts days into weeks, and at the ends of a stretch.
func capRuns(all, stretch model.Range) []model.Range {
	var out []model.Range
	for d := all.From; d <= all.To; d++ {
		if len(out) == 0 || d == d.Monday() || d == stretch.From || d == stretch.To+1 {
			out = append(out, model.Range{From: d})
		}
		out[len(out)-1].To = d
	}
	return out
}
