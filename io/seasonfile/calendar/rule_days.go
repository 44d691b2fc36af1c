package calendar

import (
	"slices"
	"time"
)

// holdsDay tells whether a day passes every part of the rule that speaks of
// days. A part that the RFC has expand a longer period is the same as one that
// picks among all its days.
func (r *rule) holdsDay(t time.Time) bool {
	y, m, d := t.Date()
	if len(r.month) > 0 && !slices.Contains(r.month, int(m)) {
		return false
	}
	inMonth := daysIn(y, m)
	if len(r.monthDay) > 0 && !slices.Contains(r.monthDay, d) && !slices.Contains(r.monthDay, d-inMonth-1) {
		return false
	}
	return r.holdsOther(t)
}

// weekOf gives the number of a day's week, and how many its year has. Week 1
// is the first with four days in the year (3.3.10, BYWEEKNO).
func (r *rule) weekOf(t time.Time) (n, of int) {
	first := r.weekOne(t.Year())
	switch next := r.weekOne(t.Year() + 1); {
	case t.Before(first):
		next, first = first, r.weekOne(t.Year()-1)
		return days(t.Sub(first))/7 + 1, days(next.Sub(first)) / 7
	case !t.Before(next):
		first, next = next, r.weekOne(t.Year()+2)
		return 1, days(next.Sub(first)) / 7
	default:
		return days(t.Sub(first))/7 + 1, days(next.Sub(first)) / 7
	}
}

// weekOne gives the first day of a year's week 1: of the week that holds 4
// January.
func (r *rule) weekOne(year int) time.Time {
	return r.startOfWeek(time.Date(year, 1, 4, 0, 0, 0, 0, time.UTC))
}

func (r *rule) startOfWeek(t time.Time) time.Time {
	return t.AddDate(0, 0, -(int(t.Weekday())-int(r.weekStart)+7)%7)
}

func days(d time.Duration) int { return int(d / (24 * time.Hour)) }

func leap(y int) int {
	if y%4 == 0 && y%100 != 0 || y%400 == 0 {
		return 1
	}
	return 0
}

func daysIn(y int, m time.Month) int {
	switch m {
	case time.February:
		return 28 + leap(y)
	case time.April, time.June, time.September, time.November:
		return 30
	}
	return 31
}

// skips gives the day that takes the place of those that the rule wants and a month
// lacks; false: there is none. Then only the parts after BYMONTHDAY are asked (RFC 7529,
// section 4.1), and days that are counted from the end are never lacking.
func (r *rule) skips(y int, m time.Month) (day time.Time, ok bool) {
	n := daysIn(y, m)
	if r.skip != "BACKWARD" && r.skip != "FORWARD" || len(r.monthDay) == 0 || r.monthDay[len(r.monthDay)-1] <= n ||
		len(r.month) > 0 && !slices.Contains(r.month, int(m)) {
		return day, false
	}
	if r.skip == "FORWARD" {
		n++
	}
	day = time.Date(y, m, n, 0, 0, 0, 0, time.UTC)
	return day, r.holdsOther(day)
}
