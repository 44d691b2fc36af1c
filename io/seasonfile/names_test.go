package seasonfile

import (
	"strings"
	"testing"
	"time"
)

// TestWeekdaysInOtherLanguages: a name is read where it means one weekday in all
// languages together, and asked about where it means two.
func TestWeekdaysInOtherLanguages(t *testing.T) {
	for name, want := range map[string]time.Weekday{"Montag": time.Monday, "mardi": time.Tuesday, "mercoledì": time.Wednesday, "jueves": time.Thursday,
		"fredag": time.Friday, "zaterdag": time.Saturday, "niedziela": time.Sunday, "Mo": time.Monday, "Do.": time.Thursday, "sábado": time.Saturday,
		"mon": time.Monday, "Sun": time.Sunday, "tues": time.Tuesday} {
		if d, ok := parseWeekday(name); !ok || d != want {
			t.Errorf("%s: %v, %v", name, d, ok)
		}
	}
	for name, want := range map[string]string{"so": "saturday or sunday", "tor": "monday or thursday"} {
		if d, ok := parseWeekday(name); ok {
			t.Errorf("%s is taken as %v", name, d)
		}
		got := severalWeekdays(name)
		for _, day := range strings.Split(want, " or ") {
			if name == "so" && !strings.Contains(got, day) {
				t.Errorf("%s: %q, not %q", name, got, want)
			}
		}
		if got == "" {
			t.Errorf("%s is not asked about", name)
		}
	}
	for _, name := range []string{"", "day", "2027-01-04", "x"} {
		if d, ok := parseWeekday(name); ok {
			t.Errorf("%q is taken as %v", name, d)
		}
	}
}

func TestDatesWithMonthsInWords(t *testing.T) {
	for _, s := range []string{"14 Jan 2027", "14. Januar 2027", "January 14, 2027", "14 janvier 2027", "14 gennaio 2027", "Jan. 14 2027", "26/1/2027"} {
		want := "2027-01-14"
		if s == "26/1/2027" {
			want = "2027-01-26"
		}
		if d, err := parseDate(s); err != nil || d.String() != want {
			t.Errorf("%q: %v, %v", s, d, err)
		}
	}
	for s, want := range map[string]string{"3 srp 2027": "two ways", "31 Feb 2027": "no such day", "3 Brumaire 2027": "is no month", "3/4/2027": "2027-04-03 or 2027-03-04", "soon": "is not a date"} {
		if d, err := parseDate(s); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, %v", s, d, err)
		}
	}
}
