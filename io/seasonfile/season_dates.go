package seasonfile

import (
	"fmt"
	"regexp"
	"strings"

	"primaprova/model"
)

var (
	yearless = regexp.MustCompile(`^(?:\d{1,2}\.\s?\d{1,2}\.?|\d{1,2}/\d{1,2}|\d{1,2}\.?\s?\p{L}+\.?|\p{L}+\.?\s\d{1,2})$`)
	twoDigit = regexp.MustCompile(`^(\d{1,2}[./]\d{1,2}[./])(\d{2})$`)
)

// date reads a date, with strokes in the order that is known, with a year of two
// digits or without one.
func (s *sheets) date(f field, to *model.Date) {
	value(s.r, f, to, func(text string) (model.Date, error) {
		if m := twoDigit.FindStringSubmatch(text); m != nil {
			text = m[1] + "20" + m[2]
		}
		if !yearless.MatchString(text) {
			return s.dated(text)
		}
		for _, year := range []int{s.base.Time().Year(), s.base.Time().Year() + 1} {
			d, err := s.dated(withYear(text, year))
			if err != nil || d >= s.base {
				return d, err
			}
		}
		return 0, advised{text: "is not a date like 2027-01-31"}
	})
}

func withYear(s string, year int) string {
	switch {
	case strings.Contains(s, "/"):
		return fmt.Sprintf("%s/%d", s, year)
	case strings.ContainsFunc(s, func(r rune) bool { return r >= 'A' && r != '.' }):
		return fmt.Sprintf("%s %d", s, year)
	}
	return fmt.Sprintf("%s.%d", strings.TrimSuffix(s, "."), year)
}

func (s *sheets) dated(text string) (model.Date, error) {
	if strings.Count(text, "/") == 2 && s.order != "" {
		return parseForeignDate(text, s.order)
	}
	return parseDate(text)
}
