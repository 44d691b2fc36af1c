package model

import (
	"slices"
	"time"
)

// Other is playing that belongs to no programme: lessons given, chamber music,
// services in church. It counts in a day's and a week's load as services do, and
// takes of the cap and of the hours; nothing of it is planned.
type Other struct {
	Title    string
	Weekdays []time.Weekday
	Dates    []Range
	At       Span    // when; empty: some time of the day
	Lasts    Minutes // its length where At is empty
	Playing  int     // share of it with the instrument sounding, in percent
}

// On tells whether it takes place on a date.
func (o *Other) On(d Date) bool { return slices.Contains(o.Weekdays, d.Weekday()) || inAny(o.Dates, d) }

// PlayingMinutes gives the minutes that count against the day's cap, rounded to
// the nearest minute.
func (o *Other) PlayingMinutes() Minutes {
	lasts := o.Lasts
	if o.At.To > o.At.From {
		lasts = o.At.Length()
	}
	return (lasts*Minutes(o.Playing) + 50) / 100
}

// OtherOn gives the other playing of a date; none of days on which nothing was
// played at all.
func (s *Season) OtherOn(d Date) (out []Other) {
	if inAny(s.Limits.Away, d) {
		return nil
	}
	for i := range s.Other {
		if s.Other[i].On(d) {
			out = append(out, s.Other[i])
		}
	}
	return out
}
