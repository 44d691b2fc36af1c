package model

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"
)

var (
	dotted  = regexp.MustCompile(`^(\d{1,2})\.\s*(\d{1,2})\.\s*(\d{4})$`)     // 14.01.2027, by day, month, year in every country that writes so
	yearly  = regexp.MustCompile(`^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})$`)     // 2027/1/14
	stroked = regexp.MustCompile(`^(\d{1,2})/(\d{1,2})/(\d{4})$`)             // which day that is goes by country
	clocked = regexp.MustCompile(`^(\d{1,2})(?:[:.h](\d{2})(?::00)?)?\s*h?$`) // 9:30, 09.30, 9h30, 9 h
)

// bare takes away blanks, and the quotation marks that a word processor makes of those
// of a season file.
func bare(s string) string { return strings.Trim(strings.TrimSpace(s), "“”„‘’«»") }

// SaidDate reads a date as people write it: 2027-01-14, 2027-1-14, 2027/01/14 or
// 14.01.2027. With strokes and the year last it is read where one of its numbers
// can be no month; where it may be either of two days it is refused.
func SaidDate(s string) (Date, error) {
	s = bare(s)
	iso := s
	switch {
	case dotted.MatchString(s):
		m := dotted.FindStringSubmatch(s)
		iso = fmt.Sprintf("%s-%02s-%02s", m[3], m[2], m[1])
	case yearly.MatchString(s):
		m := yearly.FindStringSubmatch(s)
		iso = fmt.Sprintf("%s-%02s-%02s", m[1], m[2], m[3])
	case stroked.MatchString(s):
		m := stroked.FindStringSubmatch(s)
		if a, b := m[1] > "12" && len(m[1]) == 2, m[2] > "12" && len(m[2]) == 2; a != b {
			day, month := m[1], m[2] // the other can be no month
			if b {
				day, month = m[2], m[1]
			}
			iso = fmt.Sprintf("%s-%02s-%02s", m[3], month, day)
			break
		}
		return 0, fmt.Errorf("%q can be read in two ways: %s-%02s-%02s or %s-%02s-%02s", s, m[3], m[2], m[1], m[3], m[1], m[2])
	}
	if _, err := time.Parse(time.DateOnly, iso); err != nil && yearly.MatchString(iso) {
		return 0, fmt.Errorf("%q is no day of the calendar", s)
	}
	d, err := ParseDate(iso)
	if err != nil {
		return 0, fmt.Errorf("%q is not a date like 2027-01-31", s)
	}
	return d, nil
}

// SaidClock reads a time of day as people write it: 09:30, 9:30, 9.30, 9h30 or 9 h.
func SaidClock(s string) (Clock, error) {
	m := clocked.FindStringSubmatch(bare(s))
	if m == nil || m[2] == "" && !strings.HasSuffix(bare(s), "h") {
		return 0, fmt.Errorf("%q is not a time like 09:30", s)
	}
	h, _ := strconv.Atoi(m[1])
	minute, _ := strconv.Atoi(m[2])
	c, err := ParseClock(fmt.Sprintf("%02d:%02d", h, minute))
	if err != nil {
		return 0, fmt.Errorf("%q is not a time like 09:30", s)
	}
	return c, nil
}
