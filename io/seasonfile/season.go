package seasonfile

import (
	"slices"
	"strings"
	"time"

	"primaprova/model"
)

// season reads the whole file.
func (r *reader) season(f field) *model.Season {
	s := &model.Season{Limits: model.DefaultLimits(), Habits: model.DefaultHabits()}
	if f.kind() != "a table of keys" {
		r.entries(f)
		return nil
	}
	f.place = Place{File: r.file, Line: 1, Column: 1}
	r.table(f,
		must("title", &s.Title, r.words),
		must("time_zone", &s.TimeZone, r.timeZone),
		must("from", &s.From, r.date),
		must("to", &s.To, r.date),
		opt("instrument", &s.Instrument, r.words),
		with("limits", func(f field) { r.limits(f, &s.Limits) }),
		with("hours", func(f field) { byDay(r, f, &s.Hours, r.spans, "a list") }),
		with("habits", func(f field) { r.habits(f, &s.Habits) }),
		must("programmes", s, r.programmes),
		with("services_from", func(f field) { r.servicesFrom(f, s) }),
		with("excused", func(f field) { r.excused(f, s) }),
		opt("other_playing", &s.Other, listOf(r, r.other)), // before what busy adds
		with("busy", func(f field) { r.busy(f, s) }),
		opt("learnt", &s.Earlier, listOf(r, r.learnt)),
		opt("pins", &s.Pins, listOf(r, r.pin)),
	)
	return s
}

func (r *reader) timeZone(f field, to *string) bool {
	if !r.words(f, to) {
		return false
	}
	// "Local" would make the season mean another thing on another machine.
	if _, err := time.LoadLocation(*to); err != nil || *to == "Local" {
		*to = ""
		r.wrong(f, "a name of the IANA time zone database, for example Europe/Oslo", "is not a time zone")
		return false
	}
	return true
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
	r.table(f,
		with("playing", func(f field) { byDay(r, f, &l.Playing, r.minutes, "a single value") }),
		opt("rest_days", l, r.restDays),
		opt("played", &l.Played, listOf(r, r.dates)),
		opt("days_off", &l.DaysOff, listOf(r, r.dates)),
		opt("warm_up", &l.WarmUp, r.minutes),
		opt("warm_up_again", &l.WarmUpAgain, r.minutes),
		opt("long_pause", &l.LongPause, r.minutes),
		opt("listening", &l.Listening, r.minutes),
		opt("passages", &l.Passages, r.number),
		opt("block", &l.Block, r.minutes),
		opt("block_rest", &l.BlockRest, r.minutes),
		opt("heavy", &l.Heavy, r.percent),
		opt("rise", &l.Rise, r.percent),
		opt("rise_floor", &l.RiseFloor, r.minutes),
		opt("light", &l.Light, r.percent),
		opt("light_days", &l.LightDays, r.days),
		with("quiet", func(f field) { byDay(r, f, &l.Quiet, r.spans, "a list") }),
		with("latest", func(f field) { byDay(r, f, &l.Latest, r.clock, "a single value") }),
		opt("service_gap", &l.ServiceGap, r.minutes),
		opt("tours", &l.Tours, listOf(r, r.dates)),
		opt("before_concert", &l.BeforeConcert, r.percent),
		opt("new_on_concerts", &l.NewOnConcerts, r.flag),
		opt("two_services", &l.TwoServices, r.minutes),
		with("return", func(f field) {
			r.table(f,
				opt("after", &l.Return.After, r.days),
				opt("ill", &l.Return.Ill, r.days),
				opt("first", &l.Return.First, r.percent),
				opt("rise", &l.Return.Rise, r.minutes),
			)
		}),
	)
}

func (r *reader) clock(f field, to *model.Clock) bool { return value(r, f, to, parseClock) }

func (r *reader) dates(f field, to *model.Range) bool { return value(r, f, to, parseRange) }

// restDays reads weekdays, dates and ranges of dates, in any mixture.
func (r *reader) restDays(f field, l *model.Limits) bool {
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
	return true
}

func (r *reader) habits(f field, h *model.Habits) {
	r.table(f,
		opt("step", &h.Step, r.minutes),
		with("visits", func(f field) { byDifficulty(r, f, &h.Visits, r.number) }),
		with("first", func(f field) { byDifficulty(r, f, &h.First, r.minutes) }),
		opt("shares", &h.Shares, listOf(r, r.percent)),
		opt("least_gaps", &h.LeastGaps, listOf(r, r.days)),
		opt("preferred_gaps", &h.PreferredGaps, listOf(r, r.days)),
		opt("short_gaps", &h.ShortGaps, r.flag),
		opt("upkeep", &h.Upkeep, r.minutes),
		opt("upkeep_after", &h.UpkeepAfter, r.days),
		opt("ready_days", &h.ReadyDays, r.days),
		opt("fresh_days", &h.FreshDays, r.days),
		opt("last_days", &h.LastDays, r.days),
		opt("exposed_weight", &h.ExposedWeight, r.number),
		opt("visit_values", &h.VisitValues, listOf(r, r.number)),
		opt("whole_parts", &h.WholeParts, r.flag),
		opt("listen_value", &h.ListenValue, r.number),
		opt("read_value", &h.ReadValue, r.number),
		opt("record_value", &h.RecordValue, r.number),
		opt("listening", &h.Listening, r.minutes),
		opt("read_through", &h.ReadThrough, r.minutes),
		opt("recordings", &h.Recordings, r.minutes),
		opt("service_playing", &h.ServicePlaying, r.percent),
		opt("tempo_steps", &h.TempoSteps, r.number),
		opt("service_travel", &h.ServiceTravel, r.minutes),
		with("listening_hours", func(f field) { byDay(r, f, &h.ListeningHours, r.spans, "a list") }),
		opt("part_changes", &h.PartChanges, by(r, parsePartChanges)),
	)
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
	return r.table(f,
		must("work", &to.Effort, by(r, parseEffort)),
		must("sessions", &to.Sessions, r.number),
		must("estimated", &to.Estimated, r.minutes),
		must("took", &to.Took, r.minutes),
	).good
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
	return r.table(f, must("session", &to.Session, r.words), must("date", &to.Date, r.date)).good
}
