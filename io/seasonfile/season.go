package seasonfile

import (
	"slices"
	"strings"
	"time"

	"primaprova/model"
)

// season reads the whole file.
func (r *reader) season(f field) *model.Season {
	t, ok := r.table(f, "title", "time_zone", "from", "to", "instrument", "limits", "hours", "habits", "busy", "other_playing", "services_from", "excused", "programmes", "pins", "learnt")
	if !ok {
		return nil
	}
	s := &model.Season{Limits: model.DefaultLimits(), Habits: model.DefaultHabits()}
	t.at.place = Place{File: r.file, Line: 1, Column: 1}
	t.needs("title", "time_zone", "from", "to", "programmes")
	t.read("title", func(f field) { r.words(f, &s.Title) })
	t.read("time_zone", func(f field) { r.timeZone(f, &s.TimeZone) })
	t.read("from", func(f field) { r.date(f, &s.From) })
	t.read("to", func(f field) { r.date(f, &s.To) })
	t.read("instrument", func(f field) { r.words(f, &s.Instrument) })
	t.read("limits", func(f field) { r.limits(f, &s.Limits) })
	t.read("hours", func(f field) { byDay(r, f, &s.Hours, r.spans, "a list") })
	t.read("habits", func(f field) { r.habits(f, &s.Habits) })
	t.read("programmes", func(f field) { r.programmes(f, s) })
	t.read("services_from", func(f field) { r.servicesFrom(f, s) })
	t.read("excused", func(f field) { r.excused(f, s) })
	t.read("other_playing", func(f field) { list(r, f, &s.Other, r.other) }) // before what busy adds
	t.read("busy", func(f field) { r.busy(f, s) })
	t.read("learnt", func(f field) { list(r, f, &s.Earlier, r.learnt) })
	t.read("pins", func(f field) { list(r, f, &s.Pins, r.pin) })
	return s
}

func (r *reader) timeZone(f field, to *string) {
	if !r.words(f, to) {
		return
	}
	// "Local" would make the season mean another thing on another machine.
	if _, err := time.LoadLocation(*to); err != nil || *to == "Local" {
		*to = ""
		r.wrong(f, "a name of the IANA time zone database, for example Europe/Oslo", "is not a time zone")
	}
}

func (r *reader) spans(f field, to *[]model.Span) bool {
	var out []model.Span
	ok := list(r, f, &out, func(f field, to *model.Span) bool { return value(r, f, to, parseSpan) })
	if !ok {
		return false
	}
	for i := 1; i < len(out); i++ {
		if out[i].From < out[i-1].To {
			r.wrong(f, "", "%s begins before %s ends: spans come in order and apart", out[i], out[i-1])
			return false
		}
	}
	*to = out
	return true
}

func (r *reader) limits(f field, l *model.Limits) {
	t, _ := r.table(f, "playing", "rest_days", "played", "days_off", "warm_up", "warm_up_again", "long_pause", "listening", "passages", "block", "block_rest",
		"heavy", "rise", "rise_floor", "light", "light_days", "quiet", "latest", "service_gap", "tours", "before_concert", "new_on_concerts",
		"two_services", "return")
	t.read("playing", func(f field) { byDay(r, f, &l.Playing, r.minutes, "a single value") })
	t.read("rest_days", func(f field) { r.restDays(f, l) })
	t.read("played", func(f field) { list(r, f, &l.Played, r.dates) })
	t.read("days_off", func(f field) { list(r, f, &l.DaysOff, r.dates) })
	t.read("warm_up", func(f field) { r.minutes(f, &l.WarmUp) })
	t.read("warm_up_again", func(f field) { r.minutes(f, &l.WarmUpAgain) })
	t.read("long_pause", func(f field) { r.minutes(f, &l.LongPause) })
	t.read("listening", func(f field) { r.minutes(f, &l.Listening) })
	t.read("passages", func(f field) { r.number(f, &l.Passages) })
	t.read("block", func(f field) { r.minutes(f, &l.Block) })
	t.read("block_rest", func(f field) { r.minutes(f, &l.BlockRest) })
	t.read("heavy", func(f field) { r.percent(f, &l.Heavy) })
	t.read("rise", func(f field) { r.percent(f, &l.Rise) })
	t.read("rise_floor", func(f field) { r.minutes(f, &l.RiseFloor) })
	t.read("light", func(f field) { r.percent(f, &l.Light) })
	t.read("light_days", func(f field) { r.days(f, &l.LightDays) })
	t.read("quiet", func(f field) { byDay(r, f, &l.Quiet, r.spans, "a list") })
	t.read("latest", func(f field) { byDay(r, f, &l.Latest, r.clock, "a single value") })
	t.read("service_gap", func(f field) { r.minutes(f, &l.ServiceGap) })
	t.read("tours", func(f field) { list(r, f, &l.Tours, r.dates) })
	t.read("before_concert", func(f field) { r.percent(f, &l.BeforeConcert) })
	t.read("new_on_concerts", func(f field) { r.flag(f, &l.NewOnConcerts) })
	t.read("two_services", func(f field) { r.minutes(f, &l.TwoServices) })
	t.read("return", func(f field) {
		t, _ := r.table(f, "after", "ill", "first", "rise")
		t.read("after", func(f field) { r.days(f, &l.Return.After) })
		t.read("ill", func(f field) { r.days(f, &l.Return.Ill) })
		t.read("first", func(f field) { r.percent(f, &l.Return.First) })
		t.read("rise", func(f field) { r.minutes(f, &l.Return.Rise) })
	})
}

func (r *reader) clock(f field, to *model.Clock) bool { return value(r, f, to, parseClock) }

func (r *reader) dates(f field, to *model.Range) bool { return value(r, f, to, parseRange) }

// restDays reads weekdays, dates and ranges of dates, in any mixture.
func (r *reader) restDays(f field, l *model.Limits) {
	in, _ := r.items(f)
	for _, item := range in {
		s, ok := r.scalar(item)
		if !ok {
			continue
		}
		if day, ok := parseWeekday(s); ok {
			l.RestDays = append(l.RestDays, day)
			continue
		}
		when, err := parseRange(s)
		switch {
		case err == nil:
			l.RestDates = append(l.RestDates, when)
		case s != "" && s[0] >= '0' && s[0] <= '9':
			r.wrong(item, "", "%s", err.Error())
		case severalWeekdays(s) != "":
			r.wrong(item, severalWeekdays(s), "is the name of more than one weekday")
		default:
			r.wrong(item, Nearest(s, weekdayNames), "is not a weekday, a date or a range of dates")
		}
	}
}

func (r *reader) habits(f field, h *model.Habits) {
	t, _ := r.table(f, "step", "visits", "first", "shares", "least_gaps", "preferred_gaps", "short_gaps", "upkeep", "upkeep_after", "ready_days", "fresh_days",
		"last_days", "exposed_weight", "visit_values", "listen_value", "read_value", "record_value", "listening",
		"read_through", "recordings", "service_playing", "tempo_steps", "service_travel",
		"listening_hours", "part_changes")
	t.read("step", func(f field) { r.minutes(f, &h.Step) })
	t.read("visits", func(f field) { byDifficulty(r, f, &h.Visits, r.number) })
	t.read("first", func(f field) { byDifficulty(r, f, &h.First, r.minutes) })
	t.read("shares", func(f field) { list(r, f, &h.Shares, r.percent) })
	t.read("least_gaps", func(f field) { list(r, f, &h.LeastGaps, r.days) })
	t.read("preferred_gaps", func(f field) { list(r, f, &h.PreferredGaps, r.days) })
	t.read("short_gaps", func(f field) { r.flag(f, &h.ShortGaps) })
	t.read("upkeep", func(f field) { r.minutes(f, &h.Upkeep) })
	t.read("upkeep_after", func(f field) { r.days(f, &h.UpkeepAfter) })
	t.read("ready_days", func(f field) { r.days(f, &h.ReadyDays) })
	t.read("fresh_days", func(f field) { r.days(f, &h.FreshDays) })
	t.read("last_days", func(f field) { r.days(f, &h.LastDays) })
	t.read("exposed_weight", func(f field) { r.number(f, &h.ExposedWeight) })
	t.read("visit_values", func(f field) { list(r, f, &h.VisitValues, r.number) })
	t.read("listen_value", func(f field) { r.number(f, &h.ListenValue) })
	t.read("read_value", func(f field) { r.number(f, &h.ReadValue) })
	t.read("record_value", func(f field) { r.number(f, &h.RecordValue) })
	t.read("listening", func(f field) { r.minutes(f, &h.Listening) })
	t.read("read_through", func(f field) { r.minutes(f, &h.ReadThrough) })
	t.read("recordings", func(f field) { r.minutes(f, &h.Recordings) })
	t.read("service_playing", func(f field) { r.percent(f, &h.ServicePlaying) })
	t.read("tempo_steps", func(f field) { r.number(f, &h.TempoSteps) })
	t.read("service_travel", func(f field) { r.minutes(f, &h.ServiceTravel) })
	t.read("listening_hours", func(f field) { byDay(r, f, &h.ListeningHours, r.spans, "a list") })
	t.read("part_changes", func(f field) { value(r, f, &h.PartChanges, parsePartChanges) })
}

func parsePartChanges(s string) (model.PartChanges, error) {
	if i := slices.Index(model.PartChangesNames, strings.ToLower(s)); i >= 0 {
		return model.PartChanges(i), nil
	}
	return 0, advised{text: "is not mixed, few or one work at a time", advice: Nearest(strings.ToLower(s), model.PartChangesNames)}
}

// byDifficulty reads a list of three: for easy, ordinary and hard passages.
func byDifficulty[T any](r *reader, f field, to *[4]T, how func(field, *T) bool) {
	var in []T
	if !list(r, f, &in, how) {
		return
	}
	if len(in) != 3 {
		r.wrong(f, "", "has %d values, wants three: for easy, ordinary and hard passages", len(in))
		return
	}
	copy(to[1:], in)
}

// learnt reads what sessions of one kind took in earlier seasons.
func (r *reader) learnt(f field, to *model.Earlier) bool {
	t, ok := r.table(f, "work", "sessions", "estimated", "took")
	if ok {
		t.needs("work", "sessions", "estimated", "took")
	}
	t.read("work", func(f field) { ok = value(r, f, &to.Effort, parseEffort) && ok })
	t.read("sessions", func(f field) { ok = r.number(f, &to.Sessions) && ok })
	t.read("estimated", func(f field) { ok = r.minutes(f, &to.Estimated) && ok })
	t.read("took", func(f field) { ok = r.minutes(f, &to.Took) && ok })
	return ok
}

func parseEffort(s string) (model.Effort, error) {
	var names []string
	for _, e := range append(model.Efforts(), model.Effort{Stage: model.WholeWork}) {
		if e.String() == s {
			return e, nil
		}
		names = append(names, e.String())
	}
	return model.Effort{}, advised{"is none of " + strings.Join(names, ", "), Nearest(s, names)}
}

func (r *reader) pin(f field, to *model.Pin) bool {
	t, ok := r.table(f, "session", "date")
	if ok {
		t.needs("session", "date")
	}
	t.read("session", func(f field) { ok = r.words(f, &to.Session) && ok })
	t.read("date", func(f field) { ok = r.date(f, &to.Date) && ok })
	return ok
}
