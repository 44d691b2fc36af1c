package seasonfile

import (
	"errors"
	"math"
	"strconv"
	"strings"
	"unicode"

	"primaprova/model"
)

// scalar gives a single value's text without the blanks around it.
func (r *reader) scalar(f field) (string, bool) {
	switch {
	case f.alias():
		return "", false
	case f.null():
		r.wrong(f, "fill it in, or take the line out", "nothing is given here")
		return "", false
	case f.kind() != "a single value":
		r.wrong(f, "", "expected a single value, found %s", f.kind())
		return "", false
	}
	return strings.TrimSpace(f.written()), true
}

// value reads a single value with a parser; the parser's error says what is
// wrong with it.
func value[T any](r *reader, f field, to *T, parse func(string) (T, error)) bool {
	s, ok := r.scalar(f)
	if !ok {
		return false
	}
	v, err := parse(s)
	if err != nil {
		var a advised
		errors.As(err, &a)
		r.wrong(f, a.advice, "%s", err.Error())
		return false
	}
	*to = v
	return true
}

// advised is a fault of a value with what to do about it.
type advised struct{ text, advice string }

func (a advised) Error() string { return a.text }

func (r *reader) words(f field, to *string) bool { return value(r, f, to, parseWords) }

func parseWords(s string) (string, error) {
	if s == "" {
		return "", advised{text: "nothing is given here"}
	}
	for _, c := range s {
		if unicode.IsControl(c) {
			return "", advised{text: "holds a control character or a line break"}
		}
	}
	return s, nil
}

func (r *reader) date(f field, to *model.Date) bool { return value(r, f, to, parseDate) }

func parseDate(s string) (model.Date, error) {
	d, err := model.SaidDate(s)
	if err == nil {
		return d, nil
	}
	switch text := strings.TrimPrefix(err.Error(), strconv.Quote(s)+" "); {
	case strings.HasPrefix(text, "can be read"):
		return 0, advised{text: text}
	case strings.HasSuffix(text, "of the calendar"):
		return 0, advised{text: "there is no such day in the calendar"}
	}
	return namedDate(strings.TrimSpace(s))
}

func parseRange(s string) (model.Range, error) {
	from, to, two := strings.Cut(s, "..")
	var r model.Range
	var err error
	if r.From, err = parseDate(strings.TrimSpace(from)); err != nil {
		if two {
			return r, advised{text: "is not a range of dates like 2027-03-29..2027-04-04"}
		}
		return r, err
	}
	r.To = r.From
	if two {
		if r.To, err = parseDate(strings.TrimSpace(to)); err != nil {
			return r, advised{text: "is not a range of dates like 2027-03-29..2027-04-04"}
		}
	}
	if r.To < r.From {
		return r, advised{text: "ends before it begins", advice: r.To.String() + ".." + r.From.String()}
	}
	return r, nil
}

func (r *reader) minutes(f field, to *model.Minutes) bool { return value(r, f, to, parseMinutes) }

func parseMinutes(s string) (model.Minutes, error) {
	if strings.HasPrefix(s, "-") {
		return 0, advised{text: "a length can't be negative"}
	}
	m, err := model.ParseMinutes(s)
	if err != nil {
		return 0, advised{text: "is not a length like 80 min or 1 h 20 min"}
	}
	return m, nil
}

func (r *reader) percent(f field, to *int) bool { return value(r, f, to, parsePercent) }

// parsePercent reads "65 %", "65%" or a bare 65.
func parsePercent(s string) (int, error) {
	n, err := strconv.Atoi(strings.TrimSpace(strings.TrimSuffix(s, "%")))
	if err == nil && n >= 0 && n <= 1000 {
		return n, nil
	}
	if share, err := strconv.ParseFloat(s, 64); err == nil && share > 0 && share < 1 {
		return 0, advised{text: "is not a share like 65 %", advice: strconv.Itoa(int(math.Round(100*share))) + " %"}
	}
	return 0, advised{text: "is not a share like 65 %"}
}

func (r *reader) number(f field, to *int) bool { return value(r, f, to, parseNumber) }

// mostNumber is the largest plain number that is read. Nothing counted in a
// season comes near it.
const mostNumber = 10_000

func parseNumber(s string) (int, error) {
	n, err := strconv.Atoi(s)
	if err != nil || n < 0 || n > mostNumber {
		return 0, advised{text: "is not a whole number from 0 to 10000"}
	}
	return n, nil
}

func (r *reader) days(f field, to *int) bool { return value(r, f, to, parseDays) }

// ownDays reads days that may be given or not.
func (r *reader) ownDays(f field, to **int) bool {
	*to = new(int)
	return r.days(f, *to)
}

// parseDays reads "3 days", "1 day" or a bare number of days.
func parseDays(s string) (int, error) {
	n, err := parseNumber(strings.TrimSpace(strings.TrimSuffix(strings.TrimSuffix(s, "s"), "day")))
	if err != nil {
		return 0, advised{text: "is not a number of days like 3 days"}
	}
	return n, nil
}

func (r *reader) flag(f field, to *bool) bool { return value(r, f, to, parseFlag) }

func parseFlag(s string) (bool, error) {
	switch strings.ToLower(s) {
	case "yes", "true":
		return true, nil
	case "no", "false":
		return false, nil
	}
	return false, advised{text: "is not yes or no"}
}

func (r *reader) level(f field, to *model.Level) bool { return value(r, f, to, parseLevel) }

// parseLevel reads "92 dB", "91.5 dB(A)" or a bare number of decibels.
func parseLevel(s string) (model.Level, error) {
	l, err := model.ParseLevel(s)
	if err != nil {
		return 0, advised{text: "is not a level like 92 dB"}
	}
	return l, nil
}

func parseClock(s string) (model.Clock, error) {
	c, err := model.SaidClock(s)
	if err != nil {
		return 0, advised{text: "is not a time of day like 21:00"}
	}
	return c, nil
}

func parseSpan(s string) (model.Span, error) {
	from, to, two := strings.Cut(s, "-")
	a, err1 := model.SaidClock(from)
	b, err2 := model.SaidClock(to)
	if !two || err1 != nil || err2 != nil {
		return model.Span{}, advised{text: "is not a span of time like 09:30-12:30"}
	}
	if b <= a {
		return model.Span{}, advised{text: "ends before it begins"}
	}
	return model.Span{From: a, To: b}, nil
}

// moment is a local date and time of day.
type moment struct {
	date  model.Date
	clock model.Clock
}

func parseMoment(s string) (moment, error) {
	day, clock, two := s, "", false
	if at := strings.LastIndexByte(s, ' '); at > 0 { // 4. 1. 2027 10:00 has more than one, 4 Jan 2027 10:00 too
		day, clock, two = s[:at], s[at+1:], true
	}
	d, err := parseDate(day)
	if err != nil && two {
		return moment{}, err
	}
	c, wrong := model.SaidClock(clock)
	if err != nil || wrong != nil || c == 24*60 {
		return moment{}, advised{text: "is not a date and time like 2027-02-03 10:00"}
	}
	return moment{d, c}, nil
}

// list reads a list of values, each by how. A single value where a list is
// wanted is a fault: it is cheap to write the brackets, and dear to guess.
func list[T any](r *reader, f field, to *[]T, how func(field, *T) bool) bool {
	in, ok := r.items(f)
	if !ok {
		return false
	}
	out := make([]T, 0, len(in))
	for _, item := range in {
		var v T
		if how(item, &v) {
			out = append(out, v)
		} else {
			ok = false
		}
	}
	if ok {
		*to = out
	}
	return ok
}
