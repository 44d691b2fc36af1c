package chart

import (
	"image/color"

	"gonum.org/v1/plot/vg"

	"primaprova/model"
)

func toneOf(l model.Look) color.NRGBA {
	c := model.Tones[l.Tone]
	return color.NRGBA{c.R, c.G, c.B, 0xff}
}

// named writes a programme's name before a row, behind its letter on its tone and its
// pattern.
func (s *sheet) named(p *programme, y vg.Length, t style) {
	const chip, swatch vg.Length = 12, 18
	tone := toneOf(p.look)
	s.rect(edge, y+1.2, edge+chip, y+rowHeight-1.2, tone, nil)
	s.text(edge+chip/2, y+rowHeight*.74, p.look.Letter, style{size: 8.5, bold: true, middle: true, colour: paper})
	s.hatched(edge+chip+2, y+1.2, edge+chip+2+swatch, y+rowHeight-1.2, p.look)
	t.most = left - edge - chip - swatch - 14
	s.text(edge+chip+swatch+6, y+rowHeight*.72, p.title, t)
}

// hatched fills a rectangle with a programme's pattern.
func (s *sheet) hatched(x0, y0, x1, y1 vg.Length, l model.Look) {
	mark, ground := toneOf(l), paper
	if l.Pattern.Reversed {
		mark, ground = ground, mark
	}
	s.rect(x0, y0, x1, y1, ground, nil)
	const step vg.Length = 2.6
	var pairs []vg.Point
	line := func(x0, y0, x1, y1 vg.Length) { pairs = append(pairs, vg.Point{X: x0, Y: y0}, vg.Point{X: x1, Y: y1}) }
	across := func() {
		for y := y0 + step/2; y < y1; y += step {
			line(x0, y, x1, y)
		}
	}
	upright := func() {
		for x := x0 + step/2; x < x1; x += step {
			line(x, y0, x, y1)
		}
	}
	// slanted draws lines at 45 degrees, down to the right or up, within the edges.
	slanted := func(up bool) {
		h := y1 - y0
		for at := x0 - h + step/2; at < x1; at += step * 1.3 {
			from, to := max(at, x0), min(at+h, x1)
			a, b := y0+(from-at), y0+(to-at)
			if up {
				a, b = y1-(from-at), y1-(to-at)
			}
			line(from, a, to, b)
		}
	}
	switch l.Pattern.Hatch {
	case model.Rising:
		slanted(true)
	case model.Falling:
		slanted(false)
	case model.Crossed:
		slanted(true)
		slanted(false)
	case model.Across:
		across()
	case model.Upright:
		upright()
	case model.Netted:
		across()
		upright()
	case model.Dots:
		for y := y0 + 1.3; y < y1-.5; y += 2 {
			for x := x0 + 1.3; x < x1-.5; x += 2.6 {
				line(x-.5, y, x+.5, y)
			}
		}
	}
	s.strokes(.7, mark, pairs...)
	s.rect(x0, y0, x1, y1, nil, toneOf(l))
}

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
