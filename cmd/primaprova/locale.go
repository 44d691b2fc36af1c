package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"primaprova/model"
)

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
