package model

import (
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode"
)

// Locale is how a reader wants days, hours and weeks written, and on which
// paper. It changes what is shown to people and never what is planned: weeks
// that limits count by are ISO weeks everywhere. Start from DefaultLocale; the
// zero Locale begins its weeks on Sunday, because time.Weekday does.
type Locale struct {
	Dates        DateOrder
	Weekdays     []string // seven names from Monday on, in place of the English ones, short and long
	Months       []string // twelve names likewise
	FirstWeekday time.Weekday
	HalfDays     bool // hours as 1:30 pm in place of 13:30
	Paper        Paper
}

// Written gives the locale with English names in the place of those that can't be
// written where it is shown.
func (l Locale) Written(can func(name string) bool) Locale {
	for _, names := range []*[]string{&l.Weekdays, &l.Months} {
		if slices.ContainsFunc(*names, func(s string) bool { return s != "" && !can(s) }) {
			*names = nil
		}
	}
	return l
}

// DefaultLocale gives English names, the day before the month, weeks from
// Monday (ISO 8601), the clock of 24 hours and A4.
func DefaultLocale() Locale { return Locale{FirstWeekday: time.Monday, Paper: A4} }

// DateOrder is the order of the parts of a date.
type DateOrder int

// The orders of a date.
const (
	DayMonth DateOrder = iota // Mon 2 Jan
	MonthDay                  // Mon, Jan 2
	ISODates                  // Mon 2027-01-02
)

// Day writes a date with its weekday, short: "Mon 2 Jan". It gives nothing for
// the zero Date, as do Brief and Long.
func (l Locale) Day(d Date) string {
	switch {
	case d == 0:
		return ""
	case l.Dates == MonthDay:
		return l.ShortWeekday(d.Weekday()) + ", " + l.Brief(d)
	}
	return l.ShortWeekday(d.Weekday()) + " " + l.Brief(d)
}

// DayYear writes what Day does, with the year: "Mon 2 Jan 2027".
func (l Locale) DayYear(d Date) string {
	switch {
	case d == 0 || l.Dates == ISODates:
		return l.Day(d)
	case l.Dates == MonthDay:
		return fmt.Sprintf("%s, %d", l.Day(d), d.Time().Year())
	}
	return fmt.Sprintf("%s %d", l.Day(d), d.Time().Year())
}

// Brief writes a date without weekday and year: "2 Jan". The ISO order has no
// form without the year.
func (l Locale) Brief(d Date) string {
	month, day := l.ShortMonth(d.Time().Month()), d.Time().Day()
	switch {
	case d == 0:
		return ""
	case l.Dates == MonthDay:
		return fmt.Sprintf("%s %d", month, day)
	case l.Dates == ISODates:
		return d.String()
	}
	return fmt.Sprintf("%d %s", day, month)
}

// Long writes a date in full: "Monday 2 January 2027".
func (l Locale) Long(d Date) string {
	weekday, month, day, year := l.Weekday(d.Weekday()), l.Month(d.Time().Month()), d.Time().Day(), d.Time().Year()
	switch {
	case d == 0:
		return ""
	case l.Dates == MonthDay:
		return fmt.Sprintf("%s, %s %d, %d", weekday, month, day, year)
	case l.Dates == ISODates:
		return weekday + " " + d.String()
	}
	return fmt.Sprintf("%s %d %s %d", weekday, day, month, year)
}

// Clock writes a time of day: "13:30", or "1:30 pm".
func (l Locale) Clock(c Clock) string {
	if !l.HalfDays {
		return c.String()
	}
	digits, half := halfDay(c)
	return digits + " " + half
}

// Hours writes a run of clock time: "09:30-12:30", or "9:30 am-12:30 pm", the
// half named once where both ends lie in the same one.
func (l Locale) Hours(s Span) string {
	if !l.HalfDays {
		return s.String()
	}
	from, half := halfDay(s.From)
	if _, other := halfDay(s.To); other == half && s.To-s.From < 12*60 {
		return from + "-" + l.Clock(s.To)
	}
	return l.Clock(s.From) + "-" + l.Clock(s.To)
}

// halfDay splits a time into its digits and its half: midnight is 12:00 am,
// noon 12:00 pm.
func halfDay(c Clock) (digits, half string) {
	h, half := int(c)/60%24, "am"
	if h >= 12 {
		half = "pm"
	}
	return fmt.Sprintf("%d:%02d", (h+11)%12+1, int(c)%60), half
}

// Weekday names a day of the week: "Monday".
func (l Locale) Weekday(w time.Weekday) string {
	if len(l.Weekdays) == 7 {
		return l.Weekdays[(w+6)%7]
	}
	return w.String()
}

// ShortWeekday names a day of the week in a few letters: "Mon".
func (l Locale) ShortWeekday(w time.Weekday) string {
	if len(l.Weekdays) == 7 {
		return l.Weekdays[(w+6)%7]
	}
	return w.String()[:3]
}

// Month names a month: "January".
func (l Locale) Month(m time.Month) string {
	if len(l.Months) == 12 {
		return l.Months[m-1]
	}
	return m.String()
}

// ShortMonth names a month in a few letters: "Jan".
func (l Locale) ShortMonth(m time.Month) string {
	if len(l.Months) == 12 {
		return l.Months[m-1]
	}
	return m.String()[:3]
}

// Week gives the weekdays in the reader's order.
func (l Locale) Week() [7]time.Weekday {
	var out [7]time.Weekday
	for i := range out {
		out[i] = (l.FirstWeekday + time.Weekday(i)) % 7
	}
	return out
}

// WeekOf gives the reader's week that holds a date, seven days. Its number is
// that of the ISO week of its Thursday (ISOWeekOf).
func (l Locale) WeekOf(d Date) Range {
	first := d - Date((d.Weekday()-l.FirstWeekday+7)%7)
	return Range{first, first + 6}
}

// ISOWeekOf gives the ISO 8601 year and week that the reader's week of a date
// shares most days with, wherever it begins: as in ISO 8601 itself, its
// Thursday decides.
func (l Locale) ISOWeekOf(d Date) (year, week int) {
	r := l.WeekOf(d)
	thursday := r.From + Date((time.Thursday-r.From.Weekday()+7)%7)
	return thursday.ISOWeek()
}

// ParseWeekday reads an English weekday, whatever its case.
func ParseWeekday(s string) (time.Weekday, error) {
	for w := time.Sunday; w <= time.Saturday; w++ {
		if strings.EqualFold(s, w.String()) {
			return w, nil
		}
	}
	return 0, fmt.Errorf("%q is not a weekday like monday", s)
}

// scripts are those whose letters stand one after the other from left to right,
// each as its font draws it.
var scripts = []*unicode.RangeTable{unicode.Common, unicode.Inherited, unicode.Latin, unicode.Greek, unicode.Cyrillic, unicode.Armenian,
	unicode.Georgian, unicode.Han, unicode.Hiragana, unicode.Katakana, unicode.Hangul, unicode.Bopomofo}

// NeedsShaper tells whether a letter is of a script in which letters join, turn
// round or change places. That is the work of a shaper, such as browsers have; where
// there is none, a name with such letters gives way to another.
func NeedsShaper(r rune) bool {
	return !unicode.In(r, scripts...) || unicode.Is(unicode.Bidi_Control, r)
}
