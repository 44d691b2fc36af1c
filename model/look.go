package model

import (
	"cmp"
	"slices"
	"strconv"
)

// Look is how a programme is shown on every sheet, page, chart and calendar: its
// letter, its tone, its pattern. The letter alone is enough where there is no
// colour.
type Look struct {
	Letter  string
	Tone    Tone
	Pattern Pattern
}

// Tone is the number of one of Tones.
type Tone int

// RGB is a colour, sRGB.
type RGB struct{ R, G, B uint8 }

// Tones were searched for at random and improved by exchange: dark enough for
// white text on them and for text of them on white (WCAG 2.2, 4.5:1), and as far
// apart as can be for eyes with three, and with any two, kinds of cones. CSS is
// the name of a colour like it, for calendars, which take nothing else (RFC 7986,
// section 5.9). The tests measure all of that.
var Tones = []struct {
	RGB
	CSS string
}{
	{RGB{0x0d, 0x57, 0xe0}, "royalblue"},
	{RGB{0x6e, 0x62, 0x0b}, "olive"},
	{RGB{0x78, 0x03, 0x19}, "maroon"},
	{RGB{0x04, 0x6a, 0x49}, "darkslategray"},
	{RGB{0x8c, 0x46, 0x70}, "mediumvioletred"},
	{RGB{0x57, 0x02, 0x92}, "indigo"},
}

// tonesApart is how far two tones are from each other, for the eyes to which they
// are closest: CIEDE2000, whole units, rounded down.
var tonesApart = [6][6]int{
	{0, 39, 42, 15, 17, 13},
	{39, 0, 13, 13, 13, 20},
	{42, 13, 0, 13, 17, 27},
	{15, 13, 13, 0, 14, 36},
	{17, 13, 17, 14, 0, 14},
	{13, 20, 27, 36, 14, 0},
}

// Apart gives how far a tone is from another, for the eyes to which they are closest:
// CIEDE2000, whole units, rounded down; 0: they are one.
func (t Tone) Apart(other Tone) int { return tonesApart[t][other] }

// Pattern is how an area is hatched. A reversed one is white on the tone.
type Pattern struct {
	Hatch    Hatch
	Reversed bool
}

// Hatch is a way to hatch an area.
type Hatch int

// The hatches.
const (
	Rising Hatch = iota
	Dots
	Across
	Crossed
	Falling
	Upright
	Netted
)

// Patterns are ordered so that programmes that follow each other look least
// alike. Solid is no pattern: it means services.
var Patterns = []Pattern{
	{Rising, false}, {Dots, false}, {Across, true}, {Upright, false}, {Crossed, false}, {Falling, true},
	{Dots, true}, {Across, false}, {Netted, true}, {Falling, false}, {Upright, true},
}

// Looks gives each programme its look, in the order of the season file. Letters
// go by first rehearsals: A to Z, then A2; patterns likewise. A tone is the one used
// longest ago of those that stand far enough from the tones of the programmes before
// it that share a week with it; where none does, the farthest.
func (s *Season) Looks() []Look {
	order := make([]int, len(s.Programmes))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Compare(s.Programmes[a].FirstRehearsal(), s.Programmes[b].FirstRehearsal())
	})
	out := make([]Look, len(order))
	for n, i := range order {
		out[i] = Look{letter(n), s.tone(order[:n+1], out), Patterns[n%len(Patterns)]}
	}
	return out
}

func letter(n int) string {
	l := string(rune('A' + n%26))
	if round := n / 26; round > 0 {
		l += strconv.Itoa(round + 1)
	}
	return l
}

// farTones is how far tones of programmes that share a week should be apart at
// least, as tonesApart measures it.
const farTones = 15

// tone gives that of the last of some programmes; those before it have theirs.
func (s *Season) tone(order []int, looks []Look) Tone {
	last := len(order) - 1
	weeks := s.Programmes[order[last]].Weeks()
	best, value := Tone(0), [3]int{-1}
	for t := range Tone(len(Tones)) {
		v := [3]int{farTones, 0, last} // distance, programmes beside it with that tone, programmes since it was used
		for n, o := range order[:last] {
			if looks[o].Tone == t {
				v[2] = last - 1 - n
			}
			if w := s.Programmes[o].Weeks(); w.From <= weeks.To && w.To >= weeks.From {
				v[0] = min(v[0], t.Apart(looks[o].Tone))
				if looks[o].Tone == t {
					v[1]--
				}
			}
		}
		if slices.Compare(v[:], value[:]) > 0 {
			best, value = t, v
		}
	}
	return best
}

// Span gives the days that concern a programme: from the first part that arrives,
// or the first service, to the last of them.
func (p *Programme) Span() (out Range) {
	reach := func(d Date) {
		if out.From == 0 || d < out.From {
			out.From = d
		}
		out.To = max(out.To, d)
	}
	for i := range p.Services {
		reach(p.Services[i].Date)
	}
	for i := range p.Parts {
		reach(p.Parts[i].Arrives)
	}
	return out
}

// Weeks gives the whole ISO weeks of a programme's span.
func (p *Programme) Weeks() Range {
	r := p.Span()
	return Range{r.From.Monday(), r.To.Monday() + 6}
}
