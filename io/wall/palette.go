package wall

// ink is a colour, sRGB.
type ink struct{ r, g, b uint8 }

var (
	paper = ink{0xff, 0xff, 0xff}
	black = ink{0x1a, 0x1a, 0x1c}
	quiet = ink{0x50, 0x50, 0x55} // text of less weight
	rule  = ink{0x9a, 0x9a, 0xa0} // lines between cells
	faint = ink{0xc8, 0xc8, 0xcc} // lines to write on
	rest  = ink{0xef, 0xef, 0xec} // ground of a rest day
	off   = ink{0xe2, 0xe2, 0xe4} // ground of a day off
)

// grounds are the colours a text may stand on besides a tone.
var grounds = []ink{paper, rest, off}

// tones were searched for at random and improved by exchange: dark enough for
// white text on them and for text of them on every ground (WCAG 2.2, 4.5:1),
// and as far apart as can be for eyes with three, and with any two, kinds of
// cones. The tests measure both. The order keeps neighbours apart.
var tones = []ink{
	{0x0d, 0x57, 0xe0}, // blue
	{0x6e, 0x62, 0x0b}, // ochre
	{0x78, 0x03, 0x19}, // dark red
	{0x04, 0x6a, 0x49}, // green
	{0x8c, 0x46, 0x70}, // heather
	{0x57, 0x02, 0x92}, // violet
}

// pattern is how an area is hatched. A reversed one is white on the tone.
type pattern struct {
	kind     hatch
	reversed bool
}

type hatch int

const (
	rising hatch = iota
	dots
	across
	crossed
	falling
	upright
	netted
)

// patterns are ordered so that programmes that follow each other look least
// alike. Solid is no pattern: it means services.
var patterns = []pattern{
	{rising, false}, {dots, false}, {across, true}, {upright, false}, {crossed, false}, {falling, true},
	{dots, true}, {across, false}, {netted, true}, {falling, false}, {upright, true},
}

// look is how a programme is shown: its tone, its pattern, its letter.
type look struct {
	tone    ink
	pattern pattern
	letter  string
}

// lookOf gives the look of the n-th programme, counted from 0. Tone and pattern
// repeat together after 66 programmes, letters never: A to Z, then A2.
func lookOf(n int) look {
	l := look{tones[n%len(tones)], patterns[n%len(patterns)], string(rune('A' + n%26))}
	if round := n / 26; round > 0 {
		l.letter += itoa(round + 1)
	}
	return l
}
