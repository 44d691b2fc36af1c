package wall

import (
	"primaprova/io/pdf"
	"primaprova/model"
)

// ink is a colour.
type ink = pdf.Ink

var (
	paper = ink{0xff, 0xff, 0xff}
	black = ink{0x1a, 0x1a, 0x1c}
	quiet = ink{0x50, 0x50, 0x55} // text of less weight
	rule  = ink{0x9a, 0x9a, 0xa0} // lines between cells
	faint = ink{0xc8, 0xc8, 0xcc} // lines to write on
	rest  = ink{0xef, 0xef, 0xec} // ground of a rest day
	off   = ink{0xe2, 0xe2, 0xe4} // ground of a day off
)

// grounds are the colours that a text of any ink may stand on besides a tone.
var grounds = []ink{paper, rest, off}

// heat are the grounds of a day by its playing, from some to the most; black
// text alone stands on them. In black and white print they are greys.
var heat = []ink{{0xe9, 0xee, 0xee}, {0xd3, 0xde, 0xdf}, {0xbb, 0xcc, 0xce}, {0xa1, 0xb8, 0xbb}, {0x86, 0xa3, 0xa8}}

// look is a programme's, with its tone as an ink.
type look struct {
	tone    ink
	pattern model.Pattern
	letter  string
}

func lookOf(l model.Look) look {
	c := model.Tones[l.Tone]
	return look{ink{c.R, c.G, c.B}, l.Pattern, l.Letter}
}
