package model

import (
	"strings"
	"testing"
	"time"
)

func TestSaidDates(t *testing.T) {
	day := NewDate(2027, time.January, 4)
	for _, s := range []string{"2027-01-04", "2027-1-4", "2027/01/04", "2027.1.4", "04.01.2027", "4.1.2027", "4. 1. 2027", " 2027-01-04 ", "“2027-01-04”"} {
		if d, err := SaidDate(s); err != nil || d != day {
			t.Errorf("%q: %v, %v", s, d, err)
		}
	}
	for s, want := range map[string]string{"26/1/2027": "2027-01-26", "1/26/2027": "2027-01-26", "31/12/2027": "2027-12-31", "12/31/2027": "2027-12-31"} {
		if d, err := SaidDate(s); err != nil || d.String() != want {
			t.Errorf("%q: %v, %v", s, d, err)
		}
	}
	for s, want := range map[string]string{"13/14/2027": "in two ways", "4/1/2027": "2027-01-04 or 2027-04-01", "31.02.2027": "no day of the calendar", "2027-02-30": "no day", "soon": "is not a date like", "4.1.27": "is not a date like", "": "is not a date"} {
		if d, err := SaidDate(s); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, %v", s, d, err)
		}
	}
}

func TestSaidClocks(t *testing.T) {
	for s, want := range map[string]Clock{"09:30": 570, "9:30": 570, "9.30": 570, "09.30": 570, "9h30": 570, "10.00": 600, "19:30:00": 1170, "9 h": 540, "24:00": 1440, "„9:30“": 570} {
		if c, err := SaidClock(s); err != nil || c != want {
			t.Errorf("%q: %v, %v", s, c, err)
		}
	}
	for _, s := range []string{"", "9", "25:00", "9:60", "9.3", "half past", "24:30"} {
		if c, err := SaidClock(s); err == nil {
			t.Errorf("%q is taken as %v", s, c)
		}
	}
}
