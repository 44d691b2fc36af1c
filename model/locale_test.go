package model

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"
)

var (
	norwegian = Locale{FirstWeekday: time.Monday, Weekdays: []string{"man", "tir", "ons", "tor", "fre", "lør", "søn"},
		Months: []string{"jan", "feb", "mars", "april", "mai", "juni", "juli", "aug", "sep", "okt", "nov", "des"}}
	american = Locale{Dates: MonthDay, FirstWeekday: time.Sunday, HalfDays: true, Paper: Letter}
)

func TestDatesInALocale(t *testing.T) {
	d := NewDate(2027, time.February, 7) // a Sunday
	iso := DefaultLocale()
	iso.Dates = ISODates
	for _, c := range []struct {
		name                   string
		l                      Locale
		day, year, brief, long string
	}{
		{"default", DefaultLocale(), "Sun 7 Feb", "Sun 7 Feb 2027", "7 Feb", "Sunday 7 February 2027"},
		{"month first", american, "Sun, Feb 7", "Sun, Feb 7, 2027", "Feb 7", "Sunday, February 7, 2027"},
		{"ISO", iso, "Sun 2027-02-07", "Sun 2027-02-07", "2027-02-07", "Sunday 2027-02-07"},
		{"own names", norwegian, "søn 7 feb", "søn 7 feb 2027", "7 feb", "søn 7 feb 2027"},
	} {
		if day, brief, long := c.l.Day(d), c.l.Brief(d), c.l.Long(d); day != c.day || brief != c.brief || long != c.long {
			t.Errorf("%s: %q, %q, %q; want %q, %q, %q", c.name, day, brief, long, c.day, c.brief, c.long)
		}
		if year := c.l.DayYear(d); year != c.year {
			t.Errorf("%s: %q; want %q", c.name, year, c.year)
		}
		if s := c.l.Day(0) + c.l.DayYear(0) + c.l.Brief(0) + c.l.Long(0); s != "" {
			t.Errorf("%s: no date is written %q", c.name, s)
		}
	}
}

func TestClockInALocale(t *testing.T) {
	for _, c := range []struct {
		at        Clock
		whole, am string
	}{
		{0, "00:00", "12:00 am"}, {9*60 + 5, "09:05", "9:05 am"}, {12 * 60, "12:00", "12:00 pm"},
		{12*60 + 59, "12:59", "12:59 pm"}, {13 * 60, "13:00", "1:00 pm"}, {24 * 60, "24:00", "12:00 am"},
	} {
		if a, b := DefaultLocale().Clock(c.at), american.Clock(c.at); a != c.whole || b != c.am {
			t.Errorf("%d: %q, %q; want %q, %q", c.at, a, b, c.whole, c.am)
		}
	}
	for _, c := range []struct {
		s         Span
		whole, am string
	}{
		{Span{9*60 + 30, 10 * 60}, "09:30-10:00", "9:30-10:00 am"},
		{Span{11 * 60, 12*60 + 30}, "11:00-12:30", "11:00 am-12:30 pm"},
		{Span{14 * 60, 24 * 60}, "14:00-24:00", "2:00 pm-12:00 am"},
		{Span{0, 24 * 60}, "00:00-24:00", "12:00 am-12:00 am"},
	} {
		if a, b := DefaultLocale().Hours(c.s), american.Hours(c.s); a != c.whole || b != c.am {
			t.Errorf("%s: %q, %q; want %q, %q", c.s, a, b, c.whole, c.am)
		}
	}
}

// A reader's week has seven days, begins on the first weekday, holds the date,
// and has the number of the ISO week it shares most days with.
func TestWeekOfALocale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := Locale{FirstWeekday: time.Weekday(rapid.IntRange(0, 6).Draw(t, "first"))}
		d := Date(rapid.IntRange(20000, 30000).Draw(t, "date"))
		week := l.WeekOf(d)
		if week.Days() != 7 || !week.Holds(d) || week.From.Weekday() != l.FirstWeekday {
			t.Fatalf("%s lies in %s", d, week)
		}
		if l.Week()[0] != l.FirstWeekday || l.Week()[6] != week.To.Weekday() {
			t.Fatalf("a week from %s is %v", l.FirstWeekday, l.Week())
		}
		year, number := l.ISOWeekOf(d)
		shared := 0
		for x := week.From; x <= week.To; x++ {
			if y, n := x.ISOWeek(); y == year && n == number {
				shared++
			}
		}
		if shared < 4 {
			t.Fatalf("%s is called week %d of %d and shares %d days with it", week, number, year, shared)
		}
		if l.FirstWeekday == time.Monday {
			if y, n := d.ISOWeek(); y != year || n != number {
				t.Fatalf("%s: week %d, not %d", d, number, n)
			}
		}
	})
}

// Sizes: ISO 216 and ANSI, in points, as published to a thousandth.
func TestPaperSizes(t *testing.T) {
	for p, want := range map[Paper][2]float64{
		A4: {595.276, 841.890}, A3: {841.890, 1190.551}, A2: {1190.551, 1683.780}, Letter: {612, 792}, Tabloid: {792, 1224},
	} {
		short, long := p.Size()
		if math.Abs(short-want[0]) > 0.001 || math.Abs(long-want[1]) > 0.001 {
			t.Errorf("%s: %.3f x %.3f", p, short, long)
		}
		if q, err := ParsePaper(string(p)); err != nil || q != p {
			t.Errorf("%s reads as %q, %v", p, q, err)
		}
		if a, b := p.Larger().Size(); a*b < short*long {
			t.Errorf("%s is followed by the smaller %s", p, p.Larger())
		}
	}
	if _, err := ParsePaper("foolscap"); err == nil {
		t.Error("foolscap is taken")
	}
}
