package model

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// loud is a season with services of some lengths and levels on days from 1 March
// (a Monday) on.
func loud(services ...Service) *Season {
	return &Season{From: march(1), To: march(31), Programmes: []Programme{{Services: services}}}
}

func noisy(day int, lasts Minutes, level Level) Service {
	return Service{Date: march(day), Start: 600, Lasts: lasts, Level: level}
}

var week = Range{march(1), march(7)}

// The definitions of Directive 2003/10/EC, article 2(b) and (c), by themselves:
// eight hours at a level are that level; half the time is 3 dB less, ten times
// the energy 10 dB more; five days of eight hours at a level are that level over
// the week, one of them 7 dB less.
func TestNoiseByItsDefinition(t *testing.T) {
	five := func(level Level) (out []Service) {
		for d := 1; d <= 5; d++ {
			out = append(out, noisy(d, 480, level))
		}
		return out
	}
	for _, c := range []struct {
		name          string
		services      []Service
		daily, weekly float64
	}{
		{"eight hours", []Service{noisy(1, 480, 850)}, 85, 78},
		{"four hours", []Service{noisy(1, 240, 850)}, 82, 75},
		{"two services of four hours", []Service{noisy(1, 240, 850), noisy(1, 240, 850)}, 85, 78},
		{"48 min at 10 dB more", []Service{noisy(1, 48, 950)}, 85, 78},
		{"a week", five(870), 87, 87},
		{"six days are more than five", append(five(800), noisy(6, 480, 800)), 80, 80.8},
		{"unlike ones add as energy", []Service{noisy(1, 240, 900), noisy(1, 240, 800)}, 87.4, 80.4},
	} {
		n := loud(c.services...).Noise(week)
		if n == nil || n.Loudest().Daily != c.daily || n.Weekly != c.weekly {
			t.Errorf("%s: %+v instead of %v and %v", c.name, n, c.daily, c.weekly)
		}
	}
}

// Without a level nothing is said; services of lost days are not heard; a
// service's level goes before its programme's.
func TestNoiseOnlyWhereALevelIs(t *testing.T) {
	s := loud(noisy(1, 480, 0), noisy(2, 480, 0))
	if n := s.Noise(week); n != nil {
		t.Errorf("%+v without a level", n)
	}
	s.Programmes[0].Level = 800
	s.Programmes[0].Services[1].Level = 900
	n := s.Noise(week)
	if n == nil || len(n.Days) != 2 || n.Days[0].Daily != 80 || n.Loudest() != (NoiseDay{march(2), 90}) || n.Unknown != 0 {
		t.Errorf("%+v", n)
	}
	s.Limits.Away = []Range{{march(2), march(2)}}
	s.Programmes[0].Services = append(s.Programmes[0].Services, noisy(3, 60, 0))
	s.Programmes = append(s.Programmes, Programme{Services: []Service{noisy(4, 60, 0)}})
	if n := s.Noise(week); n == nil || len(n.Days) != 2 || n.Loudest().Daily != 80 || n.Unknown != 1 || n.Services != 3 {
		t.Errorf("%+v", n)
	}
	if n := s.Noise(Range{march(8), march(14)}); n != nil {
		t.Errorf("%+v in a week without services", n)
	}
}

// A level changes nothing that is planned: the season's content is the same.
func TestNoiseChangesNoContent(t *testing.T) {
	with, without := loud(noisy(1, 60, 900)), loud(noisy(1, 60, 0))
	with.Programmes[0].Level = 880
	if with.Content() != without.Content() {
		t.Error("a level is content")
	}
}

// A week's energy is that of its services together, however they lie on its
// days: minutes times intensity, over five days of eight hours.
func TestNoiseIsEnergy(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var services []Service
		energy := 0.0
		for range rapid.IntRange(1, 8).Draw(t, "services") {
			v := noisy(rapid.IntRange(1, 7).Draw(t, "day"), Minutes(rapid.IntRange(1, 600).Draw(t, "lasts")), Level(rapid.IntRange(400, 1200).Draw(t, "level")))
			services = append(services, v)
			energy += float64(v.Lasts) / 2400 * math.Exp(v.Level.Decibels()/10*math.Ln10)
		}
		n := loud(services...).Noise(week)
		if want := 10 * math.Log(energy) / math.Ln10; math.Abs(n.Weekly-want) > 0.051 {
			t.Fatalf("%v instead of %v", n.Weekly, want)
		}
	})
}

func TestNoiseValues(t *testing.T) {
	for level, want := range map[float64]string{79.9: "", 80: "at or above the lower action value", 85: "at or above the upper action value",
		87: "at or above the upper action value", 87.1: "above the limit value"} {
		if got := NoiseValue(level); got != want {
			t.Errorf("%v: %s", level, got)
		}
	}
	for text, want := range map[string]Level{"92 dB": 920, "91.5 dB(A)": 915, "85": 850, "85dB": 850} {
		if got, err := ParseLevel(text); err != nil || got != want {
			t.Errorf("%s: %v, %v", text, got, err)
		}
		if again, err := ParseLevel(want.String()); err != nil || again != want {
			t.Errorf("%v read again: %v, %v", want, again, err)
		}
	}
	for _, text := range []string{"", "loud", "91,5 dB", "-3 dB", "1000 dB"} {
		if got, err := ParseLevel(text); err == nil {
			t.Errorf("%q: %v", text, got)
		}
	}
}
