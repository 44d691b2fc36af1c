package seasonfile

import (
	"fmt"
	"time"

	"primaprova/io/seasonfile/calendar"
	"primaprova/model"
)

// source is a calendar or a table that the season file names.
type source struct {
	file field
	path string
	zone *time.Location // the season's: of times without a zone, and of whole days
	// Stands in for zones that nobody knows, and for times without one; nil
	// where the player named none.
	instead *time.Location
	columns map[string]string // of a table: what it calls the columns
	dates   string            // of a table: how it writes dates
	faulty  string            // what is wanted of a calendar at fault, one of ways; "": refuse
	spare   bool              // who works from a plan that stands can do without it
}

// reader gives the zone in which dates and times without a zone are read.
func (s *source) reader() *time.Location {
	if s.instead != nil {
		return s.instead
	}
	return s.zone
}

// source reads {file: …, time_zone: …} and whatever else the table holds, or a
// file name alone. It gives false where there is nothing to be read.
func (r *reader) source(f field, s *model.Season, keys ...key) (source, table, bool) {
	out, t := source{file: f}, table{good: true}
	if f.kind() != "a single value" {
		there := false
		t = r.table(f, append([]key{
			{"file", true, func(f field) bool { out.file, there = f, true; return true }},
			with("time_zone", func(f field) {
				var name string
				if r.timeZone(f, &name) {
					out.instead, _ = time.LoadLocation(name)
				}
			}),
			with("faulty", func(f field) { value(r, f, &out.faulty, oneOf(ways)) }),
		}, keys...)...)
		if !there {
			return out, t, false
		}
	}
	zone, err := time.LoadLocation(s.TimeZone)
	if err != nil || s.TimeZone == "" || s.From == 0 || s.To < s.From || s.Days() > model.MostDays {
		return out, t, false // reported where it stands; without it nothing can be placed
	}
	out.zone = zone
	return out, t, true
}

// when is a run of time on the season's clock: parts of days, in order.
type when struct {
	date model.Date
	span model.Span
}

// spread cuts a run of time into the days of a zone, as far as they lie in the
// season. Minutes that have begun are counted whole. On a day whose clock is put
// back the same time on the clock comes twice: then what can't be told apart is
// taken for busy.
func spread(from, to time.Time, zone *time.Location, s *model.Season) []when {
	var out []when
	if first := calendar.Instant(s.From.Time(), zone); from.Before(first) {
		from = first
	}
	for d := model.DateIn(from, zone); from.Before(to) && d <= s.To; d++ {
		midnight := calendar.Instant((d + 1).Time(), zone)
		end := to
		if midnight.Before(to) {
			end = midnight
		}
		if from.Before(end) {
			long := model.Clock((end.Sub(from) + time.Minute - 1) / time.Minute)
			a, b := clockIn(from, zone, d), clockUp(end, zone, d)
			out = append(out, when{d, model.Span{From: max(0, min(a, b-long)), To: min(24*60, max(b, a+long))}})
			from = end
		}
	}
	return out
}

// clockIn gives the minute of a day at an instant, 24:00 and more when it lies
// on the next.
func clockIn(t time.Time, zone *time.Location, d model.Date) model.Clock {
	local := t.In(zone)
	return model.Clock(24*60*int(model.DateIn(t, zone)-d) + 60*local.Hour() + local.Minute())
}

// clockUp is clockIn with minutes that have begun counted whole.
func clockUp(t time.Time, zone *time.Location, d model.Date) model.Clock {
	return clockIn(t.Add(time.Minute-time.Nanosecond), zone, d)
}

func runs(from, to model.Date) string { return fmt.Sprint(model.Range{From: from, To: to}) }

// WindowsZone gives the IANA name of the time zone that Windows calls so, "" if there is none.
func WindowsZone(name string) string { return calendar.WindowsZone(name) }
