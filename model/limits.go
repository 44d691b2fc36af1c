package model

import "time"

// Limits is what the body and the player allow of a day.
type Limits struct {
	Playing     ByDay[Minutes] // the cap: most playing minutes of a day, services and warm-up included
	RestDays    []time.Weekday // no planned playing on these weekdays; services stand
	RestDates   []Range        // no planned playing on these dates
	Played      []Range        `json:",omitempty"` // rest days that are none after all
	DaysOff     []Range        // nothing planned at all
	WarmUpAgain Minutes        `json:",omitempty"` // easy playing before services and after long pauses; 0: none
	LongPause   Minutes        // time without playing after which it is a long pause
	WarmUp      Minutes        // easy playing before the day's first planned playing; counts against the cap
	Listening   Minutes        // most listening minutes of a day
	Passages    int            // most passages visited in a day
	Block       Minutes        // longest run of playing without a rest
	BlockRest   Minutes        // the rest between two blocks
	Heavy       int            // share of the cap, in percent, above which a day is heavy
	Rise        int            // share, in percent, by which a week's load may rise over the week before
	RiseFloor   Minutes        // rise of a week's load that is always allowed, on top of the share
	Light       int            // share, in percent, that a light day has of what stood planned on it and of what was usual
	LightDays   int            // days after one of pain that are light

	Quiet      ByDay[[]Span] // of the free hours, those in which nothing is played
	Latest     ByDay[Clock]  // nothing is planned after this; 0: no such hour
	ServiceGap Minutes       // least time between practice and a service, before and after; travel counts towards it

	Tours         []Range // on tour nothing is planned but listening; services stand
	BeforeConcert int     // share of the cap, in percent, that the day before a concert has
	NewOnConcerts bool    // whether a passage may have its first visit on the day of a concert
	TwoServices   Minutes // most planned playing of a day with two services or more
	Return        Return  // the first days after time off
	Away          []Range // days off without even their services; only the record gives any (With)

	// What the record adds (With, easeIn).
	Stopped []Range          `json:",omitempty"` // days of pain: nothing more is planned
	Lights  []Dated[Minutes] `json:",omitempty"` // light days, with the most planned playing of each
	Backs   []Back           `json:",omitempty"` // ways back after spells of which the weeks before are known
}

// DefaultLimits gives the limits of a player who set none.
//
// Sources: block and rest - British Association for Performing Arts Medicine,
// health tips (a five-minute break every half-hour). RiseFloor - the same
// source's ten minutes more a day, taken over seven days; it is guidance for
// building up, not a safe dose. Rise - Nielsen et al., JOSPT 2014 (runners;
// above 30 % a week, hazard ratio 1.59, interval 0.96-2.66); a wish, never
// proof of safety; that players themselves name load that is high or rises suddenly -
// Chan and Ackermann, Frontiers in Psychology 5, 706 (2014). One rest day a week -
// Horvath, quoted 2009. The rest is
// common practice, no source: a light day before a concert and nothing new on
// its day, since what is new is not yet sure; no playing on top of two services;
// half an hour between practice and a service. So is Light, since whether and when to play
// after pain is for a physician or physiotherapist to say, not for a share: the schedule
// of the British Association for Performing Arts Medicine for returning after an injury
// begins with two times five minutes a day, and takes three to seven days a level.
func DefaultLimits() Limits {
	return Limits{
		Playing:   ByDay[Minutes]{Every: 180},
		WarmUp:    10,
		LongPause: 180,
		Listening: 90,
		Passages:  12,
		Block:     25,
		BlockRest: 5,
		Heavy:     75,
		Rise:      30,
		RiseFloor: 70,
		Light:     50,
		LightDays: 3,

		ServiceGap:    30,
		BeforeConcert: 75,
		Return:        DefaultReturn(),
	}
}

// RestOn tells whether planned playing is forbidden on the date.
func (l *Limits) RestOn(d Date) bool {
	if inAny(l.Tours, d) || l.OffOn(d) {
		return true
	}
	if inAny(l.Played, d) {
		return false
	}
	for _, w := range l.RestDays {
		if d.Weekday() == w {
			return true
		}
	}
	return inAny(l.RestDates, d)
}

// OffOn tells whether everything planned is forbidden on the date.
func (l *Limits) OffOn(d Date) bool { return inAny(l.DaysOff, d) || inAny(l.Stopped, d) }

func inAny(rs []Range, d Date) bool {
	for _, r := range rs {
		if r.Holds(d) {
			return true
		}
	}
	return false
}

// Room is what one day leaves for planned work.
type Room struct {
	Date      Date
	Cap       Minutes // most playing minutes of the day
	Services  Minutes // playing minutes of services and of what else is played
	Other     Minutes // of these, what belongs to no programme
	Again     Minutes // kept for warming up again after long pauses; that before services is in Services
	WarmUp    Minutes // warm-up, when anything is planned to be played
	Beside    Minutes // what the day leaves beside services and warm-up, were it no rest day
	Playing   Minutes // most planned playing: Beside, 0 on rest days, days off and days of quiet hours alone
	Listening Minutes // most planned listening, 0 on days off
	Held      Minutes // most planned work of both kinds with warm-up that the free hours hold; NoLimit without hours
	Passages  int     // most passages
	New       bool    // whether passages may have their first visit
	Rest, Off bool
	Marks     Marks // what makes the day other than others

	services int // as Services, in hundredths of a minute
}

// NoLimit is a number of minutes that no day reaches.
const NoLimit Minutes = 1 << 20

// RoomOn gives the day's room. It never depends on a plan.
func (s *Season) RoomOn(d Date) Room {
	l := &s.Limits
	r := Room{Date: d, Cap: l.Playing.On(d), WarmUp: l.WarmUp, Passages: l.Passages, Held: NoLimit, New: true,
		Rest: l.RestOn(d), Off: l.OffOn(d)}
	services := s.ServicesOn(d)
	r.services, r.Services = hundredths(services), PlayingIn(services)
	for _, o := range s.OtherOn(d) {
		r.Other += o.PlayingMinutes()
	}
	more := r.Other + l.WarmUpAgain*Minutes(len(s.warmedBefore(services)))
	r.services, r.Services = r.services+100*int(more), r.Services+more
	s.mark(&r, services)
	if most, light := l.lightenedOn(d); light {
		r.Marks |= LightDay
		warm := r.WarmUp
		if most == 0 {
			warm = 0 // nothing is played, so that nothing is warmed up for
		}
		r.Cap = min(r.Cap, r.Services+warm+most)
	}
	if l.WarmUpAgain > 0 && s.HasHours() {
		r.Again = l.WarmUpAgain * Minutes(len(s.warmingAgain(d, s.freeOf(d))))
	}
	r.Beside = max(0, r.Cap-r.Services-r.WarmUp-r.Again)
	if r.Marks.Has(TwoServices) {
		r.Beside = min(r.Beside, l.TwoServices)
	}
	if !r.Off {
		r.Listening = l.Listening
	}
	if !r.Rest {
		r.Playing = r.Beside
	}
	if s.HasHours() {
		spans, quiet := s.working(d)
		if r.Held = s.held(spans); quiet {
			r.Playing = 0
		}
	}
	return r
}

// HasHours tells whether the season says when in the day work may be planned.
func (s *Season) HasHours() bool {
	return len(s.Hours.Every) > 0 || len(s.Hours.Weekday) > 0 || len(s.Hours.Dates) > 0
}
