package ical

import (
	"math/rand/v2"
	"os"
	"testing"
	"time"

	"primaprova/model"
)

const utcForm = "2006-01-02T15:04:05Z"

func load(t testing.TB, name string) *time.Location {
	t.Helper()
	zone, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return zone
}

func parse(t testing.TB, date, clock string) (model.Date, model.Clock) {
	t.Helper()
	d, err := model.ParseDate(date)
	if err != nil {
		t.Fatal(err)
	}
	c, err := model.ParseClock(clock)
	if err != nil {
		t.Fatal(err)
	}
	return d, c
}

type localTime struct{ name, zone, date, clock, want string }

// New York: printed in RFC 5545, section 3.3.5. The others: recomputed from
// the IANA rules (2026f).
var published = []localTime{
	{"never", "America/New_York", "2007-03-11", "02:30", "2007-03-11T07:30:00Z"},
	{"twice", "America/New_York", "2007-11-04", "01:30", "2007-11-04T05:30:00Z"},
	{"never", "Europe/London", "2026-03-29", "01:30", "2026-03-29T01:30:00Z"},
	{"twice", "Europe/London", "2026-10-25", "01:30", "2026-10-25T00:30:00Z"},
	{"twice, by half an hour", "Australia/Lord_Howe", "2026-04-05", "01:45", "2026-04-04T14:45:00Z"},
	{"never, at midnight", "Africa/Cairo", "2026-04-24", "00:30", "2026-04-23T22:30:00Z"},
	{"never, at midnight", "America/Santiago", "2026-09-06", "00:30", "2026-09-06T04:30:00Z"},
}

func TestInstant(t *testing.T) {
	for _, c := range append([]localTime{
		// By the same rule; from the IANA rules, recomputed by hand.
		{"just before the gap", "Europe/London", "2026-03-29", "00:59", "2026-03-29T00:59:00Z"},
		{"the gap's first minute", "Europe/London", "2026-03-29", "01:00", "2026-03-29T01:00:00Z"},
		{"just after the gap", "Europe/London", "2026-03-29", "02:00", "2026-03-29T01:00:00Z"},
		{"just before it comes twice", "Europe/London", "2026-10-25", "00:59", "2026-10-24T23:59:00Z"},
		{"the last that comes twice", "Europe/London", "2026-10-25", "01:59", "2026-10-25T00:59:00Z"},
		{"just after it came twice", "Europe/London", "2026-10-25", "02:00", "2026-10-25T02:00:00Z"},
		{"end of the day", "Europe/London", "2026-10-24", "24:00", "2026-10-24T23:00:00Z"},
		{"a day that never was", "Pacific/Apia", "2011-12-30", "12:00", "2011-12-30T22:00:00Z"},
		{"no changes", "UTC", "2026-03-29", "01:30", "2026-03-29T01:30:00Z"},
	}, published...) {
		d, clock := parse(t, c.date, c.clock)
		if got := Instant(d, clock, load(t, c.zone)).UTC().Format(utcForm); got != c.want {
			t.Errorf("%s, %s %s (%s): %s, want %s", c.zone, c.date, c.clock, c.name, got, c.want)
		}
	}
}

func TestClear(t *testing.T) {
	london, howe := load(t, "Europe/London"), load(t, "Australia/Lord_Howe")
	for _, c := range []struct {
		zone *time.Location
		utc  string
		want bool
	}{
		{london, "2026-10-24T23:59:00Z", true},
		{london, "2026-10-25T00:00:00Z", false}, // 01:00, first
		{london, "2026-10-25T00:59:00Z", false},
		{london, "2026-10-25T01:00:00Z", false}, // 01:00, second
		{london, "2026-10-25T01:59:00Z", false},
		{london, "2026-10-25T02:00:00Z", true},
		{london, "2026-03-29T01:00:00Z", true},
		{howe, "2026-04-04T14:29:00Z", true}, // 01:29
		{howe, "2026-04-04T14:30:00Z", false},
		{howe, "2026-04-04T15:29:00Z", false},
		{howe, "2026-04-04T15:30:00Z", true},
		{time.UTC, "2026-04-04T15:30:00Z", true},
	} {
		at, err := time.Parse(utcForm, c.utc)
		if err != nil {
			t.Fatal(err)
		}
		if got := clear(at, c.zone); got != c.want {
			t.Errorf("%s %s: clear %v", c.zone, c.utc, got)
		}
	}
}

// zones have every kind of change: north, south, half an hour, at midnight,
// the date line, given up, negative summer time, none.
var zones = []string{
	"Europe/Oslo", "Europe/London", "Europe/Dublin", "America/New_York", "America/Santiago", "America/Sao_Paulo",
	"America/St_Johns", "Africa/Cairo", "Africa/Casablanca", "Asia/Kolkata", "Asia/Gaza", "Asia/Tehran", "Asia/Pyongyang",
	"Australia/Lord_Howe", "Antarctica/Troll", "Pacific/Apia", "Pacific/Chatham", "Pacific/Kwajalein", "UTC",
}

// Every change of every zone from 1980 to 2036 and the minutes around it,
// against Python's zoneinfo.
func TestInstantsAgreeWithZoneinfo(t *testing.T) {
	if _, err := os.Stat(rules); err != nil {
		t.Fatal("the reference's time zone rules are not there; fetch them with: make deps")
	}
	r := rand.New(rand.NewPCG(1, 2))
	var q request
	var want []string
	for _, name := range zones {
		zone := load(t, name)
		try := func(at time.Time) {
			d, c := model.DateIn(at, time.UTC), model.Clock(60*at.Hour()+at.Minute())
			y, m, day := at.Date()
			q.Instants = append(q.Instants, [5]any{name, y, int(m), day, int(c)})
			want = append(want, Instant(d, c, zone).UTC().Format(utcForm))
		}
		for _, change := range changes(zone, time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC), time.Date(2036, 1, 1, 0, 0, 0, 0, time.UTC)) {
			_, offset := change.Zone()
			wall := change.UTC().Add(time.Duration(offset) * time.Second)
			for range 12 {
				try(wall.Add(time.Duration(r.IntN(300)-150) * time.Minute))
			}
		}
		for range 50 {
			try(time.Unix(r.Int64N(1800000000)+315532800, 0).UTC())
		}
	}
	got := ask(t, q).Instants
	bad := 0
	for i := range want {
		if got[i] != want[i] {
			if bad++; bad <= 10 {
				t.Errorf("%v: %s, zoneinfo %s", q.Instants[i], want[i], got[i])
			}
		}
	}
	t.Logf("%d local times, %d differ", len(want), bad)
}
