package model

import (
	"fmt"
	"strings"
	"time"
)

// every calls judge for each value that differs by day, with the value's path.
func every[T any](path string, b ByDay[T], judge func(path string, value T)) {
	judge(path+".every day", b.Every)
	for day := time.Sunday; day <= time.Saturday; day++ {
		if value, ok := b.Weekday[day]; ok {
			judge(path+"."+strings.ToLower(day.String()), value)
		}
	}
	for _, d := range b.Dates {
		judge(path+"."+d.Range.String(), d.Value)
	}
}

// dated judges the dates and ranges of days, and warns where it is a matter of
// their order in the file which of two counts (see ByDay.On).
func dated[T any](v *validator, path string, b ByDay[T]) {
	for i, d := range b.Dates {
		v.forward(path+"."+d.Range.String(), d.Range)
		for _, o := range b.Dates[:i] {
			if d.Range.From <= o.Range.To && o.Range.From <= d.Range.To && (d.Range.Days() == 1) == (o.Range.Days() == 1) {
				v.warn(path+"."+d.Range.String(), d.Range, "dates that are named once", "meets %v: this line counts where both hold, since it comes later", o.Range)
			}
		}
	}
}

func (v *validator) limits() {
	l := &v.s.Limits
	every("limits.playing", l.Playing, func(path string, cap Minutes) { within(v, path, cap, 0, mostCap) })
	dated(v, "limits.playing", l.Playing)
	for i, r := range l.RestDates {
		v.forward(fmt.Sprintf("limits.rest_days[%d]", len(l.RestDays)+i), r)
	}
	for i, r := range l.Played {
		v.forward(fmt.Sprintf("limits.played[%d]", i), r)
	}
	for i, r := range l.DaysOff {
		v.forward(fmt.Sprintf("limits.days_off[%d]", i), r)
	}
	within(v, "limits.warm_up", l.WarmUp, 0, mostVisit)
	within(v, "limits.warm_up_again", l.WarmUpAgain, 0, mostWarmUpAgain)
	within(v, "limits.long_pause", l.LongPause, 60, 12*60)
	within(v, "limits.listening", l.Listening, 0, mostCap)
	within(v, "limits.passages", l.Passages, 1, 1000)
	within(v, "limits.block_rest", l.BlockRest, 0, mostVisit)
	within(v, "limits.heavy", l.Heavy, 1, 100)
	within(v, "limits.rise", l.Rise, 0, 1000)
	within(v, "limits.rise_floor", l.RiseFloor, 0, 7*mostCap)
	within(v, "limits.light", l.Light, 0, 100)
	within(v, "limits.light_days", l.LightDays, 0, 365)
	v.serviceDays()
	// A session of two steps is never split, so a shorter block would hold none.
	within(v, "limits.block", l.Block, wholeSteps*max(1, v.s.Habits.Step), mostCap)
}

// serviceDays judges the limits of days around services and time off.
func (v *validator) serviceDays() {
	l := &v.s.Limits
	within(v, "limits.service_gap", l.ServiceGap, 0, mostService)
	within(v, "limits.before_concert", l.BeforeConcert, 0, 100)
	within(v, "limits.two_services", l.TwoServices, 0, mostCap)
	within(v, "limits.return.after", l.Return.After, 0, 365)
	within(v, "limits.return.ill", l.Return.Ill, 0, 365)
	within(v, "limits.return.first", l.Return.First, 0, 100)
	within(v, "limits.return.rise", l.Return.Rise, 0, mostCap)
	for i, r := range l.Tours {
		v.forward(fmt.Sprintf("limits.tours[%d]", i), r)
	}
}

// forward reports a range that ends before it begins.
func (v *validator) forward(path string, r Range) {
	if r.To < r.From {
		v.fault(path, r, Range{r.To, r.From}.String(), "the range ends before it begins")
	}
}

func (v *validator) hours() {
	l := &v.s.Limits
	v.spans("hours", v.s.Hours)
	v.spans("limits.quiet", l.Quiet)
	v.spans("habits.listening_hours", v.s.Habits.ListeningHours)
	dated(v, "limits.latest", l.Latest)
	every("limits.latest", l.Latest, func(path string, c Clock) {
		if c < 0 || c > 24*60 {
			v.fault(path, c, "a time from 00:01 to 24:00", "is no time of day")
		}
	})
	heard := anyDay(v.s.Habits.ListeningHours, func(s []Span) bool { return len(s) > 0 })
	if v.s.HasHours() {
		if heard && !v.hears() {
			v.warn("habits.listening_hours", "", "times within hours; limits.quiet keeps playing out of them", "lie in the hours of no day, so nothing is ever planned in them")
		}
		return
	}
	if heard {
		v.fault("habits.listening_hours", "", "hours: {every day: [09:00-21:00]}", "says when to listen, but no hours say when to work: days are planned, not hours")
	}
	// Whoever says when not to play means it; without hours it would mean nothing.
	for _, q := range []struct {
		path  string
		given bool
	}{
		{"busy", len(v.s.Busy) > 0},
		{"limits.quiet", anyDay(l.Quiet, func(s []Span) bool { return len(s) > 0 })},
		{"limits.latest", anyDay(l.Latest, func(c Clock) bool { return c > 0 })},
	} {
		if q.given {
			v.fault(q.path, "", "hours: {every day: [09:00-21:00]}", "says when not to play, but no hours say when to: days are planned, not hours")
		}
	}
}

// hears tells whether the hours for listening meet the hours of any day.
func (v *validator) hears() bool {
	for d := v.s.From; d <= v.s.To; d++ {
		if len(common(v.s.Hours.On(d), v.s.Habits.ListeningHours.On(d))) > 0 {
			return true
		}
	}
	return false
}

// anyDay tells whether some day's value is of a kind.
func anyDay[T any](b ByDay[T], is func(T) bool) bool {
	found := false
	every("", b, func(_ string, value T) { found = found || is(value) })
	return found
}

// spans judges spans of time that differ by day.
func (v *validator) spans(path string, b ByDay[[]Span]) {
	dated(v, path, b)
	every(path, b, func(path string, spans []Span) {
		for i, f := range spans {
			at := fmt.Sprintf("%s[%d]", path, i)
			switch {
			case f.From < 0 || f.To > 24*60:
				v.fault(at, f, "times from 00:00 to 24:00", "the span leaves the day")
			case f.To <= f.From:
				v.fault(at, f, Span{f.To, f.From}.String(), "the span ends before it begins")
			case i > 0 && f.From < spans[i-1].To:
				v.fault(at, f, "spans in order that do not overlap", "the span begins before %v ends", spans[i-1])
			}
		}
	})
}

func (v *validator) habits() {
	h := &v.s.Habits
	within(v, "habits.step", h.Step, 1, 60)
	for hard := 1; hard <= 3; hard++ {
		within(v, fmt.Sprintf("habits.visits[%d]", hard-1), h.Visits[hard], 1, mostVisits)
		within(v, fmt.Sprintf("habits.first[%d]", hard-1), h.First[hard], 1, mostVisit)
	}
	v.list("habits.shares", h.Shares, 1000)
	least := v.list("habits.least_gaps", h.LeastGaps, 365) // visits of a passage lie on different days
	preferred := v.list("habits.preferred_gaps", h.PreferredGaps, 365)
	v.list("habits.visit_values", h.VisitValues, 1000)
	for k := range max(len(h.LeastGaps), len(h.PreferredGaps)) {
		if l, p := at(h.LeastGaps, k), at(h.PreferredGaps, k); least && preferred && p < l {
			v.fault(fmt.Sprintf("habits.preferred_gaps[%d]", min(k, len(h.PreferredGaps)-1)), p, fmt.Sprintf("%d or more", l),
				"the preferred gap before visit %d is shorter than the least gap of %d days", k+2, l)
			break
		}
	}
	within(v, "habits.upkeep", h.Upkeep, 0, mostVisit)
	within(v, "habits.upkeep_after", h.UpkeepAfter, 1, 365)
	within(v, "habits.ready_days", h.ReadyDays, 0, 365)
	within(v, "habits.fresh_days", h.FreshDays, 0, 365)
	if h.FreshDays >= 0 && h.ReadyDays > h.FreshDays {
		v.fault("habits.fresh_days", h.FreshDays, fmt.Sprintf("%d or more", h.ReadyDays),
			"a passage finished by the ready-by date, %d days before it is due, would have gone stale already", h.ReadyDays)
	}
	within(v, "habits.last_days", h.LastDays, 1, 365)
	within(v, "habits.exposed_weight", h.ExposedWeight, 0, 1000)
	within(v, "habits.listen_value", h.ListenValue, 0, 100000)
	within(v, "habits.read_value", h.ReadValue, 0, 100000)
	within(v, "habits.record_value", h.RecordValue, 0, 100000)
	within(v, "habits.listening", h.Listening, 0, mostStage)
	within(v, "habits.read_through", h.ReadThrough, 1, mostStage)
	within(v, "habits.recordings", h.Recordings, 0, mostStage)
	within(v, "habits.service_playing", h.ServicePlaying, 0, 100)
	within(v, "habits.tempo_steps", h.TempoSteps, 1, len(metronome))
	within(v, "habits.service_travel", h.ServiceTravel, 0, mostService)
}

// list judges a list whose last entry repeats.
func (v *validator) list(path string, list []int, most int) bool {
	if len(list) == 0 {
		v.fault(path, "", "at least one number", "the list is empty")
		return false
	}
	good := true
	for i, n := range list {
		good = within(v, fmt.Sprintf("%s[%d]", path, i), n, 1, most) && good
	}
	return good
}
