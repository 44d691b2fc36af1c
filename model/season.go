package model

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"time"
)

// Season is everything the player knows beforehand.
type Season struct {
	Title      string
	TimeZone   string // IANA name, for example Europe/Oslo
	From, To   Date   // first and last day, both in the season
	Instrument string
	Limits     Limits
	Hours      ByDay[[]Span] // free hours for planned work; empty when none are given
	Busy       []Busy        // what other calendars take of the hours, by date and time
	Other      []Other       `json:",omitempty"` // playing that belongs to no programme
	Habits     Habits
	Programmes []Programme
	Pins       []Pin     // sessions that stay on their day
	Earlier    []Earlier `json:",omitempty"` // what the record of earlier seasons taught
}

// Programme is a set of works played together.
type Programme struct {
	ID       string
	Title    string
	Services []Service
	Parts    []Part
	Level    Level `json:"-"` // of its services that give none; changes nothing that is planned
}

// ServiceKind tells a rehearsal from a concert.
type ServiceKind int

// The kinds of service.
const (
	Rehearsal ServiceKind = iota
	Concert
	Recital
	Audition
	Lesson
)

// ServiceKinds gives the kinds in the order in which they are named.
var ServiceKinds = []ServiceKind{Rehearsal, Concert, Recital, Audition, Lesson}

// String writes the kind as a season file does: "rehearsal", "concert", …
func (k ServiceKind) String() string {
	return [...]string{"rehearsal", "concert", "recital", "audition", "lesson"}[k]
}

// Rehearses tells whether work is only tried out there: a rehearsal, a lesson.
func (k ServiceKind) Rehearses() bool { return k == Rehearsal || k == Lesson }

// Service is what a programme is played in: a rehearsal or a concert, or what
// takes their place.
type Service struct {
	Kind    ServiceKind
	Date    Date
	Start   Clock
	Lasts   Minutes
	Playing int     // share of Lasts with the instrument sounding, in percent, 0..100
	Travel  Minutes // on the way there, and again on the way back
	Level   Level   `json:"-"`          // equivalent level over Lasts at the player's ear; changes nothing that is planned
	Missed  bool    `json:",omitempty"` // it takes place without the player
	// Works are the ids of the parts that are played, where not all are.
	Works []string `json:",omitempty"`
}

// Busy is a time of one day that something else takes. It may overlap others.
type Busy struct {
	Date Date
	Span
	Title string `json:"-"` // for people; changes nothing that is planned
}

// PlayingMinutes gives the minutes that count against the day's cap, rounded
// to the nearest minute.
func (s Service) PlayingMinutes() Minutes {
	if s.Missed {
		return 0
	}
	return (s.Lasts*Minutes(s.Playing) + 50) / 100
}

// FirstRehearsal gives the date of the earliest rehearsal or lesson, missed ones
// included; where there is none, of the first service, which takes its place. It
// is zero where the programme has no service. Parts should be ready before it.
func (p *Programme) FirstRehearsal() Date {
	var first, any Date
	for _, s := range p.Services {
		if s.Kind.Rehearses() && (first == 0 || s.Date < first) {
			first = s.Date
		}
		if any == 0 || s.Date < any {
			any = s.Date
		}
	}
	if first == 0 {
		return any
	}
	return first
}

// Part is one player's copy of a work in a programme.
type Part struct {
	ID          string
	Work        string
	Arrives     Date
	Listening   Minutes // 0: no listening is planned
	Break       Minutes `json:",omitempty"` // of listening before the break, where the work has one; else 0
	ReadThrough Minutes // always above 0
	Recordings  Minutes // return to the recordings in the last days; 0: none is planned
	Estimate    Minutes // all visits together, named passages included; 0: only the named passages
	Passages    []Passage
	Duration    Minutes `json:",omitempty"` // of the work, where the season file says it or its bars; see work.go
	Kept        int     `json:",omitempty"` // of what was learnt of it before, in percent; see known.go
	Source      Source  `json:"-"`          // of passages taken over from an earlier season
	ComesBack   bool    `json:",omitempty"` // its passages come back until its last date; see return.go
	ReadyDays   *int    `json:",omitempty"` // its ready-by lies this many days before its date; nil: as the habits have it
}

// Passage is a run of bars that needs visits.
type Passage struct {
	ID      string // within the part; by default the bars
	Bars    string
	Hard    int       // 1 easy, 2 ordinary, 3 hard
	Exposed bool      // heard alone or nearly
	Minutes Minutes   // the first visit's estimate; 0: by difficulty (Habits)
	Visits  []Minutes // the player's own recipe; empty: by difficulty (Habits)
	Due     Date      // own deadline; zero: the first rehearsal
	Found   Date      // found at the read-through or a rehearsal on this day; zero: known from the start
	Daily   bool      `json:",omitempty"` // its visits may follow each other day by day: the least gaps are one day
	Upkeep  bool      `json:"-"`          // keeps another passage up before a concert; see upkeep.go
	Unnamed bool      // stands for work that only an estimate speaks of
	Tempo   Pace      `json:",omitzero"`
	Kept    int       `json:",omitempty"` // as of its part
	Strains string    `json:",omitempty"` // what it strains, in the player's words; empty: not said
}

// Pin keeps a session on a day.
type Pin struct {
	Session string // session id
	Date    Date
}

// ByDay gives a value for every date: Every, unless the weekday has its own,
// unless the date lies in one of Dates (the last that holds it wins).
type ByDay[T any] struct {
	Every   T
	Weekday map[time.Weekday]T
	Dates   []Dated[T]
}

// Dated is a value for a run of days.
type Dated[T any] struct {
	Range Range
	Value T
}

// On gives the value of a date: what is said of the date itself goes before what
// is said of a range, that before its weekday's, and that before every day's; of
// two ranges that hold it, or two lines about the date, the later line counts.
func (b ByDay[T]) On(d Date) T {
	if best := b.Dated(d); best >= 0 {
		return b.Dates[best].Value
	}
	if v, ok := b.Weekday[d.Weekday()]; ok {
		return v
	}
	return b.Every
}

// Dated gives the place in Dates of the entry that holds on a date, -1 where none does.
func (b ByDay[T]) Dated(d Date) int {
	best := -1
	for i := range b.Dates {
		if r := b.Dates[i].Range; r.Holds(d) && (best < 0 || r.From == r.To || b.Dates[best].Range.From < b.Dates[best].Range.To) {
			best = i
		}
	}
	return best
}

// Content gives 64 hexadecimal digits made of all that the season says, other
// files that its file names included. Comments and layout don't change it.
func (s *Season) Content() string {
	b, err := json.Marshal(s)
	if err != nil { // only a new field of a kind that JSON does not know
		panic(err)
	}
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:])
}

// Days gives the number of days of the season.
func (s *Season) Days() int { return Range{s.From, s.To}.Days() }

// ServicesOn gives the services of a date, over all programmes, by start time.
func (s *Season) ServicesOn(d Date) []Service {
	var out []Service
	for i := range s.Programmes {
		for _, v := range s.Programmes[i].Services {
			if v.Date == d {
				if v.Level == 0 {
					v.Level = s.Programmes[i].Level
				}
				out = append(out, v)
			}
		}
	}
	for i := 1; i < len(out); i++ {
		for j := i; j > 0 && out[j].Start < out[j-1].Start; j-- {
			out[j], out[j-1] = out[j-1], out[j]
		}
	}
	return out
}

// FirstIs names what takes place on the date that FirstRehearsal gives: "first
// rehearsal", or the kind of the service where nothing is rehearsed.
func (p *Programme) FirstIs() string {
	first, out := p.FirstRehearsal(), ""
	for i := range p.Services {
		switch s := &p.Services[i]; {
		case s.Date != first:
		case s.Kind.Rehearses():
			return "first " + s.Kind.String()
		case out == "":
			out = s.Kind.String()
		}
	}
	return out
}
