package calendar

import (
	"testing"
	"time"
)

// TestInstants: RFC 5545, 3.3.5, its two examples from New York; the others
// recomputed from the IANA database (2026f) by the same rule.
func TestInstants(t *testing.T) {
	for _, c := range []struct{ zone, wall, want string }{
		{"America/New_York", "2007-03-11T02:30", "2007-03-11T07:30"}, // never
		{"America/New_York", "2007-11-04T01:30", "2007-11-04T05:30"}, // twice
		{"Europe/London", "2026-03-29T01:30", "2026-03-29T01:30"},
		{"Europe/London", "2026-10-25T01:30", "2026-10-25T00:30"},
		{"Australia/Lord_Howe", "2026-04-05T01:45", "2026-04-04T14:45"}, // by half an hour
		{"Africa/Cairo", "2026-04-24T00:30", "2026-04-23T22:30"},
		{"America/Santiago", "2026-09-06T00:30", "2026-09-06T04:30"},
		{"Europe/Oslo", "2027-06-01T10:00", "2027-06-01T08:00"},
		{"Europe/Oslo", "2027-03-28T10:00", "2027-03-28T08:00"}, // the day itself
		{"Europe/Oslo", "2027-03-27T10:00", "2027-03-27T09:00"}, // the day before
	} {
		zone, err := time.LoadLocation(c.zone)
		if err != nil {
			t.Fatal(err)
		}
		const form = "2006-01-02T15:04"
		wall, err := time.Parse(form, c.wall)
		if err != nil {
			t.Fatal(err)
		}
		if got := Instant(wall, zone).UTC().Format(form); got != c.want {
			t.Errorf("%s in %s is %sZ, want %sZ", c.wall, c.zone, got, c.want)
		}
	}
}

// TestDurations: the forms of RFC 5545, 3.3.6, its two examples first.
func TestDurations(t *testing.T) {
	for s, want := range map[string]*length{"P15DT5H0M20S": {15, 5*time.Hour + 20*time.Second}, "P7W": {49, 0},
		"PT2H30M": {0, 150 * time.Minute}, "+PT90M": {0, 90 * time.Minute}, "-P1DT2H": {-1, -2 * time.Hour},
		"": nil, "P": nil, "2H": nil, "PT2": nil, "P2H": nil, "PTT2H": nil, "PT999999H": nil, "P1D2H": nil, "PT": nil} {
		if got, ok := parseDuration(s); ok != (want != nil) || ok && got != *want {
			t.Errorf("%q is %v, %v", s, got, ok)
		}
	}
}
