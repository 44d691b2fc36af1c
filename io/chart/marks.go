package chart

import (
	"math"

	"gonum.org/v1/plot/vg"
)

// mark is a small sign around a point. Marks differ in shape, not in colour.
type mark func(s *sheet, x, y vg.Length)

const half vg.Length = 3 // half a mark's width

func arrival(s *sheet, x, y vg.Length) { // a triangle that points on
	s.shape(paper, ink, vg.Point{X: x - half, Y: y - half}, vg.Point{X: x + half, Y: y}, vg.Point{X: x - half, Y: y + half})
}

func ring(s *sheet, x, y vg.Length) { s.circle(x, y, false) }

func disc(s *sheet, x, y vg.Length) { s.circle(x, y, true) }

func (s *sheet) circle(x, y vg.Length, full bool) {
	var p vg.Path
	p.Move(vg.Point{X: x + half, Y: s.height - y})
	p.Arc(vg.Point{X: x, Y: s.height - y}, half, 0, 2*math.Pi)
	p.Close()
	if full {
		s.paint(p, ink, nil)
	} else {
		s.paint(p, paper, ink)
	}
}

// cross can be seen through a ring: listening and read-through may share a day.
func cross(s *sheet, x, y vg.Length) {
	const d = half + .5
	for _, side := range []vg.Length{-1, 1} {
		s.line(1.4, nil, ink, vg.Point{X: x - d, Y: y - side*d}, vg.Point{X: x + d, Y: y + side*d})
	}
}

func diamond(s *sheet, x, y vg.Length) {
	const d = half + 1
	s.shape(ink, nil, vg.Point{X: x - d, Y: y}, vg.Point{X: x, Y: y - d}, vg.Point{X: x + d, Y: y}, vg.Point{X: x, Y: y + d})
}

func tick(s *sheet, x, y vg.Length) {
	s.line(1, nil, services, vg.Point{X: x, Y: y - half - .5}, vg.Point{X: x, Y: y + half + .5})
}

func dashed(s *sheet, x, y vg.Length) {
	s.line(fine, dashes, ink, vg.Point{X: x, Y: y - 5}, vg.Point{X: x, Y: y + 5})
}

var dashes = []vg.Length{2, 2}

// swatch is a mark for what is shown as an area or a line across.
func swatch(fill, outline bool) mark {
	return func(s *sheet, x, y vg.Length) {
		if fill {
			s.rect(x-5, y-half, x+5, y+half, planned, nil)
		}
		if outline {
			s.rect(x-5, y-half, x+5, y+half, nil, ink)
		}
	}
}

// entry is one entry of a legend.
type entry struct {
	mark mark
	text string
}

// head writes a panel's title with its legend beside it.
func (s *sheet) head(y vg.Length, title string, legend ...entry) {
	s.text(edge, y+12, title, style{size: 11, bold: true, most: left - edge - 8})
	x := left
	for _, e := range legend {
		e.mark(s, x+5, y+9)
		x += 14 + s.text(x+14, y+12, e.text, style{size: 8.5}) + 16
	}
}
