package main

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"

	"golang.org/x/image/colornames"

	"primaprova/model"
)

// What values settings take.

func tolerance(s string) error {
	if _, err := model.ParseTolerance(s); err != nil {
		return err
	}
	return nil
}

func number(low, high int) func(string) error {
	return func(s string) error {
		if n, err := strconv.Atoi(s); err != nil || n < low || n > high {
			return fmt.Errorf("is not a whole number from %d to %d", low, high)
		}
		return nil
	}
}

// colourName takes the names of CSS, which iCalendar has its colours by (RFC 7986, 5.9).
func colourName(s string) error {
	if s == "" || s == "programmes" || s == "none" {
		return nil
	}
	if _, ok := colornames.Map[strings.ToLower(s)]; !ok {
		return errors.New("is no colour's name of CSS, like steelblue")
	}
	return nil
}

func dateOrNone(s string) error {
	if s == "" {
		return nil
	}
	if _, err := model.SaidDate(s); err != nil {
		return errors.New("is not a date like 2027-01-31")
	}
	return nil
}

func length(s string) error {
	if d, err := time.ParseDuration(s); err != nil || d < 0 {
		return errors.New("is not a length of time like 90s or 5m")
	}
	return nil
}

func clockTime(s string) error {
	if _, err := model.SaidClock(s); err != nil {
		return errors.New("is not a time like 08:00")
	}
	return nil
}

func noneOr(check func(string) error) func(string) error {
	return func(s string) error {
		if s == "none" {
			return nil
		}
		return check(s)
	}
}

func oneOf(words ...string) func(string) error {
	return func(s string) error {
		if !slices.Contains(words, s) {
			return errors.New("is none of " + strings.Join(words, ", "))
		}
		return nil
	}
}

// The checks in known have passed before anything below is called.

func (s *settings) number(name string) int {
	n, _ := strconv.Atoi(s.get(name))
	return n
}

func (s *settings) tolerance() model.Tolerance {
	t, _ := model.ParseTolerance(s.get("tolerance"))
	return t
}

// localeSettings are those that say how days and hours are written.
var localeSettings = []string{"dates", "weekdays", "months", "first_weekday", "clock"}

var dateOrders = map[string]model.DateOrder{"day-month": model.DayMonth, "month-day": model.MonthDay, "iso": model.ISODates}

// locale gives the reader's way of writing, of the settings. Their checks have
// passed.
func (s *settings) locale() model.Locale {
	l := model.DefaultLocale()
	l.Dates = dateOrders[s.get("dates")]
	l.Weekdays, l.Months = words(s.get("weekdays")), words(s.get("months"))
	l.FirstWeekday, _ = model.ParseWeekday(s.get("first_weekday"))
	l.HalfDays = s.get("clock") == "12"
	l.Paper, _ = model.ParsePaper(s.get("paper"))
	return l
}

// words splits a list that is parted by blanks or commas.
func words(s string) []string {
	return strings.FieldsFunc(s, func(r rune) bool { return unicode.IsSpace(r) || r == ',' })
}

// names checks a list of so many different names, or none at all.
func names(n int, of string) func(string) error {
	return func(s string) error {
		list := words(s)
		if len(list) == 0 {
			return nil
		}
		if len(list) != n {
			return fmt.Errorf("has %d names and not the %d %s", len(list), n, of)
		}
		for i, name := range list {
			if slices.Contains(list[:i], name) {
				return fmt.Errorf("has %s twice", name)
			}
			if strings.ContainsFunc(name, unicode.IsControl) {
				return errors.New("has a control character")
			}
		}
		return nil
	}
}

func weekday(s string) error {
	if _, err := model.ParseWeekday(s); err != nil {
		return errors.New("is not a weekday like monday")
	}
	return nil
}
