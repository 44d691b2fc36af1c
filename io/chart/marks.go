package chart

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"
)

// mark is a small sign around a point. Marks differ in shape, not in colour; they are
// those of the parts' sheet on paper.
type mark func(s *sheet, x, y vg.Length)

const half vg.Length = 3 // half a mark's width

// arrival is where a part's line begins.
func arrival(s *sheet, x, y vg.Length) {
	s.line(1.2, nil, quiet, vg.Point{X: x, Y: y - half - 1}, vg.Point{X: x, Y: y + half + 1})
	s.line(fine, nil, quiet, vg.Point{X: x, Y: y}, vg.Point{X: x + 2*half, Y: y})
}

func ring(s *sheet, x, y vg.Length) { s.circle(x, y, half, ink, false) }

func disc(s *sheet, x, y vg.Length) { s.circle(x, y, half, ink, true) }

func (s *sheet) circle(x, y, r vg.Length, c color.Color, full bool) {
	var p vg.Path
	p.Move(vg.Point{X: x + r, Y: s.height - y})
	p.Arc(vg.Point{X: x, Y: s.height - y}, r, 0, 2*math.Pi)
	p.Close()
	if full {
		s.paint(p, c, nil)
	} else {
		s.paint(p, paper, c)
	}
}

// square is a read-through.
func square(s *sheet, x, y vg.Length) {
	s.rect(x-half+.5, y-half+.5, x+half-.5, y+half-.5, paper, ink)
}

// diamond is a first rehearsal, open a ready-by date.
func diamond(s *sheet, x, y vg.Length) { s.gem(x, y, ink, ink) }

func open(s *sheet, x, y vg.Length) { s.gem(x, y, paper, ink) }

func (s *sheet) gem(x, y vg.Length, fill, outline color.Color) {
	const d = half + 1
	s.shape(fill, outline, vg.Point{X: x - d, Y: y}, vg.Point{X: x, Y: y - d}, vg.Point{X: x + d, Y: y}, vg.Point{X: x, Y: y + d})
}

func tick(s *sheet, x, y vg.Length) {
	s.line(1.2, nil, ink, vg.Point{X: x, Y: y - half - .5}, vg.Point{X: x, Y: y + half + .5})
}

func dashed(s *sheet, x, y vg.Length) {
	s.line(fine, dashes, ink, vg.Point{X: x, Y: y - 5}, vg.Point{X: x, Y: y + 5})
}

var dashes = []vg.Length{2, 2}

// swatch is a mark for what is shown as an area.
func swatch(s *sheet, x, y vg.Length) { s.rect(x-5, y-half, x+5, y+half, planned, nil) }

func outlined(s *sheet, x, y vg.Length) {
	swatch(s, x, y)
	s.rect(x-5, y-half, x+5, y+half, nil, ink)
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
