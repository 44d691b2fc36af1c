package seasonfile

import (
	"fmt"
	"strings"
	"time"

	"primaprova/model"
)

// weekdayNames are the days as they are written, from Sunday as in package time.
var weekdayNames = []string{"sunday", "monday", "tuesday", "wednesday", "thursday", "friday", "saturday"}

// parseWeekday reads a weekday by its name or by its first letters, three at least, or
// by a name in another language that means one weekday only.
func parseWeekday(s string) (time.Weekday, bool) {
	s = strings.TrimSuffix(strings.ToLower(strings.TrimSpace(s)), ".")
	for i, name := range weekdayNames {
		if s == name || len(s) >= 3 && strings.HasPrefix(name, s) || s == name+"s" {
			return time.Weekday(i), true
		}
	}
	if f := foreignNames().weekdays[s]; s != "" && len(f) == 1 {
		return time.Weekday(f[0]), true
	}
	return 0, false
}

// Weekday reads a weekday as a season file does.
func Weekday(s string) (time.Weekday, error) {
	if d, ok := parseWeekday(s); ok {
		return d, nil
	}
	if two := severalWeekdays(s); two != "" {
		return 0, fmt.Errorf("%q can be %s", s, two)
	}
	return 0, fmt.Errorf("%q is no weekday like monday", s)
}

const everyDay = "every day"

// byDay reads a value that may differ by weekday and date: the value alone, or
// {every day: …, saturday: …, 2027-03-05: …, 2027-04-01..2027-04-05: …}.
func byDay[T any](r *reader, f field, to *model.ByDay[T], one func(field, *T) bool, alone string) {
	if f.kind() == alone {
		one(f, &to.Every)
		return
	}
	in, _ := r.entries(f)
	for _, e := range in {
		name := strings.TrimSpace(e.key.node.Value)
		if name == everyDay {
			one(e.value, &to.Every)
			continue
		}
		if day, ok := parseWeekday(name); ok {
			var v T
			if one(e.value, &v) {
				if to.Weekday == nil {
					to.Weekday = map[time.Weekday]T{}
				}
				to.Weekday[day] = v
			}
			continue
		}
		key := field{path: e.key.path, place: e.key.place}
		when, err := parseRange(name)
		if two := severalWeekdays(name); err != nil && two != "" {
			r.wrong(key, two, "is the name of more than one weekday")
			continue
		}
		if err != nil && !strings.ContainsAny(name, "0123456789") {
			advice := Nearest(strings.ToLower(name), append([]string{everyDay}, weekdayNames...))
			r.wrong(key, advice, "is not %s, a weekday, a date or a range of dates", everyDay)
			continue
		}
		if err != nil {
			r.wrong(key, "", "%s", err.Error())
			continue
		}
		var v T
		if one(e.value, &v) {
			to.Dates = append(to.Dates, model.Dated[T]{Range: when, Value: v})
		}
	}
}
