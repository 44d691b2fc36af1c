package model

import (
	"fmt"
	"time"
)

// Date is a civil day: the number of days since 1970-01-01. The zero Date
// stands for "no date"; no season reaches back to 1970.
type Date int32

// NewDate gives the date of a year, month (1..12) and day (1..31). Days beyond
// the month's end run on into the next month, as in package time.
func NewDate(year int, month time.Month, day int) Date {
	return dateOf(time.Date(year, month, day, 0, 0, 0, 0, time.UTC))
}

func dateOf(t time.Time) Date {
	s := t.Unix()
	d := s / 86400
	if s%86400 < 0 {
		d--
	}
	return Date(d)
}

// DateIn gives the civil date that an instant has in a time zone.
func DateIn(t time.Time, zone *time.Location) Date {
	y, m, d := t.In(zone).Date()
	return NewDate(y, m, d)
}

// ParseDate reads a date of the form 2027-01-31 (ISO 8601, extended).
func ParseDate(s string) (Date, error) {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		return 0, fmt.Errorf("%q is not a date like 2027-01-31", s)
	}
	d := dateOf(t)
	if d == 0 {
		return 0, fmt.Errorf("%q is out of range", s)
	}
	return d, nil
}

// Time gives midnight UTC of the date, for formatting and arithmetic only.
func (d Date) Time() time.Time { return time.Unix(int64(d)*86400, 0).UTC() }

// IsZero tells whether the date is absent.
func (d Date) IsZero() bool { return d == 0 }

// Weekday gives the day of the week.
func (d Date) Weekday() time.Weekday { return d.Time().Weekday() }

// ISOWeek gives the ISO 8601 week-numbering year and week.
func (d Date) ISOWeek() (year, week int) { return d.Time().ISOWeek() }

// Monday gives the Monday on or before the date: the start of its ISO week.
func (d Date) Monday() Date { return d - Date((int(d.Weekday())+6)%7) }

// String writes 2027-01-31, or nothing for the zero Date.
func (d Date) String() string {
	if d == 0 {
		return ""
	}
	return d.Time().Format(time.DateOnly)
}

// MarshalText writes the date as String does.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads what MarshalText wrote.
func (d *Date) UnmarshalText(b []byte) error {
	if len(b) == 0 {
		*d = 0
		return nil
	}
	v, err := ParseDate(string(b))
	*d = v
	return err
}

// Range is a run of days; both ends belong to it.
type Range struct{ From, To Date }

// Holds tells whether the date lies in the range.
func (r Range) Holds(d Date) bool { return r.From <= d && d <= r.To }

// Days gives the number of days, 0 for a range that ends before it begins.
func (r Range) Days() int {
	if r.To < r.From {
		return 0
	}
	return int(r.To-r.From) + 1
}

// String writes 2027-01-31 or 2027-01-31..2027-02-02.
func (r Range) String() string {
	if r.From == r.To {
		return r.From.String()
	}
	return r.From.String() + ".." + r.To.String()
}
