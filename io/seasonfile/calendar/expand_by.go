package calendar

import (
	"slices"
	"time"
)

func (x *expansion) years(from time.Time) {
	for y := aligned(x.start.Year(), from.Year(), x.r.interval); ; y += x.r.interval {
		day := time.Date(y, 1, 1, 0, 0, 0, 0, time.UTC)
		if y > lastYear || x.over(day) {
			return
		}
		for m := time.January; m <= time.December; m++ {
			if len(x.r.month) > 0 && !slices.Contains(x.r.month, int(m)) {
				continue
			}
			x.month(y, m)
		}
		x.close()
	}
}

func (x *expansion) months(from time.Time) {
	number := func(t time.Time) int { return 12*t.Year() + int(t.Month()) - 1 }
	for n := aligned(number(x.start), number(from.AddDate(0, 0, -1)), x.r.interval); ; n += x.r.interval {
		day := time.Date(n/12, time.Month(n%12+1), 1, 0, 0, 0, 0, time.UTC)
		if n/12 > lastYear || x.over(day) {
			return
		}
		x.month(day.Year(), day.Month())
		x.close()
	}
}

// month enters a month's days, and the one that stands for those it lacks.
func (x *expansion) month(y int, m time.Month) {
	instead, ok := x.r.skips(y, m)
	for i := range daysIn(y, m) {
		day := time.Date(y, m, i+1, 0, 0, 0, 0, time.UTC)
		if x.add(day); ok && day.Equal(instead) && !x.r.holdsDay(day) {
			x.times(day)
		}
	}
	if ok && instead.Month() != m {
		x.times(instead)
	}
}

func (x *expansion) weeks(from time.Time) {
	begin := x.r.startOfWeek(midnight(x.start))
	skip := aligned(0, days(midnight(from).Sub(begin)), 7*x.r.interval)
	for day := begin.AddDate(0, 0, skip); !x.over(day); day = day.AddDate(0, 0, 7*x.r.interval) {
		for i := range 7 {
			x.add(day.AddDate(0, 0, i))
		}
		x.close()
	}
}

func (x *expansion) eachDay(from time.Time) {
	begin := midnight(x.start)
	skip := aligned(0, days(midnight(from).Sub(begin)), x.r.interval)
	for day := begin.AddDate(0, 0, skip); !x.over(day); day = day.AddDate(0, 0, x.r.interval) {
		x.add(day)
		x.close()
	}
}

// clock walks through rules of hours, minutes and seconds, day by day: on a day
// that does not hold no time is looked at.
func (x *expansion) clock(from time.Time) {
	unit := map[frequency]int{hourly: 3600, minutely: 60, secondly: 1}[x.r.freq]
	first := x.start.Truncate(time.Duration(unit) * time.Second).Unix() // the period that holds the start
	step := int64(unit) * int64(x.r.interval)
	for day := midnight(from); !x.over(day); day = day.AddDate(0, 0, 1) {
		if !x.look() || !x.r.holdsDay(day) {
			continue
		}
		at := first
		if d := day.Unix(); d > at {
			at += (d - at + step - 1) / step * step
		}
		for end := day.Unix() + 86400; at < end && x.look(); at += step {
			x.period(time.Unix(at, 0).UTC())
		}
	}
}
