package calendar

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/teambition/rrule-go"
	"pgregory.net/rapid"
)

// Random rules, against the library rrule-go. It has no part in reading: it
// loops for ever on rules such as FREQ=HOURLY;INTERVAL=24;BYHOUR=5 from nine
// o'clock on, and goes on to the year 9999 where a rule never holds.
//
// Left out are rules that the two read otherwise: DTSTART is the first
// occurrence here even where the rule does not hold it, and the weekday of
// BYWEEKNO without BYDAY is DTSTART's (3.3.10, "retrieved from the DTSTART
// property"); the library gives all seven days. Of BYDAY=SU,1MO the library
// wants both at once. BYSETPOS counts in a whole week here (3.3.10, "in one
// interval"); the library counts the first week from DTSTART on. A week 1 that
// begins in December is found by its number 1 in both, by -52 or -53 only here.
func TestRandomRules(t *testing.T) {
	found := 0
	rapid.Check(t, func(t *rapid.T) {
		some := func(part string, least, most int) string {
			if rapid.IntRange(0, 2).Draw(t, "with "+part) > 0 {
				return ""
			}
			list := rapid.SliceOfNDistinct(rapid.IntRange(least, most).Filter(func(n int) bool { return n != 0 || least == 0 }), 1, 4, func(n int) int { return n }).Draw(t, part)
			return ";" + part + "=" + strings.Trim(strings.ReplaceAll(fmt.Sprint(list), " ", ","), "[]")
		}
		freq := rapid.SampledFrom([]string{"YEARLY", "MONTHLY", "WEEKLY", "DAILY", "HOURLY", "MINUTELY"}).Draw(t, "frequency")
		text := fmt.Sprintf("FREQ=%s;INTERVAL=%d;WKST=%s", freq, rapid.IntRange(1, 3).Draw(t, "interval"), rapid.SampledFrom(dayNames).Draw(t, "week start"))
		text += some("BYMONTH", 1, 12)
		days := func(numbered bool) string {
			var list []string
			numbered = numbered && rapid.Bool().Draw(t, "numbered")
			for range rapid.IntRange(1, 3).Draw(t, "days") {
				n := ""
				if numbered {
					n = fmt.Sprint(rapid.SampledFrom([]int{1, 2, 5, -1, -2}).Draw(t, "number"))
				}
				list = append(list, n+rapid.SampledFrom(dayNames).Draw(t, "day"))
			}
			return ";BYDAY=" + strings.Join(list, ",")
		}
		last := time.Date(2029, 1, 1, 0, 0, 0, 0, time.UTC)
		switch freq {
		case "YEARLY":
			switch rapid.IntRange(0, 3).Draw(t, "kind") {
			case 0:
				text += some("BYWEEKNO", -51, 53)
				text += days(false)
			case 1:
				text += some("BYYEARDAY", -366, 366)
			case 2:
				text += days(true)
			}
			text += some("BYHOUR", 0, 23)
		case "MONTHLY":
			text += some("BYMONTHDAY", -31, 31)
			if rapid.Bool().Draw(t, "by day") {
				text += days(true)
			}
			text += some("BYMINUTE", 0, 59)
		case "WEEKLY", "DAILY":
			if rapid.Bool().Draw(t, "by day") {
				text += days(false)
			}
			text += some("BYHOUR", 0, 23)
		case "HOURLY":
			text += some("BYMINUTE", 0, 59)
			last = time.Date(2025, 6, 1, 0, 0, 0, 0, time.UTC)
		case "MINUTELY":
			text = strings.Split(text, ";BYMONTH")[0] // what never holds takes the library hours
			last = time.Date(2025, 3, 3, 0, 0, 0, 0, time.UTC)
		}
		if freq != "HOURLY" && freq != "MINUTELY" && freq != "WEEKLY" && strings.Contains(text, "BYDAY") {
			text += some("BYSETPOS", -3, 3)
		}
		start := time.Date(2025, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, rapid.IntRange(0, 60).Draw(t, "start")).Add(9 * time.Hour)

		option, err := rrule.StrToROption(text)
		if err != nil {
			t.Fatal(text, err)
		}
		option.Dtstart, option.Until = start, last
		library, err := rrule.NewRRule(*option)
		if err != nil {
			t.Skip(text, err)
		}
		want := library.All()
		if len(want) == 0 || !want[0].Equal(start) {
			want = append([]time.Time{start}, want...)
		}
		r, fault := parseRule(1, text, start, false)
		if fault != nil {
			t.Fatal(fault)
		}
		for _, first := range []time.Time{start, start.AddDate(0, 7, 3)} { // entered at its start, and later on
			var got []time.Time
			f := &file{left: mostWork}
			if !f.expand(r, start, utcZone, first, last, func(t time.Time) { got = append(got, t) }) {
				t.Fatal(text, "too much work")
			}
			part := slices.DeleteFunc(slices.Clone(want), func(t time.Time) bool { return t.Before(first) })
			if !slices.EqualFunc(got, part, time.Time.Equal) {
				t.Fatalf("%s from %s, seen from %s:\ngot  %v\nwant %v", text, start, first, got, part)
			}
		}
		found += len(want)
	})
	if found < 1000 {
		t.Errorf("only %d occurrences", found)
	}
}

// Rules that are none.
func TestOddRules(t *testing.T) {
	for _, s := range []string{"", "FREQ", "FREQ=", "FREQ=SOMETIMES", "COUNT=3", "FREQ=DAILY;COUNT=0", "FREQ=DAILY;INTERVAL=0", "FREQ=DAILY;INTERVAL=-1",
		"FREQ=DAILY;FREQ=DAILY", "FREQ=DAILY;UNTIL=soon", "FREQ=DAILY;BYDAY=XX", "FREQ=DAILY;BYDAY=0MO", "FREQ=DAILY;BYDAY=99MO", "FREQ=DAILY;BYMONTH=13",
		"FREQ=DAILY;BYMONTHDAY=0", "FREQ=DAILY;BYHOUR=24", "FREQ=DAILY;BYSETPOS=", "FREQ=DAILY;WKST=2", "FREQ=DAILY;RSCALE=CHINESE", "FREQ=MONTHLY;RSCALE=GREGORIAN;SKIP=ASIDE", "FREQ=DAILY;OTHER=1"} {
		if r, fault := parseRule(7, s, season.From, false); fault == nil || fault.Line != 7 || fault.Text == "" {
			t.Errorf("%q is read as %+v", s, r)
		}
	}
	for _, s := range []string{"FREQ=DAILY;", "freq=weekly;byday=mo,TU", "FREQ=MONTHLY;BYDAY=+1MO,-1SU", "FREQ=YEARLY;RSCALE=GREGORIAN;SKIP=OMIT", "FREQ=YEARLY;RSCALE=GREGORIAN;SKIP=BACKWARD", "FREQ=DAILY;X-OWN=1"} {
		if _, fault := parseRule(1, s, season.From, false); fault != nil {
			t.Errorf("%q: %v", s, fault)
		}
	}
}

// Days that a month lacks, by the steps of RFC 7529 (section 4.1, from memory).
func TestSkip(t *testing.T) {
	for _, c := range []struct{ rule, start, want string }{
		{"FREQ=MONTHLY;SKIP=FORWARD;COUNT=4", "2014-01-31", "2014-01-31 2014-03-01 2014-03-31 2014-05-01"},
		{"FREQ=YEARLY;SKIP=FORWARD;COUNT=4", "2016-02-29", "2016-02-29 2017-03-01 2018-03-01 2019-03-01"},
		{"FREQ=YEARLY;SKIP=BACKWARD;COUNT=3", "2016-02-29", "2016-02-29 2017-02-28 2018-02-28"},
		{"FREQ=MONTHLY;SKIP=OMIT;COUNT=3", "2014-01-31", "2014-01-31 2014-03-31 2014-05-31"},
		{"FREQ=MONTHLY;SKIP=BACKWARD;COUNT=4", "2014-01-31", "2014-01-31 2014-02-28 2014-03-31 2014-04-30"},
		{"FREQ=MONTHLY;SKIP=BACKWARD;BYMONTHDAY=28,30,31;COUNT=6", "2014-01-31", "2014-01-31 2014-02-28 2014-03-28 2014-03-30 2014-03-31 2014-04-28"},
		{"FREQ=MONTHLY;SKIP=FORWARD;BYMONTHDAY=1,31;COUNT=5", "2014-01-31", "2014-01-31 2014-02-01 2014-03-01 2014-03-31 2014-04-01"},
		{"FREQ=MONTHLY;INTERVAL=2;SKIP=FORWARD;BYMONTHDAY=31;COUNT=3", "2014-02-01", "2014-02-01 2014-03-01 2014-05-01"},
		{"FREQ=MONTHLY;SKIP=FORWARD;BYMONTH=2,4;BYMONTHDAY=31;COUNT=4", "2014-02-03", "2014-02-03 2014-03-01 2014-05-01 2015-03-01"},
		{"FREQ=MONTHLY;SKIP=FORWARD;BYMONTHDAY=31;BYDAY=SA;COUNT=3", "2014-01-31", "2014-01-31 2014-03-01 2014-05-31"},
		{"FREQ=MONTHLY;SKIP=BACKWARD;BYMONTHDAY=-31,31;BYSETPOS=-1;COUNT=3", "2014-01-31", "2014-01-31 2014-02-28 2014-03-31"},
	} {
		start, err := time.Parse(time.DateOnly, c.start)
		if err != nil {
			t.Fatal(err)
		}
		r, fault := parseRule(1, "RSCALE=GREGORIAN;"+c.rule, start, false)
		if fault != nil {
			t.Errorf("%s: %v", c.rule, fault)
			continue
		}
		last := time.Date(2020, 1, 1, 0, 0, 0, 0, time.UTC)
		var got []string
		f := &file{left: mostWork}
		f.expand(r, start, utcZone, start, last, func(t time.Time) { got = append(got, t.Format(time.DateOnly)) })
		if strings.Join(got, " ") != c.want {
			t.Errorf("%s from %s: %v, want %s", c.rule, c.start, got, c.want)
		}
	}
	// Entered later on, the day that an earlier month gives is there.
	r, fault := parseRule(1, "FREQ=MONTHLY;RSCALE=GREGORIAN;SKIP=FORWARD", time.Date(2014, 1, 31, 0, 0, 0, 0, time.UTC), false)
	if fault != nil {
		t.Fatal(fault)
	}
	first, n := time.Date(2015, 3, 1, 0, 0, 0, 0, time.UTC), 0
	f := &file{left: mostWork}
	f.expand(r, time.Date(2014, 1, 31, 0, 0, 0, 0, time.UTC), utcZone, first, first.AddDate(0, 0, 5), func(time.Time) { n++ })
	if n != 1 {
		t.Errorf("%d times on 1 to 6 March", n)
	}
}
