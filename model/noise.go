package model

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
)

// Level is a sound level in tenths of a decibel, A-weighted; 0: not known.
type Level int

// Decibels gives a level in dB(A).
func (l Level) Decibels() float64 { return float64(l) / 10 }

// String writes "92 dB" or "91.5 dB".
func (l Level) String() string {
	if l%10 == 0 {
		return fmt.Sprintf("%d dB", l/10)
	}
	return fmt.Sprintf("%.1f dB", l.Decibels())
}

var levelForm = regexp.MustCompile(`^(\d{1,3})(?:\.(\d))?\s*(?:dB(?:\s?\(A\))?)?$`)

// ParseLevel reads "92 dB", "91.5 dB(A)" or a bare number of decibels.
func ParseLevel(s string) (Level, error) {
	p := levelForm.FindStringSubmatch(s)
	if p == nil {
		return 0, fmt.Errorf("%q is not a level like 92 dB", s)
	}
	whole, _ := strconv.Atoi(p[1])
	tenths, _ := strconv.Atoi("0" + p[2])
	return Level(10*whole + tenths), nil
}

// The values of Directive 2003/10/EC, article 3(1), for the daily noise exposure
// level, in dB(A). The limit takes hearing protectors into account, the action
// values don't (article 3(2)). By article 3(3) the weekly level may stand in for
// the daily one where days differ much, at most the limit.
const (
	NoiseLimit       = 87 // exposure limit value
	NoiseUpperAction = 85 // upper exposure action value
	NoiseLowerAction = 80 // lower exposure action value
)

// NoiseGuidance stands wherever exposure is shown.
const NoiseGuidance = "Guidance; hearing protection and measurement are a matter for professionals."

// workingDay and workingDays are the nominal day and week of the directive's
// definitions.
const (
	workingDay  Minutes = 8 * 60
	workingDays         = 5
)

// Noise is the exposure in the services of some days that have a level.
type Noise struct {
	Days            []NoiseDay `json:"days"`                // those with such services
	Weekly          float64    `json:"weekly_db"`           // LEX,8h of the week; see Noise
	Services, Known int        `json:"-"`                   // services, and those with a level
	Unknown         int        `json:"services_without_db"` // services that say nothing
}

// NoiseDay is the exposure of one day.
type NoiseDay struct {
	Date  Date    `json:"date"`
	Daily float64 `json:"daily_db"` // LEX,8h
}

// Noise gives the exposure in the services of a week's days, nil where none has
// a level. Practice, and what is heard elsewhere, is not in it.
//
// The daily noise exposure level is the average over a nominal day of eight
// hours, the weekly one that of the daily levels over a nominal week of five
// such days (Directive 2003/10/EC, article 2(b) and (c), which refer to ISO
// 1999:1990, 3.6 and its note 2). Averages are of energy: of t minutes at L dB(A)
//
//	LEX,8h   = 10 lg( Σ t 10^(L/10) / 480 )
//	weekly   = 10 lg( Σ over days 10^(LEX,8h/10) / 5 )
func (s *Season) Noise(days Range) *Noise {
	var n Noise
	week := 0.0
	for d := days.From; d <= days.To; d++ {
		if inAny(s.Limits.Away, d) {
			continue // its services are not played
		}
		day := 0.0
		for _, v := range s.ServicesOn(d) {
			if v.Missed {
				continue
			}
			if n.Services++; v.Level > 0 {
				n.Known++
				day += float64(v.Lasts) * math.Pow(10, v.Level.Decibels()/10)
			}
		}
		if day > 0 {
			day /= float64(workingDay)
			n.Days = append(n.Days, NoiseDay{d, tenths(10 * math.Log10(day))})
			week += day
		}
	}
	if n.Known == 0 {
		return nil
	}
	n.Weekly, n.Unknown = tenths(10*math.Log10(week/workingDays)), n.Services-n.Known
	return &n
}

// Loudest gives the day of the highest level, of equals the first.
func (n *Noise) Loudest() NoiseDay {
	loudest := n.Days[0]
	for _, d := range n.Days {
		if d.Daily > loudest.Daily {
			loudest = d
		}
	}
	return loudest
}

// NoiseValue names the highest value of the directive that a level exceeds or
// reaches, as it is shown, in tenths; empty: none.
func NoiseValue(level float64) string {
	switch {
	case level > NoiseLimit:
		return "above the limit value"
	case level >= NoiseUpperAction:
		return "at or above the upper action value"
	case level >= NoiseLowerAction:
		return "at or above the lower action value"
	}
	return ""
}

func tenths(x float64) float64 { return math.Round(10*x) / 10 }
