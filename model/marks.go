package model

import (
	"fmt"
	"slices"
	"time"
)

// Marks say what makes a day other than others. A day may have several.
type Marks uint8

// The marks.
const (
	ConcertDay    Marks = 1 << iota // a concert is on this day
	BeforeConcert                   // and none on this day, but one on the next
	TwoServices                     // two services or more
	OnTour
	AfterTimeOff // the cap still rises after days off, illness or pain
	LightDay     // light after pain
)

// Has tells whether all the given marks are set.
func (m Marks) Has(o Marks) bool { return m&o == o }

// Brief says a mark of the body in a word or two, for where there is little room:
// the longest words first; nil where a day has none.
func (m Marks) Brief() []string {
	switch {
	case m.Has(LightDay):
		return []string{"light after pain", "light"}
	case m.Has(AfterTimeOff):
		return []string{"on the way back", "back"}
	}
	return nil
}

// Marked says in sentences what services, pain and time off make of a day; nil
// where they make nothing of it. Whoever shows a day takes them from here, and says
// how dates are written.
func (s *Season) Marked(d Date, day func(Date) string) (out []string) {
	l, r := &s.Limits, s.RoomOn(d)
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	if r.Off {
		return nil
	}
	if r.Marks.Has(OnTour) {
		say("On tour: listening alone is planned.")
	}
	if r.Marks.Has(BeforeConcert) && l.BeforeConcert < 100 && !r.Rest {
		say("A concert tomorrow: the cap is %d %% of an ordinary one.", l.BeforeConcert)
	}
	if r.Marks.Has(ConcertDay) && !r.New && !r.Rest {
		say("A concert today: no passage for the first time.")
	}
	if r.Marks.Has(TwoServices) && !r.Rest {
		if r.Beside == 0 {
			say("Two services: nothing to be played beside them.")
		} else {
			say("Two services: %s of practice at most.", r.Beside)
		}
	}
	pain := day(s.PainBefore(d))
	switch light := r.Marks.Has(LightDay); {
	case light && r.Rest:
		say("Light after pain on %s.", pain)
	case light && r.Beside == 0:
		say("Light after pain on %s: no practice.", pain)
	case light:
		say("Light after pain on %s: at most %s of practice.", pain, r.Beside)
	case r.Marks.Has(AfterTimeOff) && r.Services > 0 && r.Beside == 0:
		say("On the way back after time off, illness or pain: nothing beside what is played already.")
	case r.Marks.Has(AfterTimeOff):
		say("On the way back after time off, illness or pain: at most %s of playing in all.", r.Cap)
	}
	return out
}

// mark sees to it that services and time off shape the day's room: they set
// its marks, lower its cap and bar first visits.
func (s *Season) mark(r *Room, services []Service) {
	l := &s.Limits
	if len(slices.DeleteFunc(slices.Clone(services), func(v Service) bool { return v.Missed })) >= 2 {
		r.Marks |= TwoServices
	}
	if inAny(l.Tours, r.Date) {
		r.Marks |= OnTour
	}
	switch {
	case anyConcert(services):
		r.Marks |= ConcertDay
		r.New = l.NewOnConcerts
	case anyConcert(s.ServicesOn(r.Date + 1)):
		r.Marks |= BeforeConcert
		r.Cap = r.Cap * Minutes(l.BeforeConcert) / 100
	}
	if most, back := s.returning(r.Date); back && most < r.Cap {
		r.Marks |= AfterTimeOff
		r.Cap = most
	}
}

func anyConcert(services []Service) bool {
	for _, v := range services {
		if !v.Kind.Rehearses() && !v.Missed {
			return true
		}
	}
	return false
}

// leaves gives the minutes that a day leaves beside services, what else is played and a
// warm-up, by the season's own limits: time off and its ways back, which shift with
// the days that go by, and hours are left aside.
func (s *Season) leaves(d Date) Minutes {
	services, most := s.ServicesOn(d), s.Limits.Playing.On(d)
	if !anyConcert(services) && anyConcert(s.ServicesOn(d+1)) {
		most = most * Minutes(s.Limits.BeforeConcert) / 100
	}
	most -= PlayingIn(services) + s.Limits.WarmUpAgain*Minutes(len(s.warmedBefore(services))) + s.Limits.WarmUp
	for _, o := range s.OtherOn(d) {
		most -= o.PlayingMinutes()
	}
	if len(slices.DeleteFunc(services, func(v Service) bool { return v.Missed })) >= 2 {
		most = min(most, s.Limits.TwoServices)
	}
	return most
}

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
