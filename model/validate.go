package model

import (
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode"
)

// Fault is one thing that is wrong, or odd, in a season.
type Fault struct {
	// Path leads to the value in the words of the season file, for example
	// programmes[0].parts[1].passages[2].minutes; indices count from 0. What
	// differs by day has its key as written: limits.playing.saturday,
	// limits.playing.2027-03-29..2027-04-04, hours.every day[1].
	Path    string
	Value   string // the value found; may be empty
	Text    string // what is wrong with it
	Advice  string // what to change; may be empty
	Warning bool   // the season can be planned all the same
	Begun   bool   // the season is only begun: it has no programme, or no part
}

// Bounds of what a season may hold. They are meant to catch slips of the pen,
// not to say what is good for anyone.
const (
	MostDays        = 1120  // days of a season: 160 weeks, a little over three years
	mostVisit       = 120   // minutes of a visit or a warm-up
	mostWarmUpAgain = 30    // minutes of warming up again
	mostStage       = 600   // minutes of a part's listening, read-through or recordings
	mostCap         = 960   // playing or listening minutes of a day
	mostService     = 720   // minutes a service lasts
	mostEstimate    = 12000 // minutes of a part
	mostVisits      = 20    // visits of a recipe
	mostID          = 64    // characters of an id
)

// Validate gives everything that is wrong with the season, at once: faults,
// with which it can't be planned, and warnings. What depends on a faulty value
// is not judged as well, so that one slip is one fault.
func (s *Season) Validate() []Fault {
	v := &validator{s: s, windows: map[string]pinnable{}}
	v.calendar()
	v.limits()
	v.hours()
	v.habits()
	v.services()
	if v.sound = len(v.out) == 0; v.sound {
		v.rooms = s.rooms()
		v.servicesFit()
	}
	v.programmes()
	v.pins()
	if v.faults() == 0 {
		v.slips()
	}
	return v.out
}

// validator collects the faults of one season.
type validator struct {
	s       *Season
	out     []Fault
	sound   bool                // nothing wrong but in programmes and parts: days can be judged
	rooms   []Room              // by day of a sound season
	windows map[string]pinnable // session id -> where it may be pinned
	broken  []string            // names of parts with faults, whose sessions are not known
	unnamed bool                // some id is wrong, so that names of sessions can't be judged
}

func (v *validator) fault(path string, value any, advice, text string, args ...any) {
	v.out = append(v.out, Fault{Path: path, Value: fmt.Sprint(value), Text: fmt.Sprintf(text, args...), Advice: advice})
}

func (v *validator) begun(advice, text string) {
	v.fault("programmes", "", advice, "%s", text)
	v.out[len(v.out)-1].Begun = true
}

func (v *validator) warn(path string, value any, advice, text string, args ...any) {
	v.fault(path, value, advice, text, args...)
	v.out[len(v.out)-1].Warning = true
}

// faults counts what is no warning.
func (v *validator) faults() int {
	n := 0
	for i := range v.out {
		if !v.out[i].Warning {
			n++
		}
	}
	return n
}

// within reports a number outside its bounds; both belong to them.
func within[T ~int](v *validator, path string, value, least, most T) bool {
	switch {
	case value < 0 && least >= 0:
		v.fault(path, value, fmt.Sprintf("%v to %v", least, most), "is negative")
	case value < least:
		v.fault(path, value, fmt.Sprintf("%v to %v", least, most), "is less than %v", least)
	case value > most:
		v.fault(path, value, fmt.Sprintf("%v to %v", least, most), "is more than %v", most)
	default:
		return true
	}
	return false
}

// calendar judges the season's own dates and its time zone.
func (v *validator) calendar() {
	s := v.s
	if s.From == 0 {
		v.fault("from", "", "the first day, like 2027-01-11", "the season has no first day")
	}
	if s.To == 0 {
		v.fault("to", "", "the last day, like 2027-10-17", "the season has no last day")
	}
	if s.From != 0 && s.To != 0 {
		if s.To < s.From {
			v.fault("to", s.To, fmt.Sprintf("a day after %v", s.From), "the season ends before it begins on %v", s.From)
		} else if n := s.Days(); n > MostDays {
			v.fault("to", s.To, fmt.Sprintf("%v at the latest, and a season file for what comes after", s.From+MostDays-1),
				"the season has %d days, %d are the most", n, MostDays)
		}
	}
	// LoadLocation takes "" for UTC and "Local" for wherever the machine stands.
	if _, err := time.LoadLocation(s.TimeZone); err != nil || s.TimeZone == "" || s.TimeZone == "Local" {
		v.fault("time_zone", s.TimeZone, "a name of the IANA time zone database, like Europe/Oslo", "is not a known time zone")
	}
}

// id reports a missing, unfit or repeated id. Reserved words would make two
// names of one.
func (v *validator) id(path, id string, seen map[string]int, reserved ...string) bool {
	defer func() {
		if _, ok := seen[id]; !ok {
			seen[id] = len(seen)
		}
	}()
	switch _, twice := seen[id]; {
	case id == "":
		v.fault(path, "", "letters, digits, dots and dashes", "the id is missing")
	case strings.IndexFunc(id, func(r rune) bool { return r == '/' || unicode.IsSpace(r) || !unicode.IsPrint(r) }) >= 0:
		v.fault(path, id, "letters, digits, dots and dashes", "an id holds no space, slash or control character")
	case len([]rune(id)) > mostID:
		v.fault(path, id, "a shorter id", "an id has at most %d characters", mostID)
	case twice:
		v.fault(path, id, "another id for one of the two", "this id is given twice")
	case slices.Contains(reserved, id):
		v.fault(path, id, "another id", "this word has a meaning of its own in names of sessions")
	default:
		return true
	}
	v.unnamed = true
	return false
}
