package chart

import "image/color"

// The colours, for white paper. Services, planned playing and the paper stand
// 3:1 apart in lightness (WCAG 2.2, 1.4.11), so that they stay apart without
// colour; marks that mean different things differ in shape.
var (
	paper    = color.NRGBA{0xff, 0xff, 0xff, 0xff}
	ink      = color.NRGBA{0x1a, 0x1a, 0x1a, 0xff} // text, caps, marks
	quiet    = color.NRGBA{0x55, 0x55, 0x55, 0xff} // notes and figures on axes
	alert    = color.NRGBA{0x8a, 0x35, 0x00, 0xff} // what is left out, in words
	services = color.NRGBA{0x17, 0x30, 0x52, 0xff}
	planned  = color.NRGBA{0xca, 0x7a, 0x1c, 0xff}
	rule     = color.NRGBA{0xc4, 0xc4, 0xc4, 0xff} // grid
	band     = color.NRGBA{0xec, 0xec, 0xec, 0xff} // days off, and every other programme
)

// textColours are those that text is written in, each on paper or on a band.
var textColours = []color.NRGBA{ink, quiet, alert}
