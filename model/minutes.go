package model

import (
	"fmt"
	"regexp"
	"strconv"
)

// Minutes is a length of time in whole minutes.
type Minutes int

// String writes "75 min".
func (m Minutes) String() string { return strconv.Itoa(int(m)) + " min" }

// Hours writes "1:15", for tables.
func (m Minutes) Hours() string {
	sign := ""
	if m < 0 {
		sign, m = "-", -m
	}
	return fmt.Sprintf("%s%d:%02d", sign, m/60, m%60)
}

// ToStep rounds to the nearest whole number of steps, halves upwards, and never
// below one step unless m is 0 or less: a visit that is wanted lasts a step at
// least. Step must be 1 or more.
func (m Minutes) ToStep(step Minutes) Minutes {
	if m <= 0 {
		return 0
	}
	return max(step, (m+step/2)/step*step)
}

var lengthForm = regexp.MustCompile(`^\s*(?:(\d{1,4})\s*h(?:ours?)?)?\s*(?:(\d{1,6})\s*(?:min(?:utes?)?)?)?\s*$`)

var tenthsForm = regexp.MustCompile(`^\s*(\d{1,4})[.,](\d{1,2})\s*h(?:ours?)?\s*$`)

// ParseMinutes reads "80 min", "1 h 20 min", "2 h", "1.5 h" (whole minutes only) or
// a bare number of minutes.
func ParseMinutes(s string) (Minutes, error) {
	if p := tenthsForm.FindStringSubmatch(s); p != nil {
		h, _ := strconv.Atoi(p[1])
		part, _ := strconv.Atoi((p[2] + "0")[:2])
		if 60*part%100 == 0 {
			return Minutes(60*h + 60*part/100), nil
		}
	}
	p := lengthForm.FindStringSubmatch(s)
	if p == nil || p[1] == "" && p[2] == "" {
		return 0, fmt.Errorf("%q is not a length like 80 min or 1 h 20 min", s)
	}
	var total int
	if p[1] != "" {
		h, _ := strconv.Atoi(p[1])
		total = 60 * h
	}
	if p[2] != "" {
		m, _ := strconv.Atoi(p[2])
		total += m
	}
	return Minutes(total), nil
}

// Clock is a local time of day in minutes after midnight, 0..1440.
type Clock int

// ParseClock reads "09:30" (24 hours; "24:00" is the end of the day).
func ParseClock(s string) (Clock, error) {
	var h, m int
	if len(s) != 5 || s[2] != ':' {
		return 0, fmt.Errorf("%q is not a time like 09:30", s)
	}
	h, err1 := strconv.Atoi(s[:2])
	m, err2 := strconv.Atoi(s[3:])
	if err1 != nil || err2 != nil || h < 0 || m < 0 || m > 59 || h > 24 || h == 24 && m > 0 {
		return 0, fmt.Errorf("%q is not a time like 09:30", s)
	}
	return Clock(60*h + m), nil
}

// String writes "09:30".
func (c Clock) String() string { return fmt.Sprintf("%02d:%02d", int(c)/60, int(c)%60) }

// MarshalText writes the clock as String does.
func (c Clock) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// UnmarshalText reads what MarshalText wrote.
func (c *Clock) UnmarshalText(b []byte) error {
	v, err := ParseClock(string(b))
	*c = v
	return err
}

// Span is a run of clock time inside one day: From belongs to it, To does not.
type Span struct {
	From Clock `json:"from"`
	To   Clock `json:"to"`
}

// Length gives the span's minutes.
func (s Span) Length() Minutes { return Minutes(s.To - s.From) }

// String writes "09:30-12:30".
func (s Span) String() string { return s.From.String() + "-" + s.To.String() }

// Percent writes a chance. What never failed in so many runs is still not certain.
func Percent(share float64) string {
	switch {
	case share > 0.995:
		return "over 99 %"
	case share < 0.005:
		return "under 1 %"
	}
	return fmt.Sprintf("%.0f %%", 100*share)
}
