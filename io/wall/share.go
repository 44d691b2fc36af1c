package wall

import (
	"cmp"

	"primaprova/io/pdf"
	"primaprova/model"
)

// share is a part of a day's load. A programme of -1 is the warm-up's, of a service
// other playing.
type share struct {
	programme int
	service   bool
	minutes   model.Minutes
}

// byKind orders shares: services, other playing, the warm-up, then planned playing
// by programme.
func byKind(a, b share) int {
	other := func(s share) int { return b2i(s.service && s.programme < 0) }
	return cmp.Or(cmp.Compare(b2i(b.service), b2i(a.service)), cmp.Compare(other(a), other(b)), cmp.Compare(a.programme, b.programme))
}

func (d *day) add(s share) {
	for i := range d.shares {
		if d.shares[i].programme == s.programme && d.shares[i].service == s.service {
			d.shares[i].minutes += s.minutes
			return
		}
	}
	d.shares = append(d.shares, s)
}

// share draws a part of a load: services solid, planned playing in its pattern.
func (d *diary) share(s *sheet, sh share, at box) {
	switch {
	case sh.service && sh.programme < 0:
		s.add(area{box: at, ink: quiet}, area{box: at.in(min(1, at.w/4), min(1, at.h/4)), ink: paper})
	case sh.service:
		s.add(area{box: at, ink: d.programmes[sh.programme].look.tone})
	case sh.programme < 0:
		s.add(area{box: at, ink: faint})
	default:
		s.add(texture{at, d.programmes[sh.programme].look})
	}
}

// steps gives how much playing the grounds of days mean, at most each: fifths of
// the greatest load, in whole quarters of an hour.
func (d *diary) steps() []model.Minutes {
	var out []model.Minutes
	for i := range heat {
		step := (d.greatest*model.Minutes(i+1) + 5*15 - 1) / (5 * 15) * 15
		out = append(out, max(15, step))
	}
	return out
}

// ground gives the ground of a day's cell by its playing.
func (d *diary) ground(x *day) ink {
	if x.load == 0 {
		return paper
	}
	for i, to := range d.steps() {
		if x.load <= to {
			return heat[i]
		}
	}
	return heat[len(heat)-1]
}

// glance draws a day to be read from afar: its number, its services and ready-by
// dates by letters, and its playing as ground.
func (d *diary) glance(s *sheet, x *day, c box, size float64) {
	s.add(area{box: c, ink: d.ground(x)}, frame{c, 0.4, rule, false})
	in := c.in(size*0.25, size*0.15)
	indent := s.write(d.number(x.date), style{size, true, black}, in.below(size*0.24)) + size*0.5
	var chunks []chunk
	for _, m := range x.marks {
		if m.other != "" {
			chunks = append(chunks, chunk{variants: append(d.otherWords(m), "")})
			continue
		}
		q := d.programmes[m.programme].look
		k := chunk{m.kind, q.letter, q.tone, []string{"first " + m.service.String(), "1st"}, true}
		if m.missed {
			k.variants = []string{m.service.String() + ", not played", "not played", ""}
		}
		switch m.kind {
		case concertMark:
			k.variants = []string{m.service.String(), ""}
		case readyMark:
			k.variants = []string{"ready by", ""}
		case rehearsalMark:
			k.variants = []string{m.service.String(), ""}
		}
		chunks = append(chunks, k)
	}
	if x.free != "" {
		chunks = append(chunks, chunk{variants: x.freeWords()})
	} else if brief := x.room.Marks.Brief(); brief != nil {
		chunks = append(chunks, chunk{variants: brief})
	}
	s.flow(chunks, slot{box: in, size: size, indent: indent, head: pitch(size), lines: max(1, int(in.h/pitch(size)+0.01))})
}

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
